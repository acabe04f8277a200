"""Web: least material between two openings, and between an opening and the outside edge.

The limit is the cutting profile's: a multiple of the thickness, and never under its least web; what
is thinner burns away or warps. Exact distances between lines and arcs. Not covered: strength.
"""

from __future__ import annotations

from itertools import combinations

import shapely

from partgen.outline import Outline, distance
from partgen.plate import Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "web"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return, for each opening, its web to the edge, and the web of each pair that is near."""
    required = shop.cutting.web(plate.thickness)
    edge = plate.outline
    found = [
        _finding(
            plate, f"{name} to outside edge", distance(o.segments, edge.segments), required, shop
        )
        for name, o in plate.named_openings
    ]
    views = {name: o.polygon("outside") for name, o in plate.named_openings}
    for (a, first), (b, second) in combinations(plate.named_openings, 2):
        if shapely.distance(views[a], views[b]) > 4 * required:
            continue
        found.append(_finding(plate, f"{a} to {b}", _between(first, second), required, shop))
    return found


def _between(a: Outline, b: Outline) -> float:
    if a.circle_of and b.circle_of:
        (ax, ay, ad), (bx, by, bd) = a.circle_of, b.circle_of
        return float(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5) - (ad + bd) / 2
    return distance(a.segments, b.segments)


def _finding(plate: Plate, where: str, measured: float, required: float, shop: Shop) -> Finding:
    status = at_least(measured, required)
    return Finding(
        rule=RULE,
        plate=plate.key,
        where=where,
        status=status,
        measured=measured,
        required=required,
        source=f"{shop.cutting.name}: {shop.cutting.source}",
        note="" if status is Status.PASS else "move or shrink the opening, or widen the plate",
    )
