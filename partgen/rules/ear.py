"""The metal round a mount's bolt hole, as the screening strength sees it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import dist, fsum, hypot

import shapely

from partgen.fit.mount import Mount
from partgen.geometry.segment import Point
from partgen.plates.plate import Hole, Plate
from partgen.strength.reach import reach

SAME = 1e-3  # mm


@dataclass(frozen=True)
class Ear:
    """A plate about one hole, drawn as for the left.

    Attributes:
        plate: the plate.
        hole: the hole.
    """

    plate: Plate
    hole: Hole

    @property
    def centre(self) -> Point:
        """Centre of the hole [mm]."""
        return self.hole.x, self.hole.y

    def clear(self, way: Point) -> float:
        """Return the metal from the hole's edge to the next edge, along ``way`` [mm]."""
        others = [o for name, o in self.plate.named_openings if name != f"hole {self.hole.name}"]
        return reach([*others, self.plate.outline], self.centre, way) - self.hole.diameter / 2

    def side(self, way: Point) -> float:
        """Return the smaller metal beside the hole, square to ``way`` [mm]."""
        return min(self.clear((-way[1], way[0])), self.clear((way[1], -way[0])))

    @property
    def least(self) -> float:
        """Return the least metal round the hole, in any direction [mm]."""
        others = [o for name, o in self.plate.named_openings if name != f"hole {self.hole.name}"]
        edges = [o.distance(self.centre) for o in (*others, self.plate.outline)]
        return min(edges) - self.hole.diameter / 2

    def width(self, point: Point, way: Point) -> float:
        """Return the metal on the line through ``point`` along ``way``, openings taken off [mm].

        From the outside edge on one side of the point to that on the other; 0 beside the plate.
        """
        edge = self.plate.outline
        if not shapely.contains_xy(self._within, *point):
            return 0.0
        ahead, behind = reach([edge], point, way), reach([edge], point, (-way[0], -way[1]))
        ends = [(point[0] + t * way[0], point[1] + t * way[1]) for t in (-behind, ahead)]
        line = shapely.LineString(ends)
        return ahead + behind - fsum(line.intersection(cut).length for cut in self._cuts)

    @cached_property
    def _within(self) -> shapely.Polygon:
        return self.plate.outline.polygon("inside")

    @cached_property
    def _cuts(self) -> list[shapely.Polygon]:
        return [o.polygon("outside") for _, o in self.plate.named_openings]


def ears_of(mount: Mount, plates: list[Plate]) -> list[Ear]:
    """Return the ears of a mount: its plates, once each, about the mount's own bolt."""
    found: dict[str, Ear] = {}
    for plate in (plate for plate in plates if plate.part == mount.name):
        drawn = plate.mirrored() if plate.hand == "right" else plate
        for hole in drawn.holes:
            if dist((hole.x, hole.y), mount.pivot) <= SAME and plate.key not in found:
                found[plate.key] = Ear(drawn, hole)
    return list(found.values())


def unit(way: Point) -> Point:
    """Return ``way`` with length 1."""
    size = hypot(*way)
    return way[0] / size, way[1] / size
