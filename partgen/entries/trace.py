"""An edge traced in a DXF drawing, brought to size by two points that are known on both."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, floor

from partgen.dxf import tags as dxf_tags
from partgen.dxf.paths import JOIN, path_of
from partgen.dxf.tags import DxfError
from partgen.errors import GeometryError
from partgen.geometry.chain import Chain, backwards
from partgen.geometry.segment import Point, Segment

MOST, MOST_MEETING = 2_000, 100  # lines and arcs of an edge, and ends of them in one place
Known = tuple[Point, Point]  # in the drawing [its unit], on the vehicle [mm]


def read_trace(data: bytes) -> tuple[Segment, ...]:
    """Return the one open chain of lines and arcs in a DXF file, in the drawing's own unit.

    Raises:
        DxfError: it cannot be read, or holds no chain, a closed one, more than one, or a long one.
    """
    paths = [p for e in dxf_tags.load(data).entities if (p := path_of(e, 1.0)) is not None]
    if any(p.closed for p in paths):
        closed = next(p for p in paths if p.closed)
        raise DxfError(f"{closed.label} is closed; keep only the edge, an open polyline")
    if not paths:
        raise DxfError("holds no line, arc or open polyline")
    count = sum(len(p.segments) for p in paths)
    if count > MOST:
        raise DxfError(f"holds {count} lines and arcs; at most {MOST}: draw the edge with fewer")
    return tuple(_joined([p.segments for p in paths]))


def _joined(pieces: list[Chain]) -> Chain:
    """Return pieces in any order, drawn either way, as one chain, grown at both ends of the first.

    Raises:
        DxfError: a piece joins no others, or many meet in one place.
    """
    near = _ends(pieces)
    rest = set(range(1, len(pieces)))
    ahead, behind = list(pieces[0]), list[Segment]()  # away from where the first begins
    tips = [ahead[-1].end, ahead[0].start]
    while rest:
        joining = (k for tip in tips for cell in _around(tip) for k in near.get(cell, ()))
        hit = min((k for k in joining if k in rest and _turned(tips, pieces[k])), default=None)
        if hit is None:
            x, y = pieces[min(rest)][0].start
            raise DxfError(
                f"the piece at ({x:.6g}, {y:.6g}) does not join the others; draw one edge"
            )
        rest.remove(hit)
        tip, more = _turned(tips, pieces[hit])[0]
        if tip:
            ahead, behind, tips = behind, ahead, tips[::-1]
        ahead += more
        tips[0] = ahead[-1].end
    return (*backwards(behind), *ahead)


def _turned(tips: list[Point], piece: Chain) -> list[tuple[int, Chain]]:
    """Return each way a piece joins: at which tip, and the piece as it runs on from there."""
    return [
        (k, way)
        for k, tip in enumerate(tips)
        for way in (piece, backwards(piece))
        if dist(tip, way[0].start) <= JOIN
    ]


def _ends(pieces: list[Chain]) -> dict[tuple[int, int], list[int]]:
    """Return which pieces begin or end in each square of ``JOIN`` by ``JOIN``.

    Raises:
        DxfError: so many that they are no chain.
    """
    found: dict[tuple[int, int], list[int]] = {}
    for k, piece in enumerate(pieces):
        for x, y in (piece[0].start, piece[-1].end):
            cell = found.setdefault((floor(x / JOIN), floor(y / JOIN)), [])
            cell.append(k)
            if len(cell) > MOST_MEETING:
                raise DxfError(f"{len(cell)} pieces meet at ({x:.6g}, {y:.6g}); draw one edge")
    return found


def _around(point: Point) -> Iterator[tuple[int, int]]:
    i, j = floor(point[0] / JOIN), floor(point[1] / JOIN)
    yield from ((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1))


def to_size(chain: tuple[Segment, ...], known: tuple[Known, Known]) -> list[Segment]:
    """Return a chain scaled, turned and moved so that two points come where they are known to be.

    It runs with x rising.

    Args:
        chain: lines and arcs in the drawing's unit.
        known: two points, each in the drawing and on the vehicle.

    Raises:
        GeometryError: the two points are one.
    """
    (a, p), (b, q) = known
    if dist(a, b) == 0 or dist(p, q) == 0:
        raise GeometryError("the two known points must be apart, in the drawing and on the rail")
    # A similarity as a complex factor: turn and scale at once.
    factor = complex(q[0] - p[0], q[1] - p[1]) / complex(b[0] - a[0], b[1] - a[1])

    def placed(x: float, y: float) -> Point:
        z = complex(x - a[0], y - a[1]) * factor
        return p[0] + z.real, p[1] + z.imag

    moved = [Segment(*placed(*s.start), *placed(*s.end), s.bulge) for s in chain]
    return moved if moved[-1].x1 >= moved[0].x0 else list(backwards(moved))
