"""One outline less another, exact: the result is again lines and arcs.

Both outlines are split where they meet. Pieces of the first outside the second stay; pieces of the
second inside the first are taken the other way round; the pieces are then followed end to end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, dist, fsum, hypot, pi, tan

from partgen.errors import GeometryError
from partgen.geometry.crossing import crossings, part_at, piece, turn_at
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.rounding import outline_of
from partgen.geometry.segment import Point, Segment

SAME_PLACE = 1e-6  # mm; ends nearer than this are one
ON = 1e-5  # mm; a piece this near the other outline runs along it
SAME_WAY = 1e-7  # rad
LONGEST = 1.6 * pi  # rad; a longer arc stays in two pieces
SPECK = 1e-4  # mm2; a loop smaller than this is a remnant of rounding


@dataclass(frozen=True)
class Trimmed:
    """What is left of an outline.

    Attributes:
        outlines: the outside edges, largest first.
        openings: loops inside them, where the tool of the cut was ring-shaped.
        mouths: where the cut meets the old edge: the new corners [mm].
    """

    outlines: tuple[Outline, ...]
    openings: tuple[Outline, ...]
    mouths: tuple[Point, ...]


def winding(outline: Outline, point: Point) -> int:
    """Return how often the outline runs round ``point``: 1 inside, 0 outside. Exact for arcs."""
    return round(fsum(_seen(s, point) for s in outline.segments) / (2 * pi))


def _seen(s: Segment, point: Point) -> float:
    """Return the angle that a segment turns through as seen from a point off it [rad]."""
    x, y = point
    ax, ay, bx, by = s.x0 - x, s.y0 - y, s.x1 - x, s.y1 - y
    cross = ax * by - ay * bx
    angle = atan2(cross, ax * bx + ay * by)
    if not s.bulge:
        return angle
    if abs(cross) <= ON * s.chord:  # on the chord: seen as two arcs whose chords it is not on
        middle = s.at(0.4)
        first, second = piece(s, s.start, middle), piece(s, middle, s.end)
        return _seen(first, point) + _seen(second, point)
    beyond = hypot(x - s.centre[0], y - s.centre[1]) >= s.radius
    if beyond or (cross > 0) == (s.bulge > 0):
        return angle
    return angle + (2 * pi if s.bulge > 0 else -2 * pi)


def less(first: Outline, second: Outline) -> Trimmed:
    """Return ``first`` without what ``second`` covers.

    Raises:
        GeometryError: the outlines touch in a way that leaves an open edge.
    """
    mine, theirs = _split(first, second), _split(second, first)
    kept: list[tuple[Segment, bool]] = []
    for s in mine:
        middle = s.at(0.5)
        if second.distance(middle) <= ON:
            if _runs_against(s, second, middle):
                kept.append((s, True))
        elif winding(second, middle) == 0:
            kept.append((s, True))
    for s in theirs:
        middle = s.at(0.5)
        if first.distance(middle) > ON and winding(first, middle) != 0:
            kept.append((s.reversed(), False))
    loops, mouths = _loops(kept)
    outlines = [outline_of(loop) for loop in loops if _area(loop) > SPECK]
    openings = [outline_of(loop) for loop in loops if _area(loop) < -SPECK]
    outlines.sort(key=lambda o: -o.area)
    return Trimmed(tuple(outlines), tuple(openings), tuple(mouths))


def joined(first: Outline, second: Outline) -> Outline:
    """Return the outside edge of two outlines that overlap, as one.

    Raises:
        GeometryError: they do not overlap, or only touch.
    """
    kept: list[tuple[Segment, bool]] = []
    for own, (mine, other) in ((True, (first, second)), (False, (second, first))):
        for s in _split(mine, other):
            middle = s.at(0.5)
            if other.distance(middle) <= ON:
                if own and not _runs_against(s, other, middle):
                    kept.append((s, own))
            elif winding(other, middle) == 0:
                kept.append((s, own))
    loops, _ = _loops(kept)
    outside = [outline_of(loop) for loop in loops if _area(loop) > SPECK]
    if len(outside) != 1:
        raise GeometryError("two outlines that are to be joined do not overlap")
    return outside[0]


def _split(outline: Outline, other: Outline) -> list[Segment]:
    """Return the segments of ``outline`` cut wherever ``other`` meets them."""
    pieces = []
    for s in outline.segments:
        x0, y0, x1, y1 = s.box
        points = [
            p
            for t in other.segments
            if t.box[0] - ON <= x1 and t.box[2] + ON >= x0
            if t.box[1] - ON <= y1 and t.box[3] + ON >= y0
            for p in crossings(s, t)
        ]
        inner = [p for p in points if min(dist(p, s.start), dist(p, s.end)) > SAME_PLACE]
        stops = [s.start, *sorted(inner, key=lambda p: part_at(s, p)), s.end]
        for p, q in pairwise(stops):
            if dist(p, q) > SAME_PLACE or (len(stops) == 2 and s.length > SAME_PLACE):
                pieces.append(piece(s, p, q) if len(stops) > 2 else s)
    return pieces


def _runs_against(s: Segment, other: Outline, at: Point) -> bool:
    """Tell whether a piece that lies on ``other`` runs against it: metal on the other side."""
    near = min(other.segments, key=lambda t: t.distance(at))
    (ux, uy), (vx, vy) = s.direction(0.5), near.direction(part_at(near, at))
    return ux * vx + uy * vy < 0


def _loops(kept: Sequence[tuple[Segment, bool]]) -> tuple[list[list[Segment]], list[Point]]:
    """Follow the pieces end to end; also where a piece of one outline follows one of the other."""
    free = list(kept)
    loops: list[list[Segment]] = []
    mouths: list[Point] = []
    while free:
        first, own = free.pop(0)
        loop, last, was = [first], first, own
        while dist(last.end, loop[0].start) > 10 * SAME_PLACE:
            k = _next(free, last)
            if k is None:
                x, y = last.end
                raise GeometryError(
                    f"the cut only touches the edge at ({x:g}, {y:g}) mm; move it in or out"
                )
            s, mine = free.pop(k)
            if mine != was:
                mouths.append(s.start)
            loop.append(s)
            last, was = s, mine
        if was != own:
            mouths.append(loop[0].start)
        loops.append(_joined(loop))
    return loops, mouths


def _joined(loop: list[Segment]) -> list[Segment]:
    """Return a loop with pieces of one line, or of one circle, made one again."""
    result: list[Segment] = []
    for s in loop:
        whole = _whole(result[-1], s) if result else None
        if whole is None:
            result.append(s)
        else:
            result[-1] = whole
    whole = _whole(result[-1], result[0]) if len(result) > 2 else None
    return result if whole is None else [whole, *result[1:-1]]


def _whole(a: Segment, b: Segment) -> Segment | None:
    """Return two pieces as one if they are of one line or one circle."""
    if abs(turn_at(a, b)) > SAME_WAY or bool(a.bulge) != bool(b.bulge):
        return None
    if not a.bulge:
        return Segment(*a.start, *b.end)
    if a.bulge * b.bulge < 0 or dist(a.centre, b.centre) > ON or abs(a.sweep + b.sweep) > LONGEST:
        return None
    return Segment(*a.start, *b.end, tan((a.sweep + b.sweep) / 4))


def _next(free: Sequence[tuple[Segment, bool]], last: Segment) -> int | None:
    """Return the piece that goes on from ``last``: of several, the one that turns most left."""
    here = [k for k, (s, _) in enumerate(free) if dist(s.start, last.end) <= 10 * SAME_PLACE]
    if not here:
        return None
    ux, uy = last.direction(1)

    def left(k: int) -> float:
        vx, vy = free[k][0].direction(0)
        return atan2(ux * vy - uy * vx, ux * vx + uy * vy)

    # At a point where two corners of the metal meet, turning left stays on the same one.
    return max(here, key=left)


def _area(loop: Sequence[Segment]) -> float:
    vertices = tuple(Vertex(s.x0, s.y0, s.bulge) for s in loop)
    return Outline(vertices).area if len(loop) > 1 else 0.0
