"""Tangent arcs through measured stations: within a tolerance, with the fewest pieces.

A biarc is two arcs that leave one point and reach another in given directions and meet
tangentially; it may turn out to be one arc or one line. The chain goes through some of the
stations, its knots, and passes the others within the tolerance. Of all chains with knots at
stations and the directions tried (`directions`), the one with the fewest pieces is taken, and of
those the one that passes nearest.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, pi, sin, sqrt, tan

from partgen.errors import GeometryError
from partgen.geometry.segment import Point, Segment

STRAIGHT = 1e-7  # rad; an arc that turns less is a line
STEEPEST = pi / 2  # rad; most that one piece may turn
MOST = 80  # stations of one curve


def biarc(p: Point, heading: float, q: Point, arriving: float) -> list[Segment]:
    """Return one or two tangent pieces from ``p`` to ``q``.

    Args:
        p: first point [mm].
        heading: direction there [rad].
        q: last point [mm].
        arriving: direction there [rad].
    """
    vx, vy = q[0] - p[0], q[1] - p[1]
    ux, uy, wx, wy = cos(heading), sin(heading), cos(arriving), sin(arriving)
    along, square = vx * (ux + wx) + vy * (uy + wy), vx * vx + vy * vy
    apart = 2 * (1 - ux * wx - uy * wy)
    # The arms d of both arcs alike: |v - d (u + w)| = 2 d.
    d = square / (2 * along) if apart < 1e-12 else (sqrt(along**2 + apart * square) - along) / apart
    middle = (p[0] + q[0] + d * (ux - wx)) / 2, (p[1] + q[1] + d * (uy - wy)) / 2
    first, second = _arc(p, heading, middle), _arc(middle, _end_heading(p, heading, middle), q)
    if abs(_curvature(first) - _curvature(second)) * square <= 1e-6:
        return [_arc(p, heading, q)]
    return [first, second]


def _arc(p: Point, heading: float, q: Point) -> Segment:
    """Return the arc that leaves ``p`` in a direction and reaches ``q``."""
    half = _wrapped(atan2(q[1] - p[1], q[0] - p[0]) - heading)
    return Segment(*p, *q, tan(half / 2) if abs(half) > STRAIGHT else 0.0)


def _end_heading(p: Point, heading: float, q: Point) -> float:
    return 2 * atan2(q[1] - p[1], q[0] - p[0]) - heading


def _curvature(s: Segment) -> float:
    return (1 if s.bulge > 0 else -1) / s.radius if s.bulge else 0.0


def _wrapped(angle: float) -> float:
    return (angle + pi) % (2 * pi) - pi


def smooth(points: Sequence[Point], tolerance: float) -> tuple[list[Segment], list[int]]:
    """Return the chain of fewest pieces, and the number of the station each piece starts after.

    Args:
        points: stations, x rising, two or more [mm].
        tolerance: greatest distance from a station to the chain [mm].

    Raises:
        GeometryError: too many stations, or none of the curves tried runs forward; the station is
            named.
    """
    if len(points) > MOST:
        raise GeometryError(
            f"{len(points)} stations are too many for one smooth curve (at most {MOST}); thin them "
            "out, or use through = 'straight'"
        )
    tried = [directions(points, k, tolerance) for k in range(len(points))]
    best: list[list[tuple[int, float, list[Segment], list[int]]]] = [
        [(0, 0.0, [], []) for _ in tried[0]]
    ]
    for j in range(1, len(points)):
        best.append([_best(points, tried, best, j, way, tolerance) for way in tried[j]])
        if not any(chain for _, _, chain, _ in best[j]):
            raise GeometryError(
                f"no smooth curve runs forward to station {j + 1} (x = {points[j][0]:g} mm); it "
                "turns too sharply there: add stations round it, or use through = 'straight'"
            )
    _, _, chain, marks = min(best[-1], key=lambda b: b[:2])
    return chain, marks


def _best(
    points: Sequence[Point],
    tried: list[list[float]],
    best: list[list[tuple[int, float, list[Segment], list[int]]]],
    j: int,
    way: float,
    tolerance: float,
) -> tuple[int, float, list[Segment], list[int]]:
    """Return the best chain that reaches station ``j`` in direction ``way``."""
    found = (10**9, 0.0, list[Segment](), list[int]())
    for i in range(j):
        for heading, (count, off, chain, marks) in zip(tried[i], best[i], strict=True):
            if count >= found[0] or (i and not chain):
                continue
            span = biarc(points[i], heading, points[j], way)
            worst = _worst(span, points[i + 1 : j], tolerance)
            if worst is not None and (count + len(span), off + worst) < found[:2]:
                found = (
                    count + len(span),
                    off + worst,
                    [*chain, *span],
                    [*marks, *_marks(span, points, i)],
                )
    return found


def _marks(span: list[Segment], points: Sequence[Point], i: int) -> list[int]:
    marks = []
    for s in span:
        while i + 1 < len(points) and points[i + 1][0] <= s.x0 + 1e-9:
            i += 1
        marks.append(i + 1)
    return marks


def _worst(span: list[Segment], between: Sequence[Point], tolerance: float) -> float | None:
    """Return how far a span passes the stations between its ends, or None if it will not do."""
    if any(abs(s.sweep) > STEEPEST or min(s.direction(0)[0], s.direction(1)[0]) <= 0 for s in span):
        return None
    worst = 0.0
    for p in between:
        off = min(s.distance(p) for s in span)
        if off > tolerance:
            return None
        worst = max(worst, off)
    return worst


def directions(points: Sequence[Point], k: int, tolerance: float) -> list[float]:
    """Return the directions tried at station ``k`` [rad].

    The tangent of the circle through it and its neighbours first (it always gives a chain); then
    those of the longest line and of the longest arc that reach from it, forward and back.
    """
    last = len(points) - 1
    a, b, c = (max(0, min(k + d, last - 1 + d)) for d in (-1, 0, 1))
    a, b, c = (a, b, c) if 0 < k < last else (0, 1, 2) if k == 0 else (last - 2, last - 1, last)
    if last == 1:
        return [_chord(points[0], points[1])]
    found = [_tangent(points[a], points[b], points[c], points[k])]
    for step in (1, -1):
        found += _longest(points, k, step, tolerance)
    kept: list[float] = []
    for way in found:
        if abs(way) < pi / 2 and all(abs(way - other) > 1e-7 for other in kept):
            kept.append(way)
    return kept


def _longest(points: Sequence[Point], k: int, step: int, tolerance: float) -> list[float]:
    """Return the directions at ``k`` of the longest line and the longest arc one way from it."""
    line: list[float] = []
    arc: list[float] = []
    j = k + step
    while 0 <= j < len(points):
        low, high = min(j, k), max(j, k)
        between = points[low + 1 : high]
        chord = Segment(*points[low], *points[high])
        if all(chord.distance(p) <= tolerance for p in between):
            line = [_chord(points[low], points[high])]
        if between:
            middle = between[len(between) // 2]
            heading = _tangent(points[low], middle, points[high], points[low])
            curve = _arc(points[low], heading, points[high])
            if all(curve.distance(p) <= tolerance for p in between):
                arc = [_tangent(points[low], middle, points[high], points[k])]
        j += step
    return [*line, *arc]


def _chord(p: Point, q: Point) -> float:
    return atan2(q[1] - p[1], q[0] - p[0])


def _tangent(a: Point, b: Point, c: Point, at: Point) -> float:
    """Return the direction of the circle through a, b, c at one of them, on the way a to c."""
    if at == a:
        return _chord(a, b) + _chord(a, c) - _chord(b, c)
    if at == c:
        return _chord(b, c) + _chord(a, c) - _chord(a, b)
    return _chord(a, b) + _chord(b, c) - _chord(a, c)
