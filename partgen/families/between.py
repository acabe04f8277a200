"""Where a boxing plate stands between two ears: its middle, its axes, its width, its slots.

Between ears that lean it stands square to them, on their flats below the bends: as wide as they are
apart there, its middle where a joint would sit that is seen at the same place from the side. Its
slots lie in each flat drawing where a bolt through that place would.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import copysign, cos, fsum, radians, sin

from partgen.errors import GeometryError
from partgen.families.leaning import aside
from partgen.fit.mount import Lean, Mount
from partgen.geometry.outline import cos_sin
from partgen.geometry.segment import Point
from partgen.plates.solid import LEFT, Frame, Vector


@dataclass(frozen=True)
class Between:
    """A plate between two ears.

    Attributes:
        width: of the gap there [mm].
        slots: the plate's middle in the drawings of the inner and the outer ear [mm].
        middle: in the mount's own space [mm].
        along: unit vector of its length.
        across: unit vector from the inner ear to the outer one.
    """

    width: float
    slots: tuple[Point, Point]
    middle: Vector
    along: Vector
    across: Vector


def between(mount: Mount, at: Point, angle: float, length: float) -> Between:
    """Return where a plate stands between a mount's ears.

    Args:
        mount: whose ears they are.
        at: its middle, seen from the side, as the ears are drawn [mm].
        angle: of its length there [degrees].
        length: along the ears [mm].

    Raises:
        GeometryError: it would stand in the bend of the ears.
    """
    (c, s), (x, z), bend = cos_sin(angle), mount.seen(at), mount.bend
    if bend is not None:
        reach = length / 2 * abs(c * bend.down[0] + s * bend.down[1])
        if bend.folds[0].split(at)[1] + reach > 0:
            return _leaning(mount, bend, at, (c, s), reach)
    return Between(mount.fit.gap, (at, at), (x, mount.middle, z), (c, 0.0, s), LEFT)


def _leaning(mount: Mount, bend: Lean, at: Point, way: Point, reach: float) -> Between:
    """Return where it stands on the leaning part; ``way`` is its length's, in the ears' drawing."""
    shared = fsum(fold.middle_radius for fold in bend.folds) / 2
    ears = (mount.bolts[0].far_ear, mount.bolts[0].near_ear)
    slots = []
    for fold, thickness, side in zip(bend.folds, ears, (-1, 1), strict=True):
        if fold.split(at)[1] > 0:
            slots.append(fold.flat(at, side * (mount.fit.gap + thickness) / 2, shared))
            room = fold.split(slots[-1])[1] - fold.flat_length - reach
        if fold.split(at)[1] <= 0 or room < 0:
            raise GeometryError(
                f"at ({at[0]:g}, {at[1]:g}) mm it reaches into the bend of the ears of "
                f"'{mount.name}'; move it down, or make it shorter"
            )
    (x, z), (dx, dz), (c, s) = mount.seen(at), bend.down, way
    turn, out = radians(abs(bend.angle)), copysign(1.0, bend.angle)
    beside, down = s * dx - c * dz, c * dx + s * dz
    along: Vector = (
        -beside * dz + down * dx * cos(turn),
        down * out * sin(turn),
        beside * dx + down * dz * cos(turn),
    )
    across: Vector = (-out * sin(turn) * dx, cos(turn), -out * sin(turn) * dz)
    joint = Frame((x, mount.middle + aside(bend.folds[0], at, shared), z), along, across)
    off = (ears[0] - ears[1]) / 4 * (1 - cos(turn))  # of the gap's middle from the joint's
    return Between(mount.ear_gap, (slots[0], slots[1]), joint.at((0.0, off)), joint.u, joint.v)
