"""Neck: the narrowest place of the plate itself, holes or not.

A neck is a shortest way through the metal from edge to edge: from both of its ends, the edges lead
away from each other whichever way one goes. The ends of a taper or a toe are no necks: there the
edges meet. The limit is the cutting profile's least web. Not covered: strength of the neck;
in an edge of more than ``MANY`` lines and arcs, necks wider than ``WIDE`` times the limit.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, inf

import numpy as np
import shapely

from partgen.geometry.nearness import box_gaps
from partgen.geometry.outline import SAME, Outline
from partgen.geometry.segment import Point, closest
from partgen.measure import point_text
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "neck"
MANY = 400  # lines and arcs; more than any edge that is drawn by its measures
WIDE = 3.0  # times the limit
CREEP = (
    1e-6  # how much an edge may lead towards the other end and still count as square to the neck
)


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding, the narrowest neck; none where the plate has no neck."""
    required = shop.cutting.web(plate.thickness)
    many = len(plate.outline.segments) > MANY
    narrowest = neck(plate.outline, WIDE * required if many else inf)
    if narrowest is None:
        return []
    measured, (px, py), (qx, qy) = narrowest
    return [
        judged(
            RULE,
            (plate.key, f"{point_text((px, py))} to {point_text((qx, qy))}"),
            (measured, required),
            f"{shop.cutting.name}: {shop.cutting.source}",
            "widen the plate there",
        )
    ]


def neck(outline: Outline, widest: float = inf) -> tuple[float, Point, Point] | None:
    """Return the width of the narrowest neck and its two ends, or None [mm].

    Args:
        outline: of the plate.
        widest: width from which on none is looked for [mm].
    """
    segments, inside, best = outline.segments, None, None
    for i, j, apart in _far_pairs(outline):
        if apart >= (widest if best is None else best[0]):
            break
        width, p, q = closest(segments[i], segments[j])
        if width <= SAME or width >= (widest if best is None else best[0]):
            continue
        if _leads_away(outline, p, q) and _leads_away(outline, q, p):
            inside = inside or outline.polygon("outside").buffer(0.02)
            if inside.covers(shapely.LineString([p, q])):
                best = (width, p, q)
    return best


def _far_pairs(outline: Outline) -> Iterator[tuple[int, int, float]]:
    """Yield pairs of segments that are no neighbours, those with the nearest boxes first."""
    count = len(outline.segments)
    boxes = np.array(outline.boxes)
    gaps = box_gaps(boxes, boxes)
    for k in np.argsort(gaps, axis=None, kind="stable").tolist():
        i, j = divmod(k, count)
        if i < j and j - i not in (1, count - 1):
            yield i, j, float(gaps[i, j])


def _leads_away(outline: Outline, p: Point, q: Point) -> bool:
    """Tell whether no edge at ``p`` leads towards ``q``, and ``q`` is seen through the metal."""
    reach = hypot(q[0] - p[0], q[1] - p[1])
    ux, uy = (q[0] - p[0]) / reach, (q[1] - p[1]) / reach
    for s, (x0, y0, x1, y1) in zip(outline.segments, outline.boxes, strict=True):
        if not (x0 - SAME <= p[0] <= x1 + SAME and y0 - SAME <= p[1] <= y1 + SAME):
            continue
        if s.distance(p) > SAME:
            continue
        at_start, at_end = _near(s.start, p), _near(s.end, p)
        part = 0.0 if at_start else 1.0 if at_end else _part(s.start, s.end, p)
        tx, ty = s.direction(part) if not s.bulge or at_start or at_end else (0.0, 0.0)
        towards = tx * ux + ty * uy
        if (not at_end and towards > CREEP) or (not at_start and -towards > CREEP):
            return False
    return True


def _near(a: Point, b: Point) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= SAME


def _part(a: Point, b: Point, p: Point) -> float:
    return hypot(p[0] - a[0], p[1] - a[1]) / max(hypot(b[0] - a[0], b[1] - a[1]), SAME)
