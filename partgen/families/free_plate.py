r"""Plate: any outline through points, with corner radii, openings, holes and marks.

     (0, h) .-------------.
            |   .-----.    \        points in order, either way round; each may have a radius
            |   |     |     \       of its own
            |   `-----'  o   |
     (0, 0) `----------------'

A corner that turns inward is rounded by ``inside``; it is sharp only where ``sharp = true`` asks
for it. Lengths in mm.
"""

from __future__ import annotations

from math import fsum
from typing import ClassVar, Literal

from pydantic import Field

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.face_plate import RoundOpening
from partgen.families.openings import RE_ENTRANT, HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import CORNER, Part
from partgen.families.pattern import BoltPattern
from partgen.fields import At, Entry, Margin
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.plate import Mark, Plate, Window
from partgen.shop import Shop


class Corner(Entry):
    """A point of the outline.

    Attributes:
        at: the point [mm].
        radius: of this corner; default the plate's [mm].
    """

    at: At
    radius: Margin | None = None


class FreePlate(Part):
    """``family = "plate"``.

    Attributes:
        plate: thickness and material.
        points: corners in order: ``[x, y]`` or ``{ at = [x, y], radius = 20 }`` [mm].
        corner: radius of corners that turn outward [mm].
        inside: radius of corners that turn inward [mm].
        bolts: bolt patterns.
        rounds: round openings.
        windows: openings with straight sides.
        holes: bolt holes.
        scribe: lines to scribe, each a list of points.
    """

    LIES: ClassVar[str] = "flat-across"

    family: Literal["plate"]
    plate: PlateStock
    points: tuple[At | Corner, ...] = Field(min_length=3, max_length=1000)
    corner: Margin = CORNER
    inside: Margin = RE_ENTRANT
    bolts: tuple[BoltPattern, ...] = Field(default=(), max_length=20)
    rounds: tuple[RoundOpening, ...] = Field(default=(), max_length=200)
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)
    scribe: tuple[tuple[At, ...], ...] = Field(default=(), max_length=200)

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the plate.

        Raises:
            GeometryError: a radius does not fit, the outline crosses itself, or openings meet.
        """
        patterns = [h for k, p in enumerate(self.bolts, 1) for h in p.holes(f"bolt-{k}")]
        rounds = [
            Window(r.name or f"round-{k}", Outline.circle(*r.at, r.diameter))
            for k, r in enumerate(self.rounds, 1)
        ]
        windows = windows_of(self.windows)
        return [
            Plate(
                part=self.name,
                name="plate",
                outline=self.outline(),
                holes=(*patterns, *holes_of(self.holes)),
                windows=(*rounds, *windows),
                marks=tuple(Mark("scribe", path) for path in self.scribe if len(path) > 1),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count,
            )
        ]

    def outline(self) -> Outline:
        """Return the outside edge.

        Raises:
            GeometryError: a radius does not fit, a corner is sharp unasked, or it crosses itself.
        """
        given = [c if isinstance(c, Corner) else Corner(at=c) for c in self.points]
        if _turns_right([c.at for c in given]):
            given.reverse()
        return belt([self._pin(given, k) for k in range(len(given))])

    def _pin(self, given: list[Corner], k: int) -> Pin:
        before, here, after = (given[j % len(given)] for j in (k - 1, k, k + 1))
        inward = _cross(before.at, here.at, after.at) < -1e-9
        usual = self.inside if inward else self.corner
        radius = usual if here.radius is None else here.radius
        if inward and radius == 0 and not self.sharp:
            raise GeometryError(
                f"the corner at ({here.at[0]:g}, {here.at[1]:g}) mm turns inward and is sharp: "
                "cracks begin there; give it a radius, or ask for it with sharp = true"
            )
        return Pin(*here.at, 0.0, radius)


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _turns_right(points: list[Point]) -> bool:
    following = [*points[1:], points[0]]
    return fsum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, following, strict=True)) < 0
