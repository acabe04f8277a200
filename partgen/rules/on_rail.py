"""Plates that lie on a rail: which they are, and which of their edges are welded to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from statistics import median

from partgen.entries.rail import Rail
from partgen.geometry.segment import Point, Segment
from partgen.job.build import Build
from partgen.plates.plate import Plate
from partgen.rules.ear import unit
from partgen.shop import Shop

SAMPLES = (0.05, 0.275, 0.5, 0.725, 0.95)  # of an edge's length
MOST = 3  # of them
PARALLEL = 0.01  # mm; an edge follows the rail if most of it keeps its distance as well as that
SHORT = 4.0  # mm; shorter edges are blends


@dataclass(frozen=True)
class OnRail:
    """A plate in its rail's side view.

    Attributes:
        plate: as drawn for the left.
        rail: the rail.
        leg: of the fillet along the plate's edge [mm].
        named: whether the job names that leg; else it is the usual one.
        wall: of the rail, where the plate lies on it without a pad and it is known [mm].
    """

    plate: Plate
    rail: Rail
    leg: float
    named: bool
    wall: float | None = None

    def height(self, point: Point) -> float:
        """Return how far a point lies above the rail's lower edge; negative below it [mm]."""
        return -self.rail.room(point)

    def way(self, point: Point) -> Point:
        """Return the direction in which height grows, square to the rail [-]."""
        x, y = point
        dx = self.height((x + 0.01, y)) - self.height((x - 0.01, y))
        dy = self.height((x, y + 0.01)) - self.height((x, y - 0.01))
        return unit((dx, dy))

    @cached_property
    def welded(self) -> tuple[Segment, ...]:
        """Edges of the plate that lie wholly on the rail's side."""
        return tuple(
            s
            for s in self.plate.outline.segments
            if all(0 < self.height(s.at(k)) < self.rail.depth for k in (0.0, 0.5, 1.0))
        )

    @cached_property
    def shelves(self) -> tuple[float | None, float | None]:
        """Least shelf below the body's lower edge and above its upper edge [mm].

        Near a kick of the rail the nearest point is on the next stretch: what most of five samples
        say counts.
        """
        low: list[float] = []
        high: list[float] = []
        for s in self.welded:
            heights = [self.height(s.at(k)) for k in SAMPLES]
            middle = median(heights)
            agree = sum(abs(h - middle) <= PARALLEL for h in heights)
            if s.chord < SHORT or agree < MOST:
                continue
            if middle < self.rail.depth / 2:
                low.append(middle)
            else:
                high.append(self.rail.depth - middle)
        return min(low, default=None), min(high, default=None)


def on_rails(build: Build, mount: str | None = None) -> Iterator[OnRail]:
    """Yield each plate of a mount, or of one mount, once; drawn in the rail's side view."""
    shop: Shop = build.shop
    seen: set[str] = set()
    for part in build.job.parts:
        leg = part.leg(shop) if mount in (None, part.name) else None
        if leg is None:
            continue
        rail = shop.rail(getattr(part, "rail", ""))
        named = getattr(part, "weld_leg", None) is not None
        for plate in build.by_part[part.name]:
            if plate.key not in seen:
                seen.add(plate.key)
                drawn = plate.mirrored() if plate.hand == "right" else plate
                pads = shop.mount(part.name).fit.spacers[plate.name != "inner"]
                yield OnRail(drawn, rail, leg, named, None if pads else rail.wall)
