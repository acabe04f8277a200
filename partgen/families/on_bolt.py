"""Discs on a mount's bolt, placed in space; where its ears lean the bolt leans with them."""

from __future__ import annotations

from dataclasses import replace
from math import cos, fsum, radians, sin

from partgen.fit.mount import Mount
from partgen.plates.plate import Plate
from partgen.plates.solid import FORWARD, UP, Frame, Solid, Vector

STILL: Vector = (0.0, 0.0, 0.0)


def bolt_axes(mount: Mount) -> Frame:
    """Return axes at the bolt in the middle of the gap; the normal runs inward along the bolt."""
    x, z = mount.seen(mount.pivot)
    if mount.bend is None:
        return Frame((x, mount.middle, z), FORWARD, UP)
    (dx, dz), turn = mount.bend.down, radians(mount.bend.angle)
    up = (-cos(turn) * dx, -sin(turn), -cos(turn) * dz)
    return Frame((x, mount.middle + mount.seats[0].aside, z), (-dz, 0.0, dx), up)


def gap_ends(mount: Mount) -> tuple[float, float]:
    """Return where the gap's faces cross the bolt, inner and outer, outward of its axes [mm]."""
    if mount.bend is None:
        return -mount.fit.gap / 2, mount.fit.gap / 2
    bend, turn = mount.bend, radians(mount.bend.angle)
    side, reach = (1.0 if turn > 0 else -1.0), zip(mount.pivot, bend.start, strict=True)
    depth = fsum((p - s) * d for (p, s), d in zip(reach, bend.down, strict=True))
    here = (mount.middle + mount.seats[0].aside) * cos(turn) - depth * sin(turn)
    inner, outer = (
        y * cos(turn) - side * radius * (1 - cos(turn)) - here
        for y, radius in zip(mount.faces, (bend.inner, bend.outer), strict=True)
    )
    return inner, outer


def disc(
    plate: Plate, mount: Mount, begins: float, depth: float, name: str, apart: Vector = STILL
) -> Solid:
    """Return a disc on the bolt.

    Args:
        plate: the disc, about (0, 0).
        mount: whose bolt it is on.
        begins: its face, outward of ``bolt_axes`` [mm].
        depth: from there outward; negative inward [mm].
        name: in the picture.
        apart: which way it moves when all is pulled apart.
    """
    axes = bolt_axes(mount)
    frame = replace(axes, origin=axes.at((0.0, 0.0), -begins))
    on_bolt = ((mount.bolt_name, (0.0, 0.0)),)
    return replace(Solid.of(plate, frame, -depth, apart, name), holes=on_bolt)
