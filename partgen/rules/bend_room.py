"""Bend room: no opening so near a bend that it is drawn out of shape.

From the bend line to the opening's edge: the bend's inside radius and a multiple of the thickness,
2 t + R by default. Common practice, no source. Not covered: cracking of the bend (least radius by
grade, ASTM A6), flanges too short for the tool.
"""

from __future__ import annotations

from itertools import pairwise

from partgen.outline import distance
from partgen.plate import Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.segment import Segment
from partgen.shop import Shop

RULE = "bend-room"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each bend line, to the opening nearest to it."""
    openings = plate.named_openings
    if not openings:
        return []
    values = shop.rule_set.limits.values
    required = plate.thickness * (values.bend_radius_per_thickness + values.bend_hole_per_thickness)
    found = []
    for mark in plate.marks:
        line = [Segment(*a, *b) for a, b in pairwise(mark.path) if a != b]
        if mark.kind != "bend" or not line:
            continue
        measured, name = min((distance(line, o.segments), name) for name, o in openings)
        status = at_least(measured, required)
        found.append(
            Finding(
                rule=RULE,
                plate=plate.key,
                where=f"bend at ({line[0].x0:.1f}, {line[0].y0:.1f}) mm to {name}",
                status=status,
                measured=measured,
                required=required,
                source=shop.rule_set.limits.source(
                    "bend_radius_per_thickness", "bend_hole_per_thickness"
                ),
                note="" if status is Status.PASS else "move the opening, or drill it after bending",
            )
        )
    return found
