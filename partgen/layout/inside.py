"""Whether a point lies inside an outline, exact for arcs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import pi, sqrt

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment


def is_inside(point: Point, outline: Outline) -> bool:
    """Tell whether ``point`` is inside: a ray to the right crosses an odd number of times.

    A point on the outline itself may fall on either side.

    Examples:
        >>> is_inside((3.0, 0.0), Outline.circle(0.0, 0.0, 8.0))
        True
        >>> is_inside((4.1, 0.0), Outline.circle(0.0, 0.0, 8.0))
        False
    """
    x, y = point
    odd = False
    for segment in outline.segments:
        box = segment.box
        if box[1] <= y <= box[3] and box[2] >= x:
            for at in _crossings(segment, y):
                odd ^= at > x
    return odd


def _crossings(s: Segment, y: float) -> Iterator[float]:
    """Yield where the segment crosses height ``y``; its lower ends count, its upper ends do not."""
    if not s.bulge:
        if (s.y0 <= y) != (s.y1 <= y):
            yield s.x0 + (y - s.y0) / (s.y1 - s.y0) * (s.x1 - s.x0)
        return
    (cx, cy), r = s.centre, s.radius
    half = sqrt(max(0.0, r * r - (y - cy) ** 2))
    for y0, y1, side in _monotone(s):
        if (y0 <= y) != (y1 <= y):
            yield cx + side * half


def _monotone(s: Segment) -> Iterator[tuple[float, float, int]]:
    """Yield the arc's parts that only rise or only fall: first and last y, and which half."""
    (cx, cy), r = s.centre, s.radius
    stops = [(0.0, s.y0)]
    for part, y in ((_part(s, 1), cy + r), (_part(s, -1), cy - r)):
        if 0.0 < part < 1.0:
            stops.append((part, y))
    stops.append((1.0, s.y1))
    stops.sort()
    for (a, y0), (b, y1) in pairwise(stops):
        yield y0, y1, 1 if s.at((a + b) / 2)[0] >= cx else -1


def _part(s: Segment, way: int) -> float:
    """Return where along the arc its highest (1) or lowest (-1) point is; above 1: not on it."""
    turn = (way * pi / 2 - s.start_angle) % (2 * pi)
    if s.bulge < 0:
        turn -= 2 * pi
    return turn / s.sweep
