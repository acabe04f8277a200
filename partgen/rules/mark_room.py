"""Mark room: text, scribe lines and drill centres stay inside the metal and clear of every cut.

Bend lines run to the edge and are another rule's. Common practice, no source. Not covered: marks
that meet each other, legibility.
"""

from __future__ import annotations

from itertools import pairwise

import shapely

from partgen.geometry.outline import distance
from partgen.geometry.segment import Segment
from partgen.measure import point_text
from partgen.plates.plate import Mark, Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "mark-room"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding, for the mark that is nearest to a cut."""
    marks = [m for m in plate.marks if m.kind != "bend" and m.path]
    if not marks:
        return []
    required = shop.rule_set.limits.values.mark_gap
    metal = plate.polygon("inside")
    cuts = [s for outline in plate.outlines for s in outline.segments]
    measured, mark = min(((_room(m, metal, cuts), m) for m in marks), key=lambda found: found[0])
    status = at_least(measured, required, Status.WARN if measured > 0 else Status.FAIL)
    x, y = mark.path[0]
    return [
        Finding(
            rule=RULE,
            plate=plate.key,
            where=f"{mark.kind} mark at {point_text((x, y))}",
            status=status,
            measured=measured,
            required=required,
            source=shop.rule_set.limits.source("mark_gap"),
            note="" if status is Status.PASS else "move the mark into the metal",
        )
    ]


def _room(mark: Mark, metal: shapely.Polygon, cuts: list[Segment]) -> float:
    """Return the distance to the nearest cut, 0 where the mark leaves the metal [mm]."""
    path = [Segment(*a, *b) for a, b in pairwise(mark.path) if a != b]
    if not path:
        point = mark.path[0]
        away = min(s.distance(point) for s in cuts)
        return away if metal.covers(shapely.Point(point)) else 0.0
    return distance(path, cuts) if metal.covers(shapely.LineString(mark.path)) else 0.0
