"""A mount put together and pulled apart: an isometric line drawing as SVG.

Seen from ahead, from the left and from above; the right-hand side is the mirror image. Pieces that
are nearer are drawn over those behind them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist, fsum, sqrt

from partgen.geometry.segment import Point
from partgen.job.assembly import Assembly
from partgen.packet.bent_picture import bent_shapes
from partgen.packet.depth_order import Body
from partgen.packet.label_place import beside
from partgen.packet.picture import box_of, label, svg
from partgen.packet.words import Words
from partgen.plates.developed import DevelopedFrame
from partgen.plates.solid import Solid, Vector, dot

LINE = "fill:#fff;stroke:#3d4b59;stroke-linejoin:round"
RAIL = "fill:#f3f1ec;stroke:#a89a7c;stroke-linejoin:round"
AXIS = "fill:none;stroke:#a04030"
SHARP = 0.3  # sine of a corner that is drawn as a line


def assembly_picture(assembly: Assembly) -> bytes:
    """Return one picture: together on the left, pulled apart on the right; one piece only once."""
    mirror = assembly.hand == "right"
    if len(assembly.solids) == 1:
        return _alone(assembly, mirror)
    apart = assembly.pulled_apart()
    first, second = _drawn(assembly.together(), mirror), _drawn(apart, mirror)
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = _box(first), _box(second)
    size = max(ay1 - ay0, by1 - by0)
    shift = (ax1 - bx0 + 0.12 * size, (ay0 + ay1) / 2 - (by0 + by1) / 2)
    body = [_path(loops, style, size / 450, (0.0, 0.0)) for loops, style in first]
    body += [_path(loops, style, size / 450, shift) for loops, style in second]
    body += _axes(apart, mirror, size, shift)
    names = _names(apart, mirror, size, shift)
    body += [_clear(label(w.text, w.x, w.y, w.size), w.size / 4) for w in names]
    boxes = [(ax0, ay0, ax1, ay1), (bx0 + shift[0], by0 + shift[1], bx1 + shift[0], by1 + shift[1])]
    corners = list(zip(*boxes, *(w.box for w in names), strict=True))
    box = (min(corners[0]), min(corners[1]), max(corners[2]), max(corners[3]))
    return svg(body, box, caption(assembly), size / 12).encode("utf-8")


def _alone(assembly: Assembly, mirror: bool) -> bytes:
    """Return the picture of one bent piece."""
    shapes = _drawn(assembly, mirror)
    box = _box(shapes)
    size = max(box[2] - box[0], box[3] - box[1])
    body = [_path(loops, style, size / 450, (0.0, 0.0)) for loops, style in shapes]
    return svg(body, box, caption(assembly), size / 12).encode("utf-8")


def caption(assembly: Assembly) -> str:
    """Return what a picture shows."""
    if len(assembly.solids) == 1:
        return f"{assembly.name}, {assembly.hand} side: as it is bent, isometric"
    return f"{assembly.name}, {assembly.hand} side: together and pulled apart, isometric"


Loops = list[list[Point]]


def isometric(point: Vector, *, mirror: bool = False) -> Point:
    """Return where a point appears: x forward runs down to the left, y left down to the right."""
    x, y, z = point
    across = (y - x) / sqrt(2)
    return (-across if mirror else across), (2 * z - x - y) / sqrt(6)


def _drawn(assembly: Assembly, mirror: bool) -> list[tuple[Loops, str]]:
    return [
        shape
        for solid in back_to_front(assembly.solids)
        for shape in _all_of(solid, RAIL if solid.name.endswith(("rail", "tube")) else LINE, mirror)
    ]


def back_to_front(solids: Sequence[Solid]) -> list[Solid]:
    """Return solids in the order to draw them: each after those that lie behind, right or below."""
    bodies = [Body.of(solid) for solid in solids]
    rest, order = list(range(len(solids))), list[Solid]()
    after = {k: {j for j in rest if j != k and bodies[j].is_before(bodies[k])} for k in rest}
    while rest:
        hit = next((k for k in rest if not after[k] & set(rest)), rest[0])
        rest.remove(hit)
        order.append(solids[hit])
    return order


def _all_of(solid: Solid, style: str, mirror: bool) -> list[tuple[Loops, str]]:
    """Return a solid's shapes; where tabs fill openings, their edges on the near face."""
    if isinstance(solid.frame, DevelopedFrame):
        return bent_shapes(solid, style, lambda p: isometric(p, mirror=mirror))
    shapes = _shapes(solid, style, mirror)
    filled = [o for o in solid.filled if o not in solid.outlines]
    if filled:
        near = 0.0 if _faces(solid) else solid.depth
        loops = [[isometric(p, mirror=mirror) for p in solid.loop(o, near)] for o in filled]
        shapes.append((loops, style.replace("fill:#fff", "fill:none")))
    return shapes


