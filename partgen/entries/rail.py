"""A frame member as measured: width, depth, corner radius and its edges in side view.

Side view: x forward, y up, both in mm, drawn with forward to the right.
"""

from __future__ import annotations

from functools import cached_property
from math import ceil
from typing import Annotated, Self

from pydantic import ValidationInfo, WithJsonSchema, model_validator

from partgen.entries.edge import EdgeEntry
from partgen.errors import GeometryError
from partgen.fields import Entry, Margin, Name, Reading, Size, Text, in_job_unit
from partgen.geometry.outline import Outline
from partgen.geometry.path import Path
from partgen.geometry.rounding import outline_of
from partgen.geometry.segment import Point, Segment, chain

DIFFERENCE = 3.0  # mm between left and right before a warning; common practice, no source
STEP = 0.05  # rad of an arc from one drawn point to the next
FAR = 10_000.0  # mm, how far a straight rail runs that has no stations

RailName = Annotated[
    str,
    WithJsonSchema(
        {
            "anyOf": [{"type": "string"}, {"type": "object"}],
            "description": "name of a rail, or { left = NAME, right = NAME }",
        }
    ),
]


class Rail(Entry):
    """``[rail.NAME]``: a rail as measured.

    Attributes:
        section: name of a tube section of the library that gives what is not typed here.
        width: outside width, across the vehicle [mm].
        depth: outside height; checked against a measured upper edge [mm].
        corner_radius: outside corner radius of the section [mm].
        wall: thickness of its wall, for the legs of welds; none where it is not known [mm].
        open: whether it is an open section, a channel, whose flanges end in free edges.
        lower_edge: stations, x rising, or a table; none for a straight rail at y = 0 [mm].
        upper_edge: likewise, if it was measured too; default the lower edge moved up by the depth.
        mirror_from: name of the other side's rail, if this one was not measured.
        other_side: name of the other side's rail, to be compared with.
        difference: between the two sides that is a warning [mm].
    """

    section: Text | None = None
    width: Size
    depth: Size
    corner_radius: Margin = 0.0
    wall: Size | None = None
    open: bool = False
    lower_edge: EdgeEntry | None = None
    upper_edge: EdgeEntry | None = None
    mirror_from: Name | None = None
    other_side: Name | None = None
    difference: Margin = DIFFERENCE

    @model_validator(mode="after")
    def _corners_meet(self, info: ValidationInfo) -> Self:
        most, reading = min(self.width, self.depth) / 2, info.context
        known = not (isinstance(reading, Reading) and reading.broken)  # else a width may be wrong
        for key, size in (("corner_radius", self.corner_radius), ("wall", self.wall or 0.0)):
            if known and size > most:
                raise ValueError(
                    in_job_unit(
                        f"{key} = {size:g} mm is more than half the rail's smaller side; at most "
                        f"{most:g} mm",
                        info,
                    )
                )
        return self

    @cached_property
    def lower(self) -> Path:
        """The lower edge [mm]."""
        if self.lower_edge is not None:
            return self.lower_edge.path
        return Path.of([Segment(-FAR, 0.0, FAR, 0.0)])

    @cached_property
    def upper(self) -> Path:
        """The upper edge [mm].

        Raises:
            GeometryError: the lower edge cannot be followed at the rail's depth.
        """
        return (
            self.upper_edge.path if self.upper_edge is not None else self.lower.offset(self.depth)
        )

    def above(self, inset: float, x0: float, x1: float) -> Path:
        """Return the lower edge, moved up by ``inset`` square to itself, from x0 to x1 [mm].

        Raises:
            GeometryError: beyond the measured stations, or the edge is too rough for the inset.
        """
        self._need_measured("lower_edge", self.lower, x0, x1)
        return self.lower.offset(inset).between(x0, x1)

    def below(self, inset: float, height: float, x0: float, x1: float) -> Path:
        """Return the edge ``inset`` below the upper edge, from x0 to x1 [mm].

        Where the upper edge was not measured it is the lower edge moved up by ``height``.

        Raises:
            GeometryError: beyond the measured stations, or the edge is too rough for the inset.
        """
        if self.upper_edge is None:
            return self.above(height, x0, x1)
        self._need_measured("upper_edge", self.upper, x0, x1)
        return self.upper.offset(-inset).between(x0, x1)

    def _need_measured(self, name: str, path: Path, x0: float, x1: float) -> None:
        first, last = path.start[0], path.end[0]
        if x0 < first - 1e-6 or x1 > last + 1e-6:
            raise GeometryError(
                f"the plate reaches from x = {x0:g} to {x1:g} mm, but the rail is measured from "
                f"x = {first:g} to {last:g} mm ({name}); add a station or shorten the plate"
            )

    def edge(self, inset: float, x0: float, x1: float) -> list[Point]:
        """Return points along the lower edge moved up by ``inset``, to be drawn [mm].

        Raises:
            GeometryError: beyond the measured stations, or the edge is too rough for the inset.
        """
        chain = self.above(inset, x0, x1).segments
        steps = [(s, max(1, ceil(abs(s.sweep) / STEP))) for s in chain]
        return [chain[0].start, *(s.at(k / n) for s, n in steps for k in range(1, n + 1))]

    def room(self, point: Point) -> float:
        """Return the distance from ``point`` to the lower edge, positive below it [mm]."""
        away = self.lower.distance(point)
        return away if point[1] < self.lower.height(point[0]) else -away

    def side(self, x0: float, x1: float) -> Outline:
        """Return the rail's side from x0 to x1, as far as it was measured [mm].

        Raises:
            GeometryError: its upper edge cannot be drawn.
        """
        x0 = max(x0, self.lower.start[0], self.upper.start[0])
        x1 = min(x1, self.lower.end[0], self.upper.end[0])
        low, high = self.lower.between(x0, x1), self.upper.between(x0, x1)
        back = [s.reversed() for s in reversed(high.segments)]
        front, rear = chain([low.end, high.end]), chain([high.start, low.start])
        return outline_of([*low.segments, *front, *back, *rear])

    def shelf_above(self, path: Path) -> float:
        """Return how far a plate's edge stays below the upper edge; negative above it [mm]."""
        points = [p for s in path.segments for p in (s.start, s.at(0.5), s.end)]
        x0, x1 = path.start[0], path.end[0]
        over = [y - self.upper.height(x) for x, y in points]
        over += [path.height(s.x0) - s.y0 for s in self.upper.segments if x0 < s.x0 < x1]
        return -max(over) if max(over) > 0 else path.gap(self.upper)
