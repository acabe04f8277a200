"""Corners of a closed chain of lines and arcs rounded by tangent arcs.

The arc is that of a ball of the radius rolled into the corner until it touches the edge on both
sides; the short pieces it cannot reach are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import atan2, degrees, dist, hypot, pi, tan

from partgen.errors import GeometryError
from partgen.geometry.crossing import NEAR, meetings, offset, piece, turn_at
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point, Segment

SHARP = 2.0  # degrees; a corner that turns less is none
LEAST = 1e-3  # mm; a smaller radius leaves the corner sharp
REACH = 40  # pieces on either side that a ball may pass over
Corner = tuple[Segment, float]  # a segment, and the radius of the corner it begins at


def outline_of(chain: Sequence[Segment]) -> Outline:
    """Return a closed chain of segments as an outline.

    Raises:
        GeometryError: it crosses itself or has no area.
    """
    return Outline.of(Vertex(s.x0, s.y0, s.bulge) for s in chain)


def rounded(corners: Sequence[Corner]) -> Outline:
    """Return the closed chain of segments with each corner rounded; radius 0 leaves it.

    Raises:
        GeometryError: a radius finds no room; the corner is named.
    """
    ring = list(corners)
    while True:
        k = next((k for k, (_, radius) in enumerate(ring) if radius > LEAST), None)
        if k is None:
            return outline_of([s for s, _ in ring])
        ring = _one(ring[k:] + ring[:k])


def _one(ring: list[Corner]) -> list[Corner]:
    """Return a ring whose first corner is rounded."""
    at, radius = ring[0][0].start, ring[0][1]
    turn = turn_at(ring[-1][0], ring[0][0])
    if abs(degrees(turn)) < SHARP / 100:
        return [(ring[0][0], 0.0), *ring[1:]]
    most = min(REACH, len(ring) // 2)
    for passed in range(2 * most - 1):
        for behind in range(max(0, passed - most + 1), min(passed, most - 1) + 1):
            ahead = passed - behind
            a, b = ring[-1 - behind][0], ring[ahead][0]
            if any(r for _, r in [*ring[1 : ahead + 1], *ring[len(ring) - behind :]]):
                continue
            found = ball(a, b, radius if turn > 0 else -radius, at)
            if found is not None:
                start, arc, end = found
                middle = ring[ahead + 1 : len(ring) - 1 - behind]
                return [(end, 0.0), *middle, (start, ring[-1 - behind][1]), (arc, 0.0)]
    x, y = at
    raise GeometryError(
        f"the edges at ({x:g}, {y:g}) mm are too short for the radii there: no room for "
        f"{radius:g} mm; use a smaller one"
    )


def ball(
    a: Segment, b: Segment, radius: float, near: Point
) -> tuple[Segment, Segment, Segment] | None:
    """Return ``a`` cut short, the arc of a ball that touches both, and ``b`` cut short.

    Args:
        a: the edge that comes in.
        b: the edge that goes out.
        radius: positive where the way turns left, negative where it turns right [mm].
        near: where the ball should lie.
    """
    a_moved, b_moved = offset(a, radius), offset(b, radius)
    if a_moved is None or b_moved is None:
        return None
    found = []
    for centre in meetings(a_moved, b_moved):
        p, q = _touch(a, centre), _touch(b, centre)
        if p is None or q is None:
            continue
        sweep = _sweep(centre, p, q, radius)
        if abs(sweep) < pi + 0.1:
            found.append((dist(centre, near), p, q, sweep))
    if not found:
        return None
    _, p, q, sweep = min(found)
    if dist(a.start, p) <= 10 * NEAR or dist(q, b.end) <= 10 * NEAR:
        return None
    return piece(a, a.start, p), Segment(*p, *q, tan(sweep / 4)), piece(b, q, b.end)


def _touch(s: Segment, centre: Point) -> Point | None:
    """Return the point of ``s`` square below ``centre``, or None if it is off the segment."""
    if not s.bulge:
        ux, uy = s.direction(0)
        along = (centre[0] - s.x0) * ux + (centre[1] - s.y0) * uy
        foot = s.x0 + along * ux, s.y0 + along * uy
        return foot if -NEAR <= along <= s.chord + NEAR else None
    dx, dy = centre[0] - s.centre[0], centre[1] - s.centre[1]
    away = hypot(dx, dy)
    if away <= NEAR or not s.spans(dx, dy):
        return None
    return s.centre[0] + dx * s.radius / away, s.centre[1] + dy * s.radius / away


def _sweep(centre: Point, p: Point, q: Point, radius: float) -> float:
    turn = atan2(q[1] - centre[1], q[0] - centre[0]) - atan2(p[1] - centre[1], p[0] - centre[0])
    turn %= 2 * pi
    return turn if radius > 0 else turn - 2 * pi


def turns(outline: Outline) -> list[float]:
    """Return how the way turns at each vertex, left positive [degrees]."""
    s = outline.segments
    return [degrees(turn_at(s[k - 1], s[k])) for k in range(len(s))]


def round_where(outline: Outline, radius: float, wanted: Callable[[Point, float], bool]) -> Outline:
    """Return the outline with the corners rounded that ``wanted`` picks by place and turn.

    Raises:
        GeometryError: the radius finds no room; the corner is named.
    """
    picked = [
        (s, radius if abs(turn) >= SHARP and wanted(s.start, turn) else 0.0)
        for s, turn in zip(outline.segments, turns(outline), strict=True)
    ]
    return rounded(picked) if any(r > LEAST for _, r in picked) else outline