def _shapes(solid: Solid, style: str, mirror: bool) -> list[tuple[Loops, str]]:
    """Return a solid's far face, the walls that are seen and its near face, in drawing order."""
    near, far = (0.0, solid.depth) if _faces(solid) else (solid.depth, 0.0)
    flat = {
        out: [[isometric(p, mirror=mirror) for p in solid.loop(o, out)] for o in solid.outlines]
        for out in (near, far)
    }
    turn = _area(flat[near][-1])
    last = len(solid.outlines) - 1
    walls = [
        wall
        for k, (loop, back) in enumerate(zip(flat[near], flat[far], strict=True))
        for wall in _walls(loop, back, turn if k == last else -turn, style)
    ]
    return [(flat[far], style), *walls, (flat[near], style)]


def _faces(solid: Solid) -> bool:
    """Tell whether the drawing's plane is the near face."""
    return (solid.depth < 0) == (fsum(solid.frame.normal) > 0)


def _walls(
    loop: list[Point], back: list[Point], turn: float, style: str
) -> Iterator[tuple[Loops, str]]:
    """Yield the walls that are seen, without lines, then their far edges and sharp corners."""
    seen = [_cross(loop[k - 1], loop[k], back[k]) * turn < 0 for k in range(len(loop))]
    fill = style.split(";")[0].removeprefix("fill:")
    lines: Loops = []
    for k, is_seen in enumerate(seen):
        after = (k + 1) % len(loop)
        if is_seen:
            yield [[loop[k - 1], loop[k], back[k], back[k - 1]]], f"fill:{fill};stroke:{fill}"
            lines.append([back[k - 1], back[k]])
        if is_seen != seen[after] or (is_seen and _is_sharp(loop[k - 1], loop[k], loop[after])):
            lines.append([loop[k], back[k]])
    yield lines, style


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _is_sharp(a: Point, b: Point, c: Point) -> bool:
    return abs(_cross(a, b, c)) > SHARP * dist(a, b) * dist(b, c)


def _area(loop: list[Point]) -> float:
    return fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*loop, loop[0]]))


def _axes(apart: Assembly, mirror: bool, size: float, shift: Point) -> list[str]:
    lines = []
    for holes in apart.bolt_axes().values():
        way = holes[0][1]
        ordered = [c for c, _ in sorted(holes, key=lambda hole: round(dot(hole[0], way), 6))]
        ends = []
        for centre, over in ((ordered[0], -0.1 * size), (ordered[-1], 0.1 * size)):
            x, y, z = (c + over * w for c, w in zip(centre, way, strict=True))
            ends.append(isometric((x, y, z), mirror=mirror))
        dash = f"{AXIS};stroke-dasharray:{_n(size / 40)} {_n(size / 160)} {_n(size / 160)} "
        lines.append(_path([ends], f"{dash}{_n(size / 160)}", size / 500, shift))
    return lines


def _names(apart: Assembly, mirror: bool, size: float, shift: Point) -> list[Words]:
    """Return the names, each above its piece or as near as no line and no other name is met."""
    found: list[Words] = []
    tops: list[tuple[str, Point]] = []
    lines: list[list[Point]] = []
    for solid in apart.solids:
        for out in (solid.depth, 0.0):
            points = [isometric(p, mirror=mirror) for p in solid.loop(solid.outlines[-1], out)]
            lines.append([(x + shift[0], y + shift[1]) for x, y in (*points, points[0])])
        if solid.is_named:
            tops.append((solid.name, max(lines[-1], key=lambda p: p[1])))
    text = size / 32
    for name, (x, y) in tops:
        wanted = Words(name, x, y + 0.8 * text, text)
        found.append(beside(wanted, lines, [w.box for w in found]))
    return found


def _clear(text: str, width: float) -> str:
    """Return a text with white round its letters."""
    halo = f"paint-order:stroke;stroke:#fff;stroke-width:{_n(width)};stroke-linejoin:round"
    return text.replace("<text ", f'<text style="{halo}" ', 1)


def _box(shapes: list[tuple[Loops, str]]) -> tuple[float, float, float, float]:
    return box_of([p for loops, _ in shapes for loop in loops for p in loop])


def _path(loops: Loops, style: str, width: float, shift: Point) -> str:
    dx, dy = shift
    data = "".join(
        "M" + "L".join(f"{_n(x + dx)} {_n(-y - dy)}" for x, y in loop) + "Z"
        for loop in loops
        if loop
    )
    return f'<path d="{data}" style="{style};stroke-width:{_n(width)};fill-rule:evenodd"/>'


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
