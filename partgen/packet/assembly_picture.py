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
from partgen.packet.label_place import beside
from partgen.packet.picture import label, svg
from partgen.packet.words import Words
from partgen.plates.solid import Solid, Vector

LINE = "fill:#fff;stroke:#3d4b59;stroke-linejoin:round"
RAIL = "fill:#f3f1ec;stroke:#a89a7c;stroke-linejoin:round"
AXIS = "fill:none;stroke:#a04030"
SLACK = 1e-6  # mm
SHARP = 0.3  # sine of a corner that is drawn as a line


def assembly_picture(assembly: Assembly) -> bytes:
    """Return one picture: together on the left, pulled apart on the right."""
    mirror = assembly.hand == "right"
    apart = assembly.pulled_apart()
    first, second = _drawn(assembly, mirror), _drawn(apart, mirror)
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = _box(first), _box(second)
    size = max(ay1 - ay0, by1 - by0)
    shift = (ax1 - bx0 + 0.12 * size, (ay0 + ay1) / 2 - (by0 + by1) / 2)
    body = [_path(loops, style, size / 450, (0.0, 0.0)) for loops, style in first]
    body += [_path(loops, style, size / 450, shift) for loops, style in second]
    body += _axes(apart, mirror, size, shift)
    body += _names(apart, mirror, size, shift)
    box = (
        min(ax0, bx0 + shift[0]),
        min(ay0, by0 + shift[1]),
        max(ax1, bx1 + shift[0]),
        max(ay1, by1 + shift[1]),
    )
    title = f"{assembly.name}, {assembly.hand} side: together and pulled apart, isometric"
    return svg(body, box, title, size / 12).encode("utf-8")


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
        for shape in _shapes(solid, RAIL if solid.name == "rail" else LINE, mirror)
    ]


def back_to_front(solids: Sequence[Solid]) -> list[Solid]:
    """Return solids in the order to draw them: each after those that lie behind, right or below."""
    rest, order = list(solids), list[Solid]()
    while rest:
        hit = next((s for s in rest if not any(_before(t, s) for t in rest if t is not s)), rest[0])
        rest.remove(hit)
        order.append(hit)
    return order


def _before(a: Solid, b: Solid) -> bool:
    """Tell whether ``a`` must be drawn before ``b``: wholly behind it, right of it or below it."""
    (low_a, high_a), (low_b, high_b) = a.unbent.box, b.unbent.box
    behind = any(h <= low + SLACK for h, low in zip(high_a, low_b, strict=True))
    ahead = any(h <= low + SLACK for h, low in zip(high_b, low_a, strict=True))
    return behind and not ahead


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
        ordered = sorted(holes, key=lambda hole: hole[0][1])
        ends = []
        for (centre, way), over in ((ordered[0], 0.1 * size), (ordered[-1], -0.1 * size)):
            x, y, z = (c + over * w for c, w in zip(centre, way, strict=True))
            ends.append(isometric((x, y, z), mirror=mirror))
        dash = f"{AXIS};stroke-dasharray:{_n(size / 40)} {_n(size / 160)} {_n(size / 160)} "
        lines.append(_path([ends], f"{dash}{_n(size / 160)}", size / 500, shift))
    return lines


def _names(apart: Assembly, mirror: bool, size: float, shift: Point) -> list[str]:
    """Return the names, each above its piece or as near as no line and no other name is met."""
    found: list[Words] = []
    tops, lines = [], []
    for solid in apart.solids:
        for out in (0.0, solid.depth):
            points = [isometric(p, mirror=mirror) for p in solid.loop(solid.outlines[-1], out)]
            lines.append([(x + shift[0], y + shift[1]) for x, y in (*points, points[0])])
        tops.append(max(lines[-2], key=lambda p: p[1]))
    text = size / 32
    for solid, (x, y) in zip(apart.solids, tops, strict=True):
        wanted = Words(solid.name, x, y + 0.8 * text, text)
        found.append(beside(wanted, lines, [w.box for w in found]))
    return [label(w.text, w.x, w.y, w.size) for w in found]


def _box(shapes: list[tuple[Loops, str]]) -> tuple[float, float, float, float]:
    points = [p for loops, _ in shapes for loop in loops for p in loop]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


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
