"""The plates of a mount where they belong in space: the mount's own, and those that name it.

ISO 8855 axes: x forward, y left, z up, y from the middle of the rail. The left side is placed; the
right one is its mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum, hypot

from partgen.job.build import Build
from partgen.plates.solid import Solid, Vector, extents


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
    """Return an assembly for each mount of a job, those parts left out that have no place."""
    found = []
    for mount in build.mounts:
        parts = [p for p in build.job.parts if mount.name in (p.name, getattr(p, "mount", None))]
        solids = tuple(s for part in parts for s in part.solids(build.shop))
        if len(solids) > 1:
            hand = "right" if mount.hands == "right" else "left"
            found.append(Assembly(mount.name, hand, solids))
    return found
