"""The torch's path: an outline set off by half the kerf, in true lines and arcs.

Every line and arc is set off, corners that open are joined by an arc about the corner, the pieces
are cut at their crossings, and whatever comes nearer than the offset to the outline is dropped: an
exact parallel curve. For a convex outline: area' = area + length x offset + pi x offset^2.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import atan2, dist, pi, tan

import shapely

from partgen.errors import GeometryError
from partgen.geometry.chain import Chain, closed, portion
from partgen.geometry.crossing import offset as set_off
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment, crossings
from partgen.measure import point_text

NEAR = 1e-6  # mm; a piece this much too near is not dropped
SPECK = 1e-5  # mm; a piece shorter than this is nothing
JOIN = 3e-5  # mm; ends this near are one
SHARP = 0.01  # rad; a corner that turns more is one to see
SMOOTH = 1e-7  # rad; a corner that turns less is none
LOOKS = (0.0, 0.25, 0.5, 0.75)  # places of a segment that the torch must come near


def torch_path(outline: Outline, kerf: float, *, inside: bool, name: str) -> Outline:
    """Return where the torch's centre runs, so that the plate comes out at ``outline``.

    Args:
        outline: the finished edge.
        kerf: width of the cut [mm].
        inside: whether it is an opening, which the path must lie in.
        name: what messages call it.

    Raises:
        GeometryError: the opening, or a notch or an inside corner of the edge, is too narrow for
            the kerf and would be lost.
    """
    half = -kerf / 2 if inside else kerf / 2
    if not half:
        return outline
    if outline.circle_of:
        x, y, size = outline.circle_of
        if size + 2 * half <= NEAR:
            raise GeometryError(
                f"{name}: {size:g} mm is no wider than the kerf, {kerf:g} mm: the opening is lost; "
                "make it larger or drill it"
            )
        return Outline.circle(x, y, size + 2 * half)
    loops = _loops(_kept(_split(_raw(outline, half)), outline, abs(half)))
    good = [loop for loop in loops if loop.area > NEAR]
    if not good:
        raise GeometryError(
            f"{name}: nothing of it is wider than the kerf, {kerf:g} mm: it is lost; "
            "make it larger or drill it"
        )
    path = max(good, key=lambda loop: loop.area)
    _refuse_lost(outline, path, kerf, name)
    return path


def _raw(outline: Outline, offset: float) -> list[Segment]:
    """Return every segment set off to its right (out of the outline), and arcs about corners."""
    segments = outline.segments
    pieces: list[Segment] = []
    for k, s in enumerate(segments):
        moved = set_off(s, -offset, NEAR)
        if moved is not None:
            pieces.append(moved)
        following = segments[(k + 1) % len(segments)]
        pieces += _about_corner(s, following, offset)
    return pieces


def _about_corner(s: Segment, t: Segment, offset: float) -> Iterable[Segment]:
    """Return the arc round the corner between two segments, where the offset opens it."""
    (ax, ay), (bx, by) = s.direction(1.0), t.direction(0.0)
    turn = atan2(ax * by - ay * bx, ax * bx + ay * by)
    if abs(abs(turn) - pi) < SMOOTH:  # a spike: the torch goes round its tip
        turn = pi if offset > 0 else -pi
    if abs(turn) <= SMOOTH or (turn > 0) != (offset > 0):
        return
    x, y = t.start
    yield Segment(x + ay * offset, y - ax * offset, x + by * offset, y - bx * offset, tan(turn / 4))


def _split(pieces: Sequence[Segment]) -> list[Segment]:
    """Return the pieces cut at their crossings."""
    parts: list[set[float]] = [set() for _ in pieces]
    for k, a in enumerate(pieces):
        for m in range(k):
            b = pieces[m]
            if _apart(a, b):
                continue
            for point in crossings(a, b):
                parts[k].add(_part(a, point))
                parts[m].add(_part(b, point))
    result: list[Segment] = []
    for piece, cuts in zip(pieces, parts, strict=True):
        ends = [0.0, *sorted(c for c in cuts if 0 < c < 1), 1.0]
        result += [
            portion(piece, a, b)
            for a, b in itertools.pairwise(ends)
            if (b - a) * piece.length > SPECK
        ]
    return result


def _apart(a: Segment, b: Segment) -> bool:
    p, q = a.box, b.box
    return p[2] < q[0] - JOIN or q[2] < p[0] - JOIN or p[3] < q[1] - JOIN or q[3] < p[1] - JOIN


def _part(s: Segment, point: Point) -> float:
    """Return where along a segment one of its points lies, 0 to 1."""
    if not s.bulge:
        return dist(s.start, point) / s.chord
    (cx, cy) = s.centre
    ux, uy, vx, vy = s.x0 - cx, s.y0 - cy, point[0] - cx, point[1] - cy
    turn = atan2(ux * vy - uy * vx, ux * vx + uy * vy)
    slack = JOIN / s.radius
    if s.bulge > 0:
        turn = turn if turn >= -slack else turn + 2 * pi
    else:
        turn = turn if turn <= slack else turn - 2 * pi
    return min(1.0, max(0.0, turn / s.sweep))


def _kept(pieces: Iterable[Segment], outline: Outline, offset: float) -> list[Segment]:
    """Return the pieces that keep their distance from the outline."""
    return [p for p in pieces if outline.distance(p.at(0.5)) >= offset - NEAR]


def _loops(pieces: Sequence[Segment]) -> list[Outline]:
    """Return the closed loops that the pieces make, ends matched within ``JOIN``; no dead ends."""
    ends = _Ends(pieces)
    loops: list[Outline] = []
    while ends.free:
        first = min(ends.free)
        chain = [first]
        ends.free.discard(first)
        while (found := ends.after(chain[-1])) is not None:
            ends.free.discard(found)
            chain.append(found)
        if dist(pieces[chain[-1]].end, pieces[first].start) <= JOIN:
            loops.append(closed(_one_circle([pieces[k] for k in chain])))
    return loops


class _Ends:
    """Which piece begins where another ends; those that lead nowhere, or come from nowhere, go."""

    def __init__(self, pieces: Sequence[Segment]) -> None:
        self._pieces = pieces
        points = shapely.points([p.start for p in pieces]) if pieces else []
        tree = shapely.STRtree(points)
        found = (
            tree.query(shapely.points([p.end for p in pieces]), "dwithin", JOIN) if pieces else []
        )
        self._after: dict[int, set[int]] = defaultdict(set)
        self._before: dict[int, set[int]] = defaultdict(set)
        for k, m in zip(*found, strict=True) if pieces else ():
            self._after[int(k)].add(int(m))
            self._before[int(m)].add(int(k))
        self.free = set(range(len(pieces)))
        while dead := [k for k in self.free if not (self._after[k] and self._before[k])]:
            for k in dead:
                self._drop(k)

    def _drop(self, k: int) -> None:
        self.free.discard(k)
        for m in self._after.pop(k, ()):
            self._before[m].discard(k)
        for m in self._before.pop(k, ()):
            self._after[m].discard(k)

    def after(self, k: int) -> int | None:
        """Return the free piece that begins nearest to where piece ``k`` ends."""
        end = self._pieces[k].end
        near = self._after[k] & self.free
        return min(near, default=None, key=lambda m: (dist(self._pieces[m].start, end), m))


def _one_circle(chain: list[Segment]) -> Chain:
    """Return a lone arc that closes on itself as two halves."""
    if len(chain) > 1:
        return tuple(chain)
    return portion(chain[0], 0.0, 0.5), portion(chain[0], 0.5, 1.0)


def _refuse_lost(outline: Outline, path: Outline, kerf: float, name: str) -> None:
    """Refuse an outline that the torch cannot follow: a place further from its path than the kerf.

    Half the kerf is the aim; up to a whole kerf is the round that any torch leaves in a corner of
    60 degrees or more.
    """
    for s in outline.segments:
        for part in LOOKS:
            x, y = s.at(part)
            if path.distance((x, y)) > kerf + NEAR:
                raise GeometryError(
                    f"{name}: near {point_text((x, y))} it is too narrow for the kerf, "
                    f"{kerf:g} mm, and would be lost; widen it there"
                )


def rounded_corners(outline: Outline, kerf: float, *, inside: bool) -> int:
    """Return how many corners come out with the torch's radius, half the kerf, instead of theirs.

    These are the inside corners of an outside edge and every corner of an opening that turns
    sharper than the torch can.
    """
    way, segments, count = (1 if inside else -1), outline.segments, 0
    for s, t in zip(segments, (*segments[1:], segments[0]), strict=True):
        (ax, ay), (bx, by) = s.direction(1.0), t.direction(0.0)
        count += way * atan2(ax * by - ay * bx, ax * bx + ay * by) > SHARP
        count += way * s.bulge > 0 and s.radius < kerf / 2 - NEAR
    return count
