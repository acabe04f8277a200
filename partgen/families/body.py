"""The body of a plate on a rail's side: two long edges that follow the rail, ends, ears let in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, radians, tan
from typing import Literal

from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.families.ear import Ear, under
from partgen.geometry.crossing import turn_at
from partgen.geometry.outline import Outline
from partgen.geometry.path import Path
from partgen.geometry.rounding import SHARP, Corner, rounded
from partgen.geometry.segment import Point, Segment, chain


@dataclass(frozen=True, kw_only=True)
class Body:
    """A plate's body.

    Attributes:
        rail: that it lies on.
        x0: its rear end [mm].
        x1: its front end [mm].
        shelf: from the rail's lower edge to the body's [mm].
        height: from there to its upper edge [mm].
        follows_top: its upper edge keeps the shelf below a measured upper edge instead.
        ends: "square", "taper" (upper corners cut back) or "spear" (both cut back).
        taper: angle between the slanted ends and the rail [degrees].
        corner: radius of its corners [mm].
        blend: radius of inside corners: roots of ears, sharp kicks [mm].
    """

    rail: Rail
    x0: float
    x1: float
    shelf: float
    height: float
    follows_top: bool
    ends: Literal["square", "taper", "spear"]
    taper: float
    corner: float
    blend: float

    def outline(self, ears: Sequence[Ear]) -> Outline:
        """Return the outside edge.

        Raises:
            GeometryError: the body or an ear cannot exist; the message says why.
        """
        low, high, tips = self._edges()
        edge = under(low, ears, self.corner, self.blend)
        back = [s.reversed() for s in reversed(high.segments)]
        front = [low.end, *tips[1], high.end]
        rear = [high.start, *tips[0], low.start]
        corners = [*edge, *self._lines(front), *((s, 0.0) for s in back), *self._lines(rear)]
        top = len(edge) + len(front) - 1
        corners[top] = (corners[top][0], self.corner)
        return rounded(
            [(s, self._inside(corners[k - 1][0], s, r)) for k, (s, r) in enumerate(corners)]
        )

    def _lines(self, points: list[Point]) -> list[Corner]:
        return [(s, self.corner) for s in chain(points)]

    def _inside(self, before: Segment, s: Segment, radius: float) -> float:
        """Return the radius of a corner; a sharp inside kick of the rail is blended too."""
        return radius or (self.blend if degrees(turn_at(before, s)) < -SHARP else 0.0)

    def _edges(self) -> tuple[Path, Path, tuple[list[Point], list[Point]]]:
        """Return the lower and the upper edge, and the points between them at rear and front."""
        rail, x0, x1, top = self.rail, self.x0, self.x1, self.shelf + self.height
        if top > rail.depth:
            raise GeometryError(
                f"height = {self.height:g} mm and shelf = {self.shelf:g} mm are more than the "
                f"rail's depth, {rail.depth:g} mm"
            )
        low = rail.above(self.shelf, x0, x1)
        follows = self.follows_top
        high = rail.below(self.shelf, top, x0, x1) if follows else rail.above(top, x0, x1)
        cut_low, cut_high = self._cut_back(self._height(low, high))
        if x1 - x0 <= 2 * max(cut_low, cut_high) + 1:
            raise GeometryError(
                f"the plate is {x1 - x0:g} mm long, too short for its slanted ends; reach further "
                "or set a larger taper"
            )
        tips: tuple[list[Point], list[Point]] = ([], [])
        if self.ends == "spear":
            rear, front = ((x, (low.height(x) + high.height(x)) / 2) for x in (x0, x1))
            tips = ([rear], [front])
        return (
            low.between(x0 + cut_low, x1 - cut_low),
            high.between(x0 + cut_high, x1 - cut_high),
            tips,
        )

    def _height(self, low: Path, high: Path) -> float:
        """Return the least height of the body; two offsets of one edge keep theirs exactly [mm].

        Raises:
            GeometryError: too little, or the plate reaches above the rail.
        """
        height = self.height
        if self.follows_top and self.rail.upper_edge is not None:
            x, y = high.segments[len(high.segments) // 2].at(0.5)
            height = low.gap(high) * (-1 if y < low.height(x) else 1)
        if height < 2 * self.corner + 1:
            raise GeometryError(
                f"height on the rail is {height:g} mm; with corner = {self.corner:g} mm it needs "
                f"{2 * self.corner + 1:g} mm; lower the shelf ({self.shelf:g} mm) or the corner "
                "radius"
            )
        if self.rail.upper_edge is not None and self.rail.shelf_above(high) < -1e-6:
            raise GeometryError(
                f"the plate reaches {-self.rail.shelf_above(high):g} mm above the rail's measured "
                "upper edge; set a smaller height"
            )
        return height

    def _cut_back(self, height: float) -> tuple[float, float]:
        """Return how far the lower and the upper edge stop short of the body's reach [mm]."""
        run = height / tan(radians(self.taper)) if self.taper < 90 else 0.0
        return {"square": (0.0, 0.0), "taper": (0.0, run), "spear": (run / 2, run / 2)}[self.ends]
