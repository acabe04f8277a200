"""Bend radius: the inside radius of every bend whose radius is known.

At least 2 thicknesses: ASTM A6 and A143 practice (a warning: a grade may allow less). Not covered:
flange length, relief at a bend that ends inside the plate, direction of rolling. Openings near a
bend are judged by ``bend-room``.
"""

from __future__ import annotations

from partgen.geometry.bending import RADIUS_PER_THICKNESS
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, Status, judged
from partgen.shop import Shop

RULE = "bend-radius"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each bend that has a radius."""
    least = RADIUS_PER_THICKNESS * plate.thickness
    found = []
    for number, mark in enumerate(plate.bends, 1):
        if not mark.radius:
            continue
        way = "up" if mark.angle > 0 else "down"
        found.append(
            judged(
                RULE,
                (plate.key, f"inside radius of bend {number} ({abs(mark.angle):g} degrees {way})"),
                (mark.radius, least),
                "ASTM A6, A143 practice",
                "check the least radius of your grade",
                Status.WARN,
            )
        )
    return found
