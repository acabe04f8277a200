"""The entities of a DXF file as chains of lines and arcs [mm], and open chains joined to loops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, floor, fsum, hypot, radians, sin, tan

from partgen.dxf.tags import DxfError, Entity
from partgen.errors import GeometryError
from partgen.geometry.outline import SAME, Outline, Vertex
from partgen.geometry.segment import Point, Segment
from partgen.measure import LONGEST

JOIN = 1e-3  # mm; ends closer than this meet
STEEPEST = 1000.0  # bulge; an arc of 359.8 degrees, more is a circle drawn wrong
FLATTEST = 1e10  # mm; an arc of a larger radius is a line, less than 0.001 mm off it over 8 m
IGNORED = frozenset(
    {"TEXT", "MTEXT", "ATTDEF", "DIMENSION", "LEADER", "MULTILEADER", "TOLERANCE"}
    | {"ARC_DIMENSION", "LARGE_RADIAL_DIMENSION", "POINT", "VIEWPORT", "XLINE", "RAY"}
)  # drawn to be read, never cut


@dataclass(frozen=True)
class Path:
    """A chain of lines and arcs, and the entity it comes from.

    Attributes:
        segments: lines and arcs, each beginning where the one before ends [mm].
        closed: whether the last one ends where the first begins.
        label: what messages call it.
    """

    segments: tuple[Segment, ...]
    closed: bool
    label: str


@dataclass(frozen=True)
class Loop:
    """A closed outline and the entity it comes from.

    Attributes:
        outline: lines and arcs, anticlockwise [mm].
        label: what messages call it.
    """

    outline: Outline
    label: str


def path_of(entity: Entity, scale: float) -> Path | None:
    """Return what an entity draws, or None for lettering, points and specks.

    Args:
        entity: any entity.
        scale: millimetres in the file's unit.

    Raises:
        DxfError: it can be no line, arc or circle in the plane.
    """
    if entity.kind in IGNORED:
        return None
    segments, closed = _drawn(entity, _side(entity))
    segments = [_scaled(s, scale) for s in segments]
    steep = [s.bulge for s in segments if abs(s.bulge) > STEEPEST]
    if steep:
        raise DxfError(f"{entity.label} has bulge {steep[0]:.6g}, a whole turn; draw a CIRCLE")
    for v in (v for s in segments for v in s.box):
        if abs(v) > LONGEST:
            raise DxfError(f"{entity.label} reaches {v:.6g} mm; at most 100 m, is the unit right?")
    if segments and not closed and _apart(segments[0].start, segments[-1].end) <= JOIN:
        if fsum(s.length for s in segments) <= 2 * JOIN:
            return None
        closed = True
    return Path(tuple(segments), closed, entity.label) if segments else None


def _drawn(entity: Entity, side: int) -> tuple[list[Segment], bool]:
    match entity.kind:
        case "LINE":
            return _line(entity), False
        case "CIRCLE":
            return _circle(_point(entity, side), _radius(entity)), True
        case "ARC":
            return _arc(entity, side)
        case "LWPOLYLINE":
            return _polyline(_light_vertices(entity, side), entity)
        case "POLYLINE":
            if entity.flags() & (4 | 16 | 64):
                raise DxfError(f"{entity.label} is a fitted curve or a mesh; draw lines and arcs")
            return _polyline(_heavy_vertices(entity, side), entity)
    raise DxfError(
        f"{entity.label} cannot be cut; turn it into lines, arcs and circles, or drop it"
    )


def _side(entity: Entity) -> int:
    """Return 1, or -1 for an entity drawn from behind (its x runs the other way)."""
    if entity.kind == "LINE":
        return 1
    tilt = hypot(entity.number(210, 0.0), entity.number(220, 0.0))
    up = entity.number(230, 1.0)
    if tilt > 1e-9 * abs(up) or up == 0.0:
        raise DxfError(f"{entity.label} is tilted out of the drawing's plane; lay it flat")
    return 1 if up > 0 else -1


def _point(entity: Entity, side: int) -> Point:
    return side * entity.number(10), entity.number(20)


def _radius(entity: Entity) -> float:
    radius = entity.number(40)
    if radius <= 0:
        raise DxfError(f"{entity.label} has radius {radius:g}; it must be more than 0")
    return radius


def _line(entity: Entity) -> list[Segment]:
    if abs(entity.number(30, 0.0) - entity.number(31, 0.0)) > JOIN:
        raise DxfError(f"{entity.label} leaves the drawing's plane; lay it flat")
    return [Segment(*_point(entity, 1), entity.number(11), entity.number(21))]


def _circle(centre: Point, r: float) -> list[Segment]:
    x, y = centre
    return [Segment(x + r, y, x - r, y, 1.0), Segment(x - r, y, x + r, y, 1.0)]


def _arc(entity: Entity, side: int) -> tuple[list[Segment], bool]:
    (x, y), r = _point(entity, side), _radius(entity)
    start, end = entity.number(50), entity.number(51)
    sweep = (end - start) % 360.0
    if r * radians(min(sweep, 360.0 - sweep)) <= SAME and (
        sweep > 180 or start == end or sweep == 0
    ):
        return _circle((x, y), r), True
    a, b = radians(start), radians(start + sweep)
    arc = Segment(
        x + side * r * cos(a),
        y + r * sin(a),
        x + side * r * cos(b),
        y + r * sin(b),
        side * tan(radians(sweep) / 4),
    )
    return [arc], False


def _light_vertices(entity: Entity, side: int) -> list[Vertex]:
    found: list[list[float]] = []
    for code, value in entity.tags:
        if code == 10:
            found.append([side * entity.read_number(code, value), 0.0, 0.0])
        elif code in (20, 42) and found:
            number = entity.read_number(code, value)
            found[-1][1 if code == 20 else 2] = number if code == 20 else side * number
    return [Vertex(x, y, bulge) for x, y, bulge in found]


def _heavy_vertices(entity: Entity, side: int) -> list[Vertex]:
    heights = [vertex.number(30, 0.0) for vertex in entity.children]
    if heights and max(heights) - min(heights) > JOIN:
        raise DxfError(f"{entity.label} leaves the drawing's plane; lay it flat")
    return [Vertex(*_point(v, side), side * v.number(42, 0.0)) for v in entity.children]


def _polyline(vertices: list[Vertex], entity: Entity) -> tuple[list[Segment], bool]:
    closed = bool(entity.flags() & 1)
    pairs = zip(vertices, vertices[1:] + (vertices[:1] if closed else []), strict=False)
    segments = [Segment(a.x, a.y, b.x, b.y, a.bulge) for a, b in pairs]
    return [s for s in segments if s.chord > 0], closed


def _scaled(s: Segment, scale: float) -> Segment:
    ends = (s.x0 * scale, s.y0 * scale, s.x1 * scale, s.y1 * scale)
    is_flat = s.chord * scale > 4 * abs(s.bulge) * FLATTEST  # radius of a flat arc: chord / 4 bulge
    return Segment(*ends, 0.0 if is_flat else s.bulge)


def _apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def loops_of(paths: Sequence[Path]) -> list[Loop]:
    """Return the closed paths, and the open ones joined where two ends meet.

    Raises:
        DxfError: an end meets none, or more than one other.
    """
    loops = [Loop(_outline(p.segments, p.label), p.label) for p in paths if p.closed]
    rest = [p for p in paths if not p.closed]
    partner = _partners(rest)
    free = set(range(len(rest)))
    while free:
        first = min(free)
        segments: list[Segment] = []
        k, end = first, 0  # enter path k at its end 0 (start) or 1
        while k in free:
            free.remove(k)
            chain = rest[k].segments
            segments.extend(s.reversed() for s in reversed(chain)) if end else segments.extend(
                chain
            )
            k, end = partner[k, 1 - end]
        loops.append(Loop(_outline(segments, rest[first].label), rest[first].label))
    return loops


def _partners(paths: Sequence[Path]) -> dict[tuple[int, int], tuple[int, int]]:
    """Return for each end (path, 0 start or 1 end) the one other end that meets it."""
    ends = {
        (k, e): (path.segments[0].start, path.segments[-1].end)[e]
        for k, path in enumerate(paths)
        for e in (0, 1)
    }
    cells: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for key, (x, y) in ends.items():
        cells.setdefault((floor(x / JOIN), floor(y / JOIN)), []).append(key)
    partner = {}
    for key, point in ends.items():
        i, j = floor(point[0] / JOIN), floor(point[1] / JOIN)
        around = ((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1))
        near = [
            other
            for cell in around
            for other in cells.get(cell, ())
            if other != key and _apart(point, ends[other]) <= JOIN
        ]
        if len(near) != 1:
            x, y = point
            label = paths[key[0]].label
            what = f"{len(near) + 1} ends meet" if near else "an open end"
            raise DxfError(f"{label}: {what} at ({x:.6g}, {y:.6g}) mm; close the outline there")
        partner[key] = near[0]
    return partner


def _outline(segments: Sequence[Segment], label: str) -> Outline:
    """Return the outline of a closed chain; arcs of one circle become that circle.

    Raises:
        DxfError: no area, or it crosses itself.
    """
    return closed_outline([Vertex(s.x0, s.y0, s.bulge) for s in segments], label)


def closed_outline(vertices: Sequence[Vertex], label: str) -> Outline:
    """Return the outline through vertices; arcs of one circle become that circle.

    Raises:
        DxfError: no area, or it crosses itself.
    """
    try:
        outline = Outline.of(vertices)
    except GeometryError as error:
        raise DxfError(f"{label}: {error}") from None
    if outline.circle_of or not all(v.bulge > 0 for v in outline.vertices):
        return outline
    (x, y), r = outline.segments[0].centre, outline.segments[0].radius
    one = all(
        _apart(s.centre, (x, y)) <= SAME and abs(s.radius - r) <= SAME for s in outline.segments
    )
    return Outline.circle(x, y, 2 * r) if one else outline
