"""Whether two flat pieces, placed in space, share metal: their own thickness, their own outlines.

Two pieces that are not parallel share a bar along the line where their planes cross. Lines through
that bar are cut by both outlines, with their openings; where both have metal on one, they meet.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np
import shapely

from partgen.plates.solid import Frame, Solid, Vector, cross, dot

SKIN = 0.05  # mm that pieces which only touch may seem to share
PARTS = (0.0, 0.25, 0.5, 0.75, 1.0)  # of a piece's thickness at which it is looked at
PARALLEL = 1e-6
FAR = 1e4  # mm


def meet(a: Solid, b: Solid) -> bool:
    """Tell whether two placed pieces share metal; bent ones are not judged and do not."""
    if not all(type(piece.frame) is Frame for piece in (a, b)):
        return False
    boxes = zip(*a.box, *b.box, strict=True)
    if any(min(high, last) - max(low, first) <= SKIN for low, high, first, last in boxes):
        return False
    way = cross(a.frame.normal, b.frame.normal)
    size = dot(way, way)
    return _parallel(a, b) if size < PARALLEL**2 else _crossing(a, b, way, size)


def metal(piece: Solid) -> shapely.Polygon:
    """Return a piece's metal in its own drawing, on the small side."""
    *openings, edge = [list(o.polygon("inside").exterior.coords) for o in piece.outlines]
    return shapely.Polygon(edge, openings)


def _parallel(a: Solid, b: Solid) -> bool:
    away = b.frame.at((0.0, 0.0))
    out = dot(_less(away, a.frame.origin), a.frame.normal)
    depth = b.depth * dot(a.frame.normal, b.frame.normal)
    low, high = (
        max(min(0.0, a.depth), min(out, out + depth)),
        min(max(0.0, a.depth), max(out, out + depth)),
    )
    if high - low <= SKIN:
        return False
    seen = shapely.transform(metal(b), lambda points: _drawn(a, b, points))
    return bool(metal(a).intersection(seen).area > SKIN**2)


def _drawn(a: Solid, b: Solid, points: np.ndarray) -> np.ndarray:
    """Return points (n, 2) of one piece's drawing in that of another, parallel to it."""
    reach = [_less(b.frame.at((x, y)), a.frame.origin) for x, y in points]
    return np.array([(dot(r, a.frame.u), dot(r, a.frame.v)) for r in reach])


def _crossing(a: Solid, b: Solid, way: Vector, size: float) -> bool:
    shapes = metal(a), metal(b)
    for start in _starts(a, b, way, size):
        spans = [_spans(p, shape, start, way) for p, shape in zip((a, b), shapes, strict=True)]
        if any(
            min(high, last) - max(low, first) > SKIN / size**0.5
            for (low, high), (first, last) in product(*spans)
        ):
            return True
    return False


def _starts(a: Solid, b: Solid, way: Vector, size: float) -> Iterator[Vector]:
    """Yield a point on each line through the bar that both pieces share."""
    left, right = cross(b.frame.normal, way), cross(way, a.frame.normal)
    for one, other in product(_offsets(a), _offsets(b)):
        x, y, z = ((one * p + other * q) / size for p, q in zip(left, right, strict=True))
        yield x, y, z


def _offsets(piece: Solid) -> list[float]:
    """Return the distances of planes through a piece from (0, 0, 0), along its normal."""
    plane, side = dot(piece.frame.origin, piece.frame.normal), 1.0 if piece.depth > 0 else -1.0
    deep = abs(piece.depth) - 2 * SKIN
    return [plane + side * (SKIN + part * deep) for part in PARTS]


def _spans(
    piece: Solid, shape: shapely.Polygon, start: Vector, way: Vector
) -> list[tuple[float, float]]:
    """Return from where to where a line has metal, in lengths of ``way``."""
    frame, reached = piece.frame, _less(start, piece.frame.origin)
    sx, sy = dot(reached, frame.u), dot(reached, frame.v)
    wx, wy = dot(way, frame.u), dot(way, frame.v)
    size = wx * wx + wy * wy
    reach = FAR / size**0.5
    middle = -(sx * wx + sy * wy) / size
    line = shapely.LineString(
        [(sx + (middle + t) * wx, sy + (middle + t) * wy) for t in (-reach, reach)]
    )
    found = shapely.get_parts(shape.intersection(line))
    ends = [[((x - sx) * wx + (y - sy) * wy) / size for x, y in part.coords] for part in found]
    return [(min(ts), max(ts)) for ts in ends if len(ts) > 1]


def _less(a: Vector, b: Vector) -> Vector:
    (ax, ay, az), (bx, by, bz) = a, b
    return ax - bx, ay - by, az - bz
