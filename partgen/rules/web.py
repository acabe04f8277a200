"""Web: least material between two openings, and between an opening and the outside edge.

The limit is the cutting profile's: a multiple of the thickness, and never under its least web; what
is thinner burns away or warps. Exact distances between lines and arcs. Not covered: strength.
"""

from __future__ import annotations

import numpy as np

from partgen.geometry.nearness import between, box_gaps
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "web"
FAR = 4.0  # times the limit; pairs farther apart are not listed


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return, for each opening, its web to the edge, and the web of each pair that is near."""
    required = shop.cutting.web(plate.thickness)
    openings = plate.named_openings
    found = [
        _finding(plate, f"{name} to outside edge", between(o, plate.outline), required, shop)
        for name, o in openings
    ]
    for k, m in _near(plate, FAR * required):
        (a, first), (b, second) = openings[k], openings[m]
        measured = between(first, second)
        if measured <= FAR * required:
            found.append(_finding(plate, f"{a} to {b}", measured, required, shop))
    return found


def _near(plate: Plate, far: float) -> list[tuple[int, int]]:
    """Return the pairs of openings whose boxes lie within ``far`` [mm]."""
    openings = plate.named_openings
    boxes = np.array([o.box for _, o in openings]).reshape(len(openings), 4)
    pairs = np.argwhere(np.triu(box_gaps(boxes, boxes) <= far, 1))
    return [(int(k), int(m)) for k, m in pairs]


def _finding(plate: Plate, where: str, measured: float, required: float, shop: Shop) -> Finding:
    return judged(
        RULE,
        (plate.key, where),
        (measured, required),
        f"{shop.cutting.name}: {shop.cutting.source}",
        "move or shrink the opening, or widen the plate",
    )
