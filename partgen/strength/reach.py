"""How far the metal reaches from a point in a direction: exact, along a straight ray."""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot, sqrt

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment

TOUCH = 1e-6  # mm; nearer crossings are the point itself
FLAT = 1e-12  # of a length; a ray this near to parallel meets no line


def reach(outlines: Iterable[Outline], point: Point, way: Point) -> float:
    """Return the distance from ``point`` along ``way`` to the first edge; infinite if none [mm].

    Args:
        outlines: edges to meet.
        point: where the ray starts [mm].
        way: its direction, of any length but zero.
    """
    size = hypot(*way)
    unit = way[0] / size, way[1] / size
    hits = (t for o in outlines for s in o.segments for t in _hits(s, point, unit) if t > TOUCH)
    return min(hits, default=float("inf"))


def _hits(s: Segment, point: Point, unit: Point) -> list[float]:
    if not s.bulge:
        return _line_hits(s, point, unit)
    dx, dy = point[0] - s.centre[0], point[1] - s.centre[1]
    along = -(dx * unit[0] + dy * unit[1])
    square = s.radius**2 - (dx * dx + dy * dy - along * along)
    if square < 0:
        return []
    found = (along - sqrt(square), along + sqrt(square))
    return [t for t in found if s.spans(dx + t * unit[0], dy + t * unit[1])]


def _line_hits(s: Segment, point: Point, unit: Point) -> list[float]:
    vx, vy = s.x1 - s.x0, s.y1 - s.y0
    cross = unit[0] * vy - unit[1] * vx
    if abs(cross) <= s.chord * FLAT:
        return []
    wx, wy = s.x0 - point[0], s.y0 - point[1]
    part = (wx * unit[1] - wy * unit[0]) / cross
    return [(wx * vy - wy * vx) / cross] if -FLAT <= part <= 1 + FLAT else []
