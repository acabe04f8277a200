"""A mount cut through its bolt, seen along the rail: ears, spacers, rail, joint, bolt; to scale.

The rail's inner face is on the left. The wall of the rail is not in the job and not drawn.
"""

from __future__ import annotations

from partgen.belt import rectangle
from partgen.build import Build
from partgen.measure import shown
from partgen.mount import Mount
from partgen.outline import Outline
from partgen.packet.picture import BARE, INK, METAL, number, path, svg
from partgen.packet.words import Words
from partgen.segment import Point

OVER_RAIL = 1.0  # of the rail's depth shown above its lower edge
LINE = f"fill:none;stroke:{INK}"


def fit_picture(mount: Mount, build: Build) -> str:
    """Return the section as SVG; the bolt's axis is y = 0."""
    unit, fit, bolt = build.job.unit, mount.fit, mount.bolt
    half, (inner, outer) = fit.gap / 2, fit.spacers
    part = next(p for p in build.job.parts if p.name == mount.name)
    rail = build.shop.rails.get(str(getattr(part, "rail", "")))
    depth = rail.depth if rail else mount.room
    low, high = mount.room, mount.room + OVER_RAIL * depth
    ears = _ears(mount, build)
    size = (high + 2 * bolt.diameter) / 20
    metal = [
        _box(-half - ears[0], -1.5 * bolt.diameter, -half, high - 0.1 * depth),
        _box(half, -1.5 * bolt.diameter, half + ears[1], high - 0.1 * depth),
    ]
    edge = low + 0.15 * depth, high - 0.15 * depth
    spacers = [(-half, -half + inner), (half - outer, half)]
    metal += [_box(x0, edge[0], x1, edge[1]) for x0, x1 in spacers if x1 > x0]
    body = [path([o], METAL, size / 12) for o in metal]
    body.append(path([_box(-half + inner, low, half - outer, high)], BARE, size / 6))
    joint = _box(
        fit.shift - fit.joint_width / 2,
        -0.5 * mount.body_diameter,
        fit.shift + fit.joint_width / 2,
        0.5 * mount.body_diameter,
    )
    body.append(path([joint], BARE, size / 8))
    ends = _bolt(mount, half + ears[1], -half - ears[0])
    body += [path([o], LINE, size / 10) for o in ends]
    reach = max(abs(o.box[k]) for o in ends for k in (0, 2))
    words = [
        Words("inner", -half - ears[0] - 0.5 * size, high - 0.3 * depth, size, "end"),
        Words("outer", half + ears[1] + 0.5 * size, high - 0.3 * depth, size, "start"),
        Words(f"rail {shown(fit.rail_width, unit)}", 0.0, (low + high) / 2, size),
        Words(f"joint {shown(fit.joint_width, unit)}", 0.0, -0.3 * mount.body_diameter, size),
    ]
    below = -max(0.5 * mount.body_diameter, 1.5 * bolt.diameter) - 1.4 * size
    words.append(Words(f"gap {shown(fit.gap, unit)}", 0.0, below - size, size))
    body.append(_line([(-half, below), (half, below)], size))
    body += [_line([(x, below - 0.5 * size), (x, below + 0.5 * size)], size) for x in (-half, half)]
    reach = max(reach, half + max(ears) + 5 * size)
    title = f"{mount.name}: section through the bolt"
    texts = [w.svg for w in words]
    return svg([*body, *texts], (-reach, below - 1.6 * size, reach, high), title, size / 2)


def _ears(mount: Mount, build: Build) -> tuple[float, float]:
    """Return the thickness of the inner and the outer plate [mm]."""
    thick = {p.name: p.thickness for p in build.plates if p.part == mount.name}
    first = mount.bolts[0] if mount.bolts else None
    return (
        thick.get("inner", first.far_ear if first else 0.0),
        thick.get("outer", first.near_ear if first else 0.0),
    )


def _bolt(mount: Mount, head_face: float, nut_face: float) -> list[Outline]:
    """Return head, washers, shank and nut; the head is on the outer side."""
    bolt, fit = mount.bolt, mount.bolt_fit
    if fit is None:
        return [_box(nut_face, -bolt.diameter / 2, head_face, bolt.diameter / 2)]
    washer, d = bolt.washer_thickness, bolt.washer_diameter / 2
    head = head_face + washer
    nut = nut_face - washer * (1 + fit.extra_washers)
    r, flats, nuts = bolt.diameter / 2, bolt.head_flats / 2, bolt.nut_flats / 2
    return [
        _box(head_face, -d, head, d),
        _box(nut, -d, nut_face, d),
        _box(head, -flats, head + bolt.head_height, flats),
        _box(nut - fit.nut_height, -nuts, nut, nuts),
        _box(head - fit.length, -r, head, r),
    ]


def _box(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return rectangle(x1 - x0, y1 - y0, 0.0, ((x0 + x1) / 2, (y0 + y1) / 2))


def _line(points: list[Point], size: float) -> str:
    data = "M" + "L".join(f"{number(x)} {number(-y)}" for x, y in points)
    return f'<path d="{data}" style="{LINE};stroke-width:{number(size / 12)}"/>'
