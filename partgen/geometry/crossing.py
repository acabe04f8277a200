"""Where two lines or arcs meet, and a part of one of them: what offsets and trims are made of."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, hypot, pi, sqrt, tan

from partgen.geometry.segment import Point, Segment

NEAR = 1e-7  # mm; points nearer than this are one


def crossings(a: Segment, b: Segment) -> list[Point]:
    """Return every point where two segments cross or touch, ends of shared stretches too [mm]."""
    found: list[Point] = []
    ends = [p for p in (b.start, b.end) if a.distance(p) <= NEAR]
    ends += [p for p in (a.start, a.end) if b.distance(p) <= NEAR]
    for p in (*ends, *_between(a, b)):
        if all(hypot(p[0] - q[0], p[1] - q[1]) > NEAR for q in found):
            found.append(p)
    return found


def meetings(a: Segment, b: Segment) -> list[Point]:
    """Return where the whole lines or circles that carry two segments meet [mm]."""
    if not (a.bulge or b.bulge):
        return list(_line_line(a, b))
    if a.bulge and b.bulge:
        return list(_circle_circle(a.centre, a.radius, b.centre, b.radius))
    line, arc = (b, a) if a.bulge else (a, b)
    return list(_line_circle(line, arc.centre, arc.radius))


def _between(a: Segment, b: Segment) -> Iterator[Point]:
    for p in meetings(a, b):
        if _holds(a, p) and _holds(b, p):
            yield p


def _holds(s: Segment, p: Point) -> bool:
    return s.distance(p) <= NEAR


def _line_line(a: Segment, b: Segment) -> Iterator[Point]:
    ux, uy, vx, vy = a.x1 - a.x0, a.y1 - a.y0, b.x1 - b.x0, b.y1 - b.y0
    cross = ux * vy - uy * vx
    if abs(cross) > 1e-12 * a.chord * b.chord:
        s = ((b.x0 - a.x0) * vy - (b.y0 - a.y0) * vx) / cross
        yield a.x0 + s * ux, a.y0 + s * uy


def _line_circle(line: Segment, centre: Point, r: float) -> Iterator[Point]:
    ux, uy = line.direction(0)
    wx, wy = centre[0] - line.x0, centre[1] - line.y0
    along, off = wx * ux + wy * uy, wx * uy - wy * ux
    if abs(off) > r + NEAR:
        return
    half = sqrt(max(r * r - off * off, 0.0))
    for s in (along - half, along + half) if half else (along,):
        yield line.x0 + s * ux, line.y0 + s * uy


def _circle_circle(p: Point, r: float, q: Point, s: float) -> Iterator[Point]:
    dx, dy = q[0] - p[0], q[1] - p[1]
    away = hypot(dx, dy)
    if away <= NEAR or away > r + s + NEAR or away < abs(r - s) - NEAR:
        return
    along = (away * away + r * r - s * s) / (2 * away)
    half = sqrt(max(r * r - along * along, 0.0))
    ux, uy = dx / away, dy / away
    for side in (half, -half) if half else (0.0,):
        yield p[0] + along * ux - side * uy, p[1] + along * uy + side * ux


def part_at(s: Segment, p: Point) -> float:
    """Return how far along a segment a point on it lies, 0 to 1."""
    if not s.bulge:
        square = s.chord * s.chord
        along = (p[0] - s.x0) * (s.x1 - s.x0) + (p[1] - s.y0) * (s.y1 - s.y0)
        return min(1.0, max(0.0, along / square))
    turn = atan2(p[1] - s.centre[1], p[0] - s.centre[0]) - s.start_angle
    turn = (turn if s.bulge > 0 else -turn) % (2 * pi)
    sweep = abs(s.sweep)
    if turn > sweep:
        return 0.0 if 2 * pi - turn < turn - sweep else 1.0
    return turn / sweep


def piece(s: Segment, start: Point, end: Point) -> Segment:
    """Return the part of a segment between two points on it; exact at both."""
    if not s.bulge:
        return Segment(*start, *end)
    share = part_at(s, end) - part_at(s, start)
    return Segment(*start, *end, tan(s.sweep * share / 4))


def offset(s: Segment, left: float, least: float = NEAR) -> Segment | None:
    """Return a segment moved square to itself, to the left; None where an arc's radius runs out.

    Args:
        s: the segment.
        left: how far; negative to the right [mm].
        least: radius that is no arc any more [mm].
    """
    if not s.bulge:
        ux, uy = s.direction(0)
        return Segment(s.x0 - uy * left, s.y0 + ux * left, s.x1 - uy * left, s.y1 + ux * left)
    radius = s.radius - left if s.bulge > 0 else s.radius + left
    if radius <= least:
        return None
    (cx, cy), share = s.centre, radius / s.radius
    return Segment(
        cx + (s.x0 - cx) * share,
        cy + (s.y0 - cy) * share,
        cx + (s.x1 - cx) * share,
        cy + (s.y1 - cy) * share,
        s.bulge,
    )


def turn_at(a: Segment, b: Segment) -> float:
    """Return how the way turns from the end of ``a`` to the start of ``b``, left positive [rad]."""
    (ux, uy), (vx, vy) = a.direction(1), b.direction(0)
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)
