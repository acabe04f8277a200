"""Mend an outline drawn elsewhere: gaps closed, lines drawn twice dropped, facets made arcs again.

Every line of the report says what was changed. What cannot be mended without guessing is refused: a
gap wider than the tolerance, an end where three meet, an outline that crosses itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import dist, floor

from partgen.dxf.paths import JOIN, Loop, Path, closed_outline
from partgen.dxf.tags import DxfError
from partgen.geometry.facets import rounded
from partgen.geometry.outline import SAME, Outline, Vertex
from partgen.geometry.segment import Point, Segment
from partgen.measure import point_text

TOLERANCE = 0.1  # mm; common practice, no source
End = tuple[int, int]  # which piece, and 0 for its start or 1 for its end


@dataclass(frozen=True)
class Healed:
    """Closed outlines, and what was done to get them.

    Attributes:
        loops: the outlines.
        report: one line for each kind of change; none where nothing had to be mended.
    """

    loops: list[Loop]
    report: tuple[str, ...]


@dataclass(frozen=True)
class _Piece:
    """One line or arc and the entity it comes from."""

    segment: Segment
    label: str


def heal(paths: Sequence[Path], tolerance: float = TOLERANCE) -> Healed:
    """Return closed outlines from paths as they were drawn.

    Args:
        paths: chains of lines and arcs, open or closed.
        tolerance: widest gap that is closed, longest speck that is dropped [mm].

    Raises:
        DxfError: what cannot be mended: the place, the distance, what to do.
    """
    report: list[str] = []
    circles, pieces = _apart(paths)
    pieces = _without_specks(pieces, tolerance, report)
    kept_circles = _without_twins(circles, tolerance, True, report)
    pieces = _without_twins(pieces, tolerance, False, report)
    loops = [Loop(_circle(p.segment), p.label) for p in kept_circles]
    gaps: list[tuple[float, Point]] = []
    for chain in _chains(pieces, tolerance):
        vertices, found = _joined(chain)
        gaps += [gap for gap in found if gap[0] > JOIN]
        vertices, arcs = rounded(
            vertices, [width / 2 if width > SAME else 0.0 for width, _ in found]
        )
        label = chain[0].label
        report += [
            f"{count} facets are one arc of radius {radius:.2f} mm ({label})"
            for count, radius in arcs
        ]
        loops.append(Loop(closed_outline(vertices, label), label))
    if gaps:
        width, (x, y) = max(gaps)
        report.append(
            f"{len(gaps)} gap{'s' if len(gaps) > 1 else ''} closed, the widest {width:.3f} mm at "
            f"{point_text((x, y), 2)}"
        )
    return Healed(loops, tuple(report))


def _apart(paths: Sequence[Path]) -> tuple[list[_Piece], list[_Piece]]:
    """Return circles (one half of each), and all other lines and arcs."""
    circles, pieces = [], []
    for path in paths:
        made = [_Piece(s, path.label) for s in path.segments]
        is_circle = path.closed and len(made) == 2 and all(p.segment.bulge == 1.0 for p in made)
        if is_circle:
            circles.append(made[0])
        else:
            pieces += made
    return circles, pieces


def _circle(half: Segment) -> Outline:
    return Outline.circle(*half.centre, 2 * half.radius)


def _without_specks(pieces: list[_Piece], tolerance: float, report: list[str]) -> list[_Piece]:
    kept = [p for p in pieces if p.segment.length > tolerance]
    dropped = len(pieces) - len(kept)
    if dropped:
        report.append(f"{dropped} speck{'s' if dropped > 1 else ''} under {tolerance:g} mm dropped")
    return kept


def _without_twins(
    pieces: list[_Piece], tolerance: float, circles: bool, report: list[str]
) -> list[_Piece]:
    """Drop what is drawn twice, the same way or backwards; say so."""
    cells: dict[tuple[int, int], list[_Piece]] = {}
    kept = []
    for piece in pieces:
        here = piece.segment.centre if circles else piece.segment.at(0.5)
        if any(
            _same(piece, o, tolerance)
            for cell in _around(here, tolerance)
            for o in cells.get(cell, ())
        ):
            continue
        cells.setdefault(_cell(here, tolerance), []).append(piece)
        kept.append(piece)
    dropped = len(pieces) - len(kept)
    if dropped:
        one, more = ("circle", "circles") if circles else ("line or arc", "lines and arcs")
        report.append(f"{dropped} {one if dropped == 1 else more} drawn twice, dropped")
    return kept


def _same(a: _Piece, b: _Piece, tolerance: float) -> bool:
    s, t = a.segment, b.segment
    if s.bulge == 1.0 and t.bulge == 1.0:
        return dist(s.centre, t.centre) <= tolerance and abs(s.radius - t.radius) <= tolerance
    if dist(s.at(0.5), t.at(0.5)) > tolerance:
        return False
    ends = [(t.start, t.end), (t.end, t.start)]
    return any(dist(s.start, p) <= tolerance and dist(s.end, q) <= tolerance for p, q in ends)


def _cell(point: Point, size: float) -> tuple[int, int]:
    return floor(point[0] / size), floor(point[1] / size)


def _around(point: Point, size: float) -> Iterator[tuple[int, int]]:
    i, j = _cell(point, size)
    yield from ((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1))


def _chains(pieces: list[_Piece], tolerance: float) -> Iterator[list[_Piece]]:
    """Yield closed chains of pieces, each turned to run on from the one before."""
    partner = _partners(pieces, tolerance)
    free = set(range(len(pieces)))
    while free:
        chain: list[_Piece] = []
        k, end = min(free), 0
        while k in free:
            free.remove(k)
            piece = pieces[k]
            chain.append(replace(piece, segment=piece.segment.reversed()) if end else piece)
            k, end = partner[k, 1 - end]
        yield chain


def _partners(pieces: list[_Piece], tolerance: float) -> dict[End, End]:
    """Return for each end the one other end that it meets or all but meets."""
    points: dict[End, Point] = {}
    for k, piece in enumerate(pieces):
        points[k, 0], points[k, 1] = piece.segment.start, piece.segment.end
    cells: dict[tuple[int, int], list[End]] = {}
    for end, point in points.items():
        cells.setdefault(_cell(point, tolerance), []).append(end)
    partner: dict[End, End] = {}
    for end, point in points.items():
        near = [
            other
            for cell in _around(point, tolerance)
            for other in cells.get(cell, ())
            if other != end and dist(point, points[other]) <= tolerance
        ]
        exact = [other for other in near if dist(point, points[other]) <= JOIN]
        partner[end] = _only(end, exact if len(exact) == 1 else near, points, pieces, tolerance)
    for end, other in partner.items():
        if partner[other] != end:
            raise DxfError(_crowd(end, points, pieces, 3))
    return partner


def _only(
    end: End,
    near: list[End],
    points: dict[End, Point],
    pieces: list[_Piece],
    tolerance: float,
) -> End:
    if len(near) == 1:
        return near[0]
    if near:
        raise DxfError(_crowd(end, points, pieces, len(near) + 1))
    x, y = points[end]
    away = min((dist(points[end], p) for other, p in points.items() if other != end), default=0.0)
    raise DxfError(
        f"{pieces[end[0]].label}: open end at {point_text((x, y), 2)}, {away:.2f} mm from the next "
        f"end, more than heal = {tolerance:g} mm; close it in the drawing or raise 'heal'"
    )


def _crowd(end: End, points: dict[End, Point], pieces: list[_Piece], count: int) -> str:
    x, y = points[end]
    return (
        f"{pieces[end[0]].label}: {count} ends meet at {point_text((x, y), 2)}, which way the "
        "outline goes cannot be told; drop what does not belong to it"
    )


def _joined(chain: list[_Piece]) -> tuple[list[Vertex], list[tuple[float, Point]]]:
    """Return a closed chain as vertices, each in the middle of its gap; width and place of gaps."""
    vertices, gaps = [], []
    for before, piece in zip([chain[-1], *chain[:-1]], chain, strict=True):
        p, q = before.segment.end, piece.segment.start
        middle = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
        gaps.append((dist(p, q), middle))
        vertices.append(Vertex(*middle, piece.segment.bulge))
    return vertices, gaps
