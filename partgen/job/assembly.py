"""The plates where they belong in space: a mount's own and those that name it, ears on a plate.

ISO 8855 axes: x forward, y left, z up; y from the middle of the rail, or of a pair of ears. The
left side is placed; the right one is its mirror image.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import fsum, hypot

from partgen.families.part import Part
from partgen.geometry.outline import cos_sin
from partgen.job.build import Build
from partgen.job.standing import Standing, on_plate, stands_of
from partgen.plates.developed import DevelopedFrame
from partgen.plates.solid import Frame, Solid, Vector, extents

MOST_PIECES = 100  # of one plate on which ears stand


@dataclass(frozen=True)
class Assembly:
    """One mount, put together.

    Attributes:
        name: of the mount.
        hand: "left" or "right": which side is shown.
        solids: its pieces; the rail first.
    """

    name: str
    hand: str
    solids: tuple[Solid, ...]

    def together(self) -> Assembly:
        """Return the assembly as it is seen put together: tabs in their slots."""
        return replace(self, solids=tuple(part for s in self.solids for part in s.together))

    def pulled_apart(self) -> Assembly:
        """Return the assembly with its pieces moved off each other."""
        low, high = extents(p for s in self.solids for p in s.box)
        step = 0.45 * (high[2] - low[2]) + 10
        return Assembly(self.name, self.hand, tuple(s.moved(step) for s in self.solids))

    def bolt_axes(self) -> dict[str, list[tuple[Vector, Vector]]]:
        """Return each bolt's holes, where it goes through two or more pieces: centre and axis."""
        found: dict[str, list[tuple[Vector, Vector]]] = {}
        for solid in self.solids:
            for name, at in solid.holes:
                hole = solid.frame.at(at, solid.depth / 2), solid.frame.way(at)
                found.setdefault(name, []).append(hole)
        return {name: holes for name, holes in found.items() if len(holes) > 1}


def off_axis(assembly: Assembly, name: str) -> float:
    """Return how far the hole centres of one bolt lie off the axis of the first of them [mm]."""
    (start, way), *others = assembly.bolt_axes()[name]
    found = []
    for centre, _ in others:
        reach = [c - s for c, s in zip(centre, start, strict=True)]
        along = fsum(r * w for r, w in zip(reach, way, strict=True))
        found.append(hypot(*(r - along * w for r, w in zip(reach, way, strict=True))))
    return max(found)


def assemblies(build: Build) -> list[Assembly]:
    """Return an assembly for each mount, each plate with what stands on it, each one by numbers.

    A part that stands alone, unbent, makes none.
    """
    tree, found = _Tree(build), dict[str, list[Solid]]()
    for part in build.job.parts:
        for spot in part.space:
            found.setdefault(spot.assembly, tree.in_space(spot.assembly))
        if not part.space and not tree.is_within(part):
            found[part.name] = tree.group(part)
    return [
        Assembly(name, _hand(build, name), tuple(solids))
        for name, solids in found.items()
        if len(solids) > 1 or any(isinstance(s.frame, DevelopedFrame) for s in solids)
    ]


def standing(build: Build) -> dict[str, list[Standing]]:
    """Return what stands on each plate that carries ears, by the plate's key."""
    tree, found = _Tree(build), dict[str, list[Standing]]()
    for part in build.job.parts:
        if part.name not in build.shop.floors:
            continue
        (plate,) = part.solids(build.shop)
        pieces = [replace(plate) for _ in range(MOST_PIECES)]
        there = on_plate(build, part, pieces, tree.group)
        found[build.shop.floor(part.name).key] = [
            replace(s, solids=tuple(_at_place(_renamed(s.solids, s.part, False), s.copy)))
            for s in there
        ]
    return found


def _at_place(solids: Sequence[Solid], copy: str) -> list[Solid]:
    return [replace(s, name=f"{s.name}, place{copy}") if copy else s for s in solids]


