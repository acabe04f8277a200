"""Bend: inside radius, and flat metal between a bend and every opening.

Inside radius at least 2 thicknesses: ASTM A6 and A143 practice (a warning: a grade may allow less).
Openings at least 2 thicknesses + inside radius from the bend's middle line, or they are pulled out
of shape: common practice, no source. Not covered: flange length, relief at a bend that ends inside
the plate, direction of rolling.
"""

from __future__ import annotations

from itertools import pairwise

from partgen.outline import distance
from partgen.plate import Mark, Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.segment import Segment
from partgen.shop import Shop

RULE = "bend"
RADIUS_PER_THICKNESS = 2.0
CLEAR_PER_THICKNESS = 2.0


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return, for each bend, its radius and its distance to the nearest opening."""
    bends = [mark for mark in plate.marks if mark.kind == "bend"]
    return [f for k, mark in enumerate(bends, 1) for f in _of_bend(plate, k, mark)]


def _of_bend(plate: Plate, number: int, mark: Mark) -> list[Finding]:
    found = []
    bend = f"bend {number} ({abs(mark.angle):g} degrees {'up' if mark.angle > 0 else 'down'})"
    if mark.radius:
        least = RADIUS_PER_THICKNESS * plate.thickness
        status = at_least(mark.radius, least, Status.WARN)
        found.append(
            Finding(
                rule=RULE,
                plate=plate.key,
                where=f"inside radius of {bend}",
                status=status,
                measured=mark.radius,
                required=least,
                source="ASTM A6, A143 practice",
                note="" if status is Status.PASS else "check the least radius of your grade",
            )
        )
    line = [Segment(*a, *b) for a, b in pairwise(mark.path)]
    near = [(distance(o.segments, line), name) for name, o in plate.named_openings]
    if near:
        measured, name = min(near)
        required = CLEAR_PER_THICKNESS * plate.thickness + mark.radius
        status = at_least(measured, required)
        found.append(
            Finding(
                rule=RULE,
                plate=plate.key,
                where=f"{bend} to {name}",
                status=status,
                measured=measured,
                required=required,
                source="common practice, no source",
                note="" if status is Status.PASS else "move the opening away from the bend",
            )
        )
    return found
