"""Joint room: the joint's body stands clear of what its ears are welded to: rail, tube or base.

Measured from the body's circle to that edge, with the link at rest; 6 mm (1/4 in) for a
moving part is common practice, no source. Not covered: the link itself as it swings, weld beads.
"""

from __future__ import annotations

from partgen.fit.mount import Mount
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "joint-room"
LEAST = 6.0  # mm; common practice, no source


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return one finding: the clearance between the joint's body and what the ears are on."""
    measured = mount.room - mount.body_diameter / 2
    return [
        judged(
            RULE,
            (mount.name, f"joint body to {mount.sits_on}"),
            (measured, LEAST),
            "common practice, no source",
            "move the bolt further off, or use a smaller joint",
        )
    ]
