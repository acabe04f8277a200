"""Bend room: no opening so near a bend that it is drawn out of shape.

From the bend's middle line to the opening's edge: the bend's inside radius and a multiple of the
thickness, 2 t + R by default; where the bend has no radius of its own, R is the shop's multiple of
the thickness. Common practice, no source. Not covered: flanges too short for the tool.
"""

from __future__ import annotations

from itertools import pairwise

from partgen.geometry.outline import distance
from partgen.geometry.segment import Segment
from partgen.measure import point_text
from partgen.plates.plate import Mark, Plate
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "bend-room"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each bend line, to the opening nearest to it."""
    openings = plate.named_openings
    if not openings:
        return []
    values = shop.rule_set.limits.values
    found = []
    for mark in plate.marks:
        line = [Segment(*a, *b) for a, b in pairwise(mark.path) if a != b]
        if mark.kind != "bend" or not line:
            continue
        radius = mark.radius or values.bend_radius_per_thickness * plate.thickness
        required = values.bend_hole_per_thickness * plate.thickness + radius
        measured, name = min((distance(line, o.segments), name) for name, o in openings)
        found.append(
            judged(
                RULE,
                (plate.key, f"bend at {point_text(line[0].start)} to {name}"),
                (measured, required),
                _source(mark, shop),
                "move the opening, or drill it after bending",
            )
        )
    return found


def _source(mark: Mark, shop: Shop) -> str:
    names = [] if mark.radius else ["bend_radius_per_thickness"]
    return shop.rule_set.limits.source(*names, "bend_hole_per_thickness")
