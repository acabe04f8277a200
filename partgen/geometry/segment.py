"""A straight line or a circular arc between two points, and exact distances between them.

``bulge`` is tan(included angle / 4), positive where the arc turns left (the DXF definition).
Lengths in mm, angles in radians inside this file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan, atan2, cos, hypot, pi, sin, sqrt

Point = tuple[float, float]
TOUCH = 1e-9  # mm; closer than this is touching


@dataclass(frozen=True)
class Segment:
    """One line or arc.

    Attributes:
        x0: start, x [mm].
        y0: start, y [mm].
        x1: end, x [mm].
        y1: end, y [mm].
        bulge: tan of a quarter of the included angle [-].
    """

    x0: float
    y0: float
    x1: float
    y1: float
    bulge: float = 0.0

    @property
    def start(self) -> Point:
        """First point [mm]."""
        return self.x0, self.y0

    @property
    def end(self) -> Point:
        """Last point [mm]."""
        return self.x1, self.y1

    @cached_property
    def chord(self) -> float:
        """Distance from start to end [mm]."""
        return hypot(self.x1 - self.x0, self.y1 - self.y0)

    @cached_property
    def sweep(self) -> float:
        """Included angle, positive to the left; zero for a line [rad]."""
        return 4 * atan(self.bulge)

    @cached_property
    def radius(self) -> float:
        """Radius of the arc; zero for a line [mm]."""
        b = self.bulge
        return self.chord * (1 + b * b) / (4 * abs(b)) if b else 0.0

    @cached_property
    def centre(self) -> Point:
        """Centre of the arc; the chord's middle for a line [mm]."""
        mx, my = (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2
        if not self.bulge:
            return mx, my
        rise = (1 - self.bulge**2) / (4 * self.bulge)
        return mx - (self.y1 - self.y0) * rise, my + (self.x1 - self.x0) * rise

    @cached_property
    def length(self) -> float:
        """Length along the segment [mm]."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @cached_property
    def start_angle(self) -> float:
        """Direction from the centre to the start [rad]."""
        return atan2(self.y0 - self.centre[1], self.x0 - self.centre[0])

    def at(self, part: float) -> Point:
        """Return the point at ``part`` (0 to 1) of the length."""
        if not self.bulge:
            return self.x0 + part * (self.x1 - self.x0), self.y0 + part * (self.y1 - self.y0)
        angle = self.start_angle + part * self.sweep
        return (
            self.centre[0] + self.radius * cos(angle),
            self.centre[1] + self.radius * sin(angle),
        )

    def direction(self, part: float) -> Point:
        """Return the unit tangent at ``part`` (0 to 1), along the way from start to end."""
        if not self.bulge:
            return (self.x1 - self.x0) / self.chord, (self.y1 - self.y0) / self.chord
        turn = self.start_angle + part * self.sweep + (pi / 2 if self.bulge > 0 else -pi / 2)
        return cos(turn), sin(turn)

    def reversed(self) -> Segment:
        """Return the same line or arc from its end to its start."""
        return Segment(self.x1, self.y1, self.x0, self.y0, -self.bulge)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Extents: least x, least y, greatest x, greatest y [mm]."""
        xs, ys = [self.x0, self.x1], [self.y0, self.y1]
        if self.bulge:
            (cx, cy), r = self.centre, self.radius
            for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1)):
                if self.spans(dx, dy):
                    xs.append(cx + r * dx)
                    ys.append(cy + r * dy)
        return min(xs), min(ys), max(xs), max(ys)

    def spans(self, dx: float, dy: float) -> bool:
        """Tell whether direction (dx, dy) from the centre meets the arc."""
        turn = (atan2(dy, dx) - self.start_angle) % (2 * pi)
        slack = TOUCH / max(self.radius, TOUCH)
        if self.bulge > 0:
            return turn <= self.sweep + slack or turn >= 2 * pi - slack
        return turn >= 2 * pi + self.sweep - slack or turn <= slack

    def nearest(self, point: Point) -> Point:
        """Return the point of the segment nearest to ``point``."""
        px, py = point
        if not self.bulge:
            dx, dy = self.x1 - self.x0, self.y1 - self.y0
            square = dx * dx + dy * dy
            part = ((px - self.x0) * dx + (py - self.y0) * dy) / square if square else 0.0
            return self.at(min(1.0, max(0.0, part)))
        (cx, cy), r = self.centre, self.radius
        away = hypot(px - cx, py - cy)
        if away > 0 and self.spans(px - cx, py - cy):
            return cx + (px - cx) * r / away, cy + (py - cy) * r / away
        if away <= TOUCH:
            return self.start
        return min(self.start, self.end, key=lambda q: hypot(q[0] - px, q[1] - py))

    def distance(self, point: Point) -> float:
        """Return the distance from ``point`` to the segment [mm]."""
        near = self.nearest(point)
        return hypot(near[0] - point[0], near[1] - point[1])


