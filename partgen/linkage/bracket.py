"""A part that holds links by its bolt holes, and where such a hole is in the vehicle.

A link mount lies on its rail. Any other part (axle saddle, clevis, single ear, shock mount, tower,
face plate) has a place: ``[linkage.place.PART]``. The joint's centre is in the plane midway between
the part's ears, where the bolt's hole is; its drawing's x is forward and its y up before turning.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import copysign, radians
from typing import TypeVar

import numpy as np

from partgen.entries.joint import Joint
from partgen.errors import GeometryError, nearest
from partgen.fit.mount import Mount, Seat
from partgen.linkage.axle import Vec, turned
from partgen.linkage.entry import LinkageEntry
from partgen.linkage.place import PartPlace, RailPlace
from partgen.plates.plate import Plate

T = TypeVar("T")
MIRROR = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True)
class Bracket:
    """A part that may hold links.

    Attributes:
        name: of the part.
        plates: of its left hand, as drawn.
        mount: its sums, where it is a pair of ears.
        joint: the joint it holds, if it names one.
        tube: diameter of the axle tube that it is drawn round, at its zero; None without [mm].
        skew: by which its ears are turned in plan on that tube, the front outward [degrees].
    """

    name: str
    plates: tuple[Plate, ...] = ()
    mount: Mount | None = None
    joint: Joint | None = None
    tube: float | None = None
    skew: float = 0.0

    @property
    def rail(self) -> str:
        """The rail it is on; empty where it is on none."""
        return self.mount.rail if self.mount else ""

    @property
    def ears(self) -> tuple[Plate, ...]:
        """Those of its plates that the joint's bolt goes through."""
        first = {seat.name for seat in self.seats[:1]}
        return tuple(p for p in self.plates if first & {h.name for h in p.holes})

    @property
    def seats(self) -> tuple[Seat, ...]:
        """Its bolt holes, the joint's own first."""
        if self.mount and self.mount.seats:
            return self.mount.seats
        plate = next((p for p in self.plates if p.holes), None)
        return (
            ()
            if plate is None
            else tuple(
                Seat(h.name, (h.x, h.y), plate.outline.distance((h.x, h.y)), h.instead_of)
                for h in plate.holes
            )
        )

    def seat(self, hole: str | int | None) -> Seat:
        """Return one of its bolt holes, by name or counted from 1; default the first.

        Raises:
            GeometryError: it has no such hole.
        """
        seats = self.seats
        if not seats:
            raise GeometryError(f"mount = '{self.name}': that part has no bolt hole")
        if isinstance(hole, int):
            if not 1 <= hole <= len(seats):
                raise GeometryError(
                    f"hole = {hole}: '{self.name}' has {len(seats)}, counted from 1: "
                    + ", ".join(seat.name for seat in seats)
                )
            return seats[hole - 1]
        if hole is None:
            return seats[0]
        return named(f"hole of '{self.name}'", hole, {seat.name: seat for seat in seats}, "hole")


@dataclass(frozen=True)
class Seated:
    """A link's end in a bracket's hole, at ride.

    Attributes:
        bracket: the part.
        seat: its hole.
        point: the joint's centre in vehicle axes (3,) [mm].
        axes: of the part's drawing (3, 3), columns x, the bolt before leaning, y.
        ears: the same, leaning as the ears do (3, 3).
    """

    bracket: Bracket
    seat: Seat
    point: Vec
    axes: Vec
    ears: Vec

    def mirrored(self) -> Seated:
        """Return it on the other side."""
        axes, ears = MIRROR[:, None] * self.axes, MIRROR[:, None] * self.ears
        return replace(self, point=self.point * MIRROR, axes=axes, ears=ears)


def seated(entry: LinkageEntry, bracket: Bracket, hole: str | int | None, on_axle: bool) -> Seated:
    """Return where a bracket's hole is in the vehicle, left side.

    Args:
        entry: ``[linkage]``, which places rails and parts.
        bracket: the part.
        hole: its name or number; default the first.
        on_axle: whether the link's end is at the axle.

    Raises:
        GeometryError: no such hole, no place, or a place at the other end of the link.
    """
    seat = bracket.seat(hole)
    origin, axes, lies_on_axle = _zero(entry, bracket)
    if lies_on_axle != on_axle:
        there, here = ("axle", "frame") if lies_on_axle else ("frame", "axle")
        raise GeometryError(f"mount = '{bracket.name}' is on the {there}, not on the {here}")
    out = copysign(1.0, origin[1])
    shift, lean, along = seat.aside, 0.0, np.array([1.0, 0.0, 0.0])
    if bracket.mount:
        shift, lean = shift + bracket.mount.fit.shift, bracket.mount.ear_angle
        if bracket.mount.bend:
            along = np.array([-bracket.mount.bend.down[1], 0.0, bracket.mount.bend.down[0]])
    ears = axes @ turned(along, out * radians(lean))
    x, y = seat.at
    return Seated(bracket, seat, origin + axes @ np.array([x, out * shift, y]), axes, ears)


def _zero(entry: LinkageEntry, bracket: Bracket) -> tuple[Vec, Vec, bool]:
    """Return origin and axes of a bracket's drawing, and whether it is on the axle."""
    name = bracket.name
    if bracket.rail:
        if name in entry.place:
            raise GeometryError(f"place.{name}: that part lies on rail '{bracket.rail}'; remove it")
        if bracket.rail not in entry.rail:
            raise GeometryError(
                f"mount '{name}' is on rail '{bracket.rail}', which has no place in the vehicle; "
                f"give [linkage.rail.{bracket.rail}] at = [x, y, z] of the side view's zero"
            )
        return *placed(entry.rail[bracket.rail]), False
    if name not in entry.place:
        raise GeometryError(
            f"mount '{name}' has no place in the vehicle; give [linkage.place.{name}] with "
            "'station' along the axle, or 'at' = [x, y, z], of its drawing's zero"
        )
    place = entry.place[name]
    return *on_place(place, entry.wheel, bracket.skew), place.on == "axle"


def placed(place: RailPlace) -> tuple[Vec, Vec]:
    """Return origin (3,) and axes (3, 3) of a rail's side view: x forward, y left, z up."""
    return np.array(place.at), _axes(place.slope, place.plan)


def on_place(place: PartPlace, wheel: Sequence[float], skew: float) -> tuple[Vec, Vec]:
    """Return origin (3,) and axes (3, 3) of a placed part's drawing.

    Args:
        place: where.
        wheel: the axle's middle line goes through it (3,) [mm].
        skew: of the part on its tube, the front outward; the clock turns it with the part, and a
            place's own ``turn`` stands instead of it [degrees].
    """
    start = place.at or (wheel[0], place.station or 0.0, wheel[2])
    axes = _axes(place.clock, place.turn or 0.0)
    if place.turn is None:
        axes = axes @ _axes(0.0, copysign(1.0, start[1]) * skew)
    return np.array(start) + axes @ np.array([0.0, 0.0, place.reach]), axes


def _axes(rise: float, turn: float) -> Vec:
    """Return axes turned in the side view, then seen from above, both anticlockwise [degrees]."""
    _, y, z = np.eye(3)
    axes: Vec = turned(z, radians(turn)) @ turned(y, -radians(rise))
    return axes


def named(kind: str, name: str, things: Mapping[str, T], key: str = "") -> T:
    """Return one of ``things``.

    Raises:
        GeometryError: there is none of that name; the nearest one is said.
    """
    if name not in things:
        what = key or kind
        raise GeometryError(f"{what} = '{name}': no such {kind}; {nearest(name, things)}")
    return things[name]
