"""Joint room: the joint's body hangs clear of the rail's lower edge.

Measured from the body's circle to the measured edge, with the link at rest; 6 mm (1/4 in) for a
moving part is common practice, no source. Not covered: the link itself as it swings, weld beads.
"""

from __future__ import annotations

from partgen.mount import Mount
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "joint-room"
LEAST = 6.0  # mm; common practice, no source


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return one finding: the clearance between the joint's body and the rail."""
    measured = mount.room - mount.body_diameter / 2
    status = at_least(measured, LEAST)
    return [
        Finding(
            rule=RULE,
            plate=mount.name,
            where="joint body to rail",
            status=status,
            measured=measured,
            required=LEAST,
            source="common practice, no source",
            note="" if status is Status.PASS else "lower the pivot or use a smaller joint",
        )
    ]