def chain(points: Sequence[Point]) -> list[Segment]:
    """Return the straight segments from point to point."""
    return [Segment(*a, *b) for a, b in pairwise(points)]


def closest(a: Segment, b: Segment) -> tuple[float, Point, Point]:
    """Return the least distance between two segments, and where on ``a`` and on ``b``.

    Exact: every end against the other segment, the crossings, and the common normals of arcs.
    """
    for p in _crossings(a, b):
        return 0.0, p, p
    best = min(_candidates(a, b), key=lambda pq: hypot(pq[0][0] - pq[1][0], pq[0][1] - pq[1][1]))
    (px, py), (qx, qy) = best
    return hypot(px - qx, py - qy), best[0], best[1]


def crossings(a: Segment, b: Segment) -> list[Point]:
    """Return the points where two segments cross or touch; none for two that run together."""
    return list(_crossings(a, b))


def _candidates(a: Segment, b: Segment) -> Iterator[tuple[Point, Point]]:
    for p in (a.start, a.end):
        yield p, b.nearest(p)
    for q in (b.start, b.end):
        yield a.nearest(q), q
    if b.bulge:
        foot = _foot(a, b.centre)
        if foot is not None:
            yield from ((p, b.nearest(p)) for p in foot)
    elif a.bulge:
        yield from ((a.nearest(q), q) for q in _foot(b, a.centre) or ())


def _foot(a: Segment, centre: Point) -> list[Point] | None:
    """Return the points of ``a`` whose normal goes through ``centre``."""
    if not a.bulge:
        return [a.nearest(centre)]
    dx, dy = centre[0] - a.centre[0], centre[1] - a.centre[1]
    away = hypot(dx, dy)
    if away <= TOUCH:
        return None
    ways = [(dx / away, dy / away), (-dx / away, -dy / away)]
    return [
        (a.centre[0] + ux * a.radius, a.centre[1] + uy * a.radius)
        for ux, uy in ways
        if a.spans(ux, uy)
    ]


def _crossings(a: Segment, b: Segment) -> Iterator[Point]:
    """Yield the points where two segments cross or touch."""
    if not (a.bulge or b.bulge):
        yield from _line_line(a, b)
    elif a.bulge and b.bulge:
        yield from (
            p for p in _circle_circle(a, b) if a.spans(*_from(a, p)) and b.spans(*_from(b, p))
        )
    else:
        line, arc = (b, a) if a.bulge else (a, b)
        yield from (p for p in _line_circle(line, arc) if arc.spans(*_from(arc, p)))


def _from(arc: Segment, p: Point) -> Point:
    return p[0] - arc.centre[0], p[1] - arc.centre[1]


def _line_line(a: Segment, b: Segment) -> Iterator[Point]:
    ux, uy, vx, vy = a.x1 - a.x0, a.y1 - a.y0, b.x1 - b.x0, b.y1 - b.y0
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-12 * max(a.chord * b.chord, 1e-12):
        return
    wx, wy = b.x0 - a.x0, b.y0 - a.y0
    s, t = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
    if 0 <= s <= 1 and 0 <= t <= 1:
        yield a.at(s)


def _line_circle(line: Segment, arc: Segment) -> Iterator[Point]:
    (cx, cy), r = arc.centre, arc.radius
    ux, uy = (line.x1 - line.x0) / line.chord, (line.y1 - line.y0) / line.chord
    along = (cx - line.x0) * ux + (cy - line.y0) * uy
    off = (cx - line.x0) * uy - (cy - line.y0) * ux
    if abs(off) > r:
        return
    half = sqrt(r * r - off * off)
    for s in (along - half, along + half):
        if 0 <= s <= line.chord:
            yield line.x0 + s * ux, line.y0 + s * uy


def _circle_circle(a: Segment, b: Segment) -> Iterator[Point]:
    dx, dy = b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]
    away = hypot(dx, dy)
    if away <= TOUCH or away > a.radius + b.radius or away < abs(a.radius - b.radius):
        return
    along = (away * away + a.radius**2 - b.radius**2) / (2 * away)
    half = sqrt(max(0.0, a.radius**2 - along * along))
    ux, uy = dx / away, dy / away
    for side in (half, -half):
        yield (
            a.centre[0] + along * ux - side * uy,
            a.centre[1] + along * uy + side * ux,
        )
