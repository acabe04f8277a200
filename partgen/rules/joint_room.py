"""Joint room: the joint's body hangs clear of the rail's lower edge.

Measured from the body's circle to the measured edge, with the link at rest; 6 mm (1/4 in) for a
moving part is common practice, no source. Not covered: the link itself as it swings, weld beads.
"""

from __future__ import annotations

from partgen.fit.mount import Mount
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "joint-room"
LEAST = 6.0  # mm; common practice, no source


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return one finding: the clearance between the joint's body and the rail."""
    measured = mount.room - mount.body_diameter / 2
    return [
        judged(
            RULE,
            (mount.name, "joint body to rail"),
            (measured, LEAST),
            "common practice, no source",
            "lower the pivot or use a smaller joint",
        )
    ]
