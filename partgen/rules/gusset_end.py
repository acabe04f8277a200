"""Gusset end: the blunt, square end of a gusset stays short, so that its weld ends softly.

A square end that stands up from the rail cuts fatigue life; it is measured where the end meets the
welded edge at a sharp corner near square. Common practice, no source (welding handbooks show the
order square, fish-mouth, tangential). Judged for plates called "gusset". Not covered: fatigue
strength, thickness against the rail's wall.
"""

from __future__ import annotations

from partgen.measure import point_text
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.rules.inside_corner import turn
from partgen.shop import Shop

RULE = "gusset-end"
SQUARE = 30.0  # degrees off square that still count as a square end


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each square end of a gusset."""
    if plate.name != "gusset":
        return []
    limits = shop.rule_set.limits
    most = limits.values.toe_per_thickness * plate.thickness
    segments = plate.outline.segments
    found = []
    for k, s in enumerate(segments):
        before = segments[k - 1]
        if before.bulge or s.bulge or abs(turn(before, s) - 90) > SQUARE:
            continue
        end = min(before.chord, s.chord)
        status = at_least(most, end, Status.WARN)
        found.append(
            Finding(
                rule=RULE,
                plate=plate.key,
                where=f"end at {point_text(s.start)}, at most",
                status=status,
                measured=end,
                required=most,
                at_most=True,
                source=limits.source("toe_per_thickness"),
                note="" if status is Status.PASS else "shorten the toe or taper the end",
            )
        )
    return found
