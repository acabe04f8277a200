"""An edge traced in a DXF drawing, brought to size by two points that are known on both."""

from __future__ import annotations

from math import dist

from partgen.dxf import tags as dxf_tags
from partgen.dxf.paths import JOIN, path_of
from partgen.dxf.tags import DxfError
from partgen.errors import GeometryError
from partgen.geometry.segment import Point, Segment

Known = tuple[Point, Point]  # in the drawing [its unit], on the vehicle [mm]


def read_trace(data: bytes) -> tuple[Segment, ...]:
    """Return the one open chain of lines and arcs in a DXF file, in the drawing's own unit.

    Raises:
        DxfError: it cannot be read, or holds no chain, a closed one, or more than one.
    """
    paths = [p for e in dxf_tags.load(data).entities if (p := path_of(e, 1.0)) is not None]
    if any(p.closed for p in paths):
        closed = next(p for p in paths if p.closed)
        raise DxfError(f"{closed.label} is closed; keep only the edge, an open polyline")
    if not paths:
        raise DxfError("holds no line, arc or open polyline")
    chain = list(paths[0].segments)
    rest = [list(p.segments) for p in paths[1:]]
    while rest:
        hit = next((r for r in rest if _joined(chain, r) is not None), None)
        if hit is None:
            x, y = rest[0][0].start
            raise DxfError(
                f"the piece at ({x:.6g}, {y:.6g}) does not join the others; draw one edge"
            )
        rest.remove(hit)
        chain = _joined(chain, hit) or chain
    return tuple(chain)


def _joined(chain: list[Segment], more: list[Segment]) -> list[Segment] | None:
    for a in (chain, _back(chain)):
        for b in (more, _back(more)):
            if dist(a[-1].end, b[0].start) <= JOIN:
                return [*a, *b]
    return None


def _back(chain: list[Segment]) -> list[Segment]:
    return [s.reversed() for s in reversed(chain)]


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
    return moved if moved[-1].x1 >= moved[0].x0 else _back(moved)