def _hand(build: Build, name: str) -> str:
    part = next((p for p in build.job.parts if p.name == name), None)
    return "right" if part and part.hands_in(build.shop) == "right" else "left"


@dataclass(frozen=True)
class _Tree:
    """The parts of a job by what they belong to.

    Attributes:
        build: what they make.
    """

    build: Build

    def is_within(self, part: Part) -> bool:
        """Tell whether a part is shown with another one."""
        names = {p.name for p in self.build.job.parts}
        return stands_of(part) is not None or getattr(part, "mount", None) in names

    def group(self, part: Part) -> list[Solid]:
        """Return a part's pieces and what belongs to them, in its own space."""
        own = part.solids(self.build.shop)
        return [*own, *self._belonging(part), *self._standing(part, own)]

    def in_space(self, assembly: str) -> list[Solid]:
        """Return the pieces of an assembly by numbers, and what stands on them."""
        placed = {
            part.name: self._spotted(part, assembly)
            for part in self.build.job.parts
            if any(spot.assembly == assembly for spot in part.space)
        }
        moving = _outward([s for pieces in placed.values() for s in pieces])
        found = list(moving)
        for part in self.build.job.parts:
            own, moving = (
                moving[: len(placed.get(part.name, ()))],
                moving[len(placed.get(part.name, ())) :],
            )
            found += self._standing(part, own)
        return found

    def _spotted(self, part: Part, assembly: str) -> list[Solid]:
        own, pieces = [*part.solids(self.build.shop), *self._belonging(part)], list[Solid]()
        for k, spot in enumerate(s for s in part.space if s.assembly == assembly):
            copy = f" {k + 1}" if k and not part.SHARES_BOLTS else ""
            pieces += _renamed(spot.placed(own, part.LIES), part.name, k > 0, copy)
        return pieces

    def _belonging(self, part: Part) -> list[Solid]:
        inside = [p for p in self.build.job.parts if getattr(p, "mount", None) == part.name]
        found = [s for p in inside if not p.space for s in self.group(p)]
        mount = self.build.shop.mounts.get(part.name)
        c, s = cos_sin(mount.skew if mount else 0.0)
        plan = Frame((0.0, 0.0, 0.0), (c, s, 0.0), (-s, c, 0.0))
        return [solid.within(plan) for solid in found]

    def _standing(self, part: Part, carriers: Sequence[Solid]) -> list[Solid]:
        """Return the ears that stand on a part's plate, those of the other side mirrored."""
        return [
            solid
            for there in on_plate(self.build, part, carriers, self.group)
            for solid in _renamed(there.solids, there.part, bool(there.copy), there.copy)
        ]


def _outward(solids: Sequence[Solid]) -> list[Solid]:
    """Return the pieces of a box, each moving out of its middle when it is pulled apart."""
    middle = _middle(p for s in solids for p in s.box)
    found = []
    for s in solids:
        reach = [a - b for a, b in zip(_middle(s.box), middle, strict=True)]
        x, y, z = s.frame.normal
        way = fsum(r * n for r, n in zip(reach, (x, y, z), strict=True))
        side = 0.0 if abs(way) < 1.0 else 1.0 if way > 0 else -1.0
        found.append(replace(s, apart=(side * x, side * y, side * z)))
    return found


def _middle(points: Iterable[Vector]) -> Vector:
    (x0, y0, z0), (x1, y1, z1) = extents(points)
    return (x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2


def _renamed(solids: Sequence[Solid], part: str, again: bool, copy: str = "") -> list[Solid]:
    """Return solids under their part's name, bolts of their own; shown ``again``, without names."""
    return [
        replace(
            s,
            name=s.name if part in s.name else f"{part} {s.name}",
            holes=tuple((f"{part}{copy}: {name}", at) for name, at in s.holes),
            is_named=s.is_named and not again,
        )
        for s in solids
    ]
