"""Bolt patterns: a circle, a rectangle, two rows."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Literal, Self

from pydantic import Field, model_validator

from partgen.entries.joint import BoltSize, HoleFit
from partgen.fields import Angle, At, Entry, Length, Size
from partgen.geometry.segment import Point
from partgen.plates.plate import Hole


class BoltPattern(Entry):
    """Bolt holes in a pattern.

    Attributes:
        shape: "circle", "rectangle" (round its edge) or "two-rows".
        bolt: what goes through each.
        fit: clearance of the holes, close, normal or loose; or a diameter [mm].
        at: middle of the pattern [mm].
        angle: turned anticlockwise [degrees].
        circle: diameter of the circle through the holes [mm].
        size: width and height of the rectangle, or length and distance of the two rows [mm].
        count: holes on the circle; for a rectangle or two rows, holes along its width.
        along: for a rectangle, holes along its height.
        shift: of the upper row against the lower [mm].
    """

    shape: Literal["circle", "rectangle", "two-rows"] = "rectangle"
    bolt: BoltSize
    fit: HoleFit = "normal"
    at: At = (0.0, 0.0)
    angle: Angle = 0.0
    circle: Size | None = None
    size: tuple[Size, Size] | None = None
    count: int = Field(default=2, ge=1, le=60)
    along: int = Field(default=2, ge=2, le=60)
    shift: Length = 0.0

    @model_validator(mode="after")
    def _sizes_suit_shape(self) -> Self:
        round_ = self.shape == "circle"
        if (self.circle is not None) != round_ or (self.size is None) != round_:
            wanted = "circle" if round_ else "size"
            raise ValueError(f"shape '{self.shape}' takes '{wanted}' and no other size")
        if self.count < 2:
            raise ValueError(f"count = {self.count}: a pattern has at least 2 holes")
        return self

    def holes(self, name: str = "bolt") -> list[Hole]:
        """Return the holes, numbered anticlockwise, or row by row."""
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        diameter = self.bolt.hole(self.fit)
        return [
            Hole(
                f"{name}-{k}",
                self.at[0] + c * x - s * y,
                self.at[1] + s * x + c * y,
                diameter,
                self.bolt,
            )
            for k, (x, y) in enumerate(self._points(), 1)
        ]

    def _points(self) -> list[Point]:
        if self.shape == "circle":
            radius = (self.circle or 0.0) / 2
            turns = [radians(360 * k / self.count) for k in range(self.count)]
            return [(radius * cos(t), radius * sin(t)) for t in turns]
        width, height = self.size or (0.0, 0.0)
        across = [width * (k / (self.count - 1) - 0.5) for k in range(self.count)]
        if self.shape == "two-rows":
            rows = ((-height / 2, 0.0), (height / 2, self.shift))
            return [(x + shift, y) for y, shift in rows for x in across]
        up = [height * (k / (self.along - 1) - 0.5) for k in range(1, self.along - 1)]
        low, high = [(x, -height / 2) for x in across], [(x, height / 2) for x in across[::-1]]
        right, left = [(width / 2, y) for y in up], [(-width / 2, y) for y in up[::-1]]
        return [*low, *right, *high, *left]
