"""Features inside a plate: plug-weld slots, drain holes, lightening and other openings."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Literal, Self

from pydantic import Field, model_validator

from partgen.fields import Angle, At, Entry, Margin, Name, Size, Text
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.geometry.oval import oval
from partgen.geometry.segment import Point

RADIUS = 10.0  # mm, corners of openings and cutouts; common practice, no source
DRAIN = 10.0  # mm; common practice, no source


class Feature(Entry):
    """What every feature has.

    Attributes:
        at: where, in the part's drawing [mm].
        plates: names of the part's plates that get it; default all.
        name: shown in findings.
    """

    at: At
    plates: tuple[Text, ...] = Field(default=(), max_length=20)
    name: Name | None = None


class Slot(Feature):
    """A plug-weld slot with round ends.

    Attributes:
        size: length over all and width [mm].
        angle: of its length, anticlockwise [degrees].
    """

    size: tuple[Size, Size]
    angle: Angle = 0.0

    @property
    def ends(self) -> tuple[Point, Point]:
        """Both ends of its length over all, in the middle of its width [mm]."""
        (x, y), half, turn = self.at, self.size[0] / 2, radians(self.angle)
        dx, dy = half * cos(turn), half * sin(turn)
        return (x - dx, y - dy), (x + dx, y + dy)

    def outline(self) -> Outline:
        """Return its edge."""
        return Outline.slot(*self.at, *self.size, self.angle)


class Drain(Feature):
    """A round hole that lets water out.

    Attributes:
        diameter: as cut [mm].
    """

    diameter: Size = DRAIN

    def outline(self) -> Outline:
        """Return its edge."""
        return Outline.circle(*self.at, self.diameter)


class Opening(Feature):
    """A lightening opening, or one for a shaft, a line or a strap.

    Attributes:
        shape: "oval" (four arcs), "obround" (a slot), "rounded" (a rectangle) or "round".
        size: length along x and width along y before turning [mm].
        diameter: of a round one [mm].
        radius: corners of a rounded one [mm].
        angle: turned anticlockwise [degrees].
    """

    shape: Literal["oval", "obround", "rounded", "round"] = "oval"
    size: tuple[Size, Size] | None = None
    diameter: Size | None = None
    radius: Margin = RADIUS
    angle: Angle = 0.0

    @model_validator(mode="after")
    def _size_suits_shape(self) -> Self:
        wanted, other = ("diameter", "size") if self.shape == "round" else ("size", "diameter")
        if getattr(self, wanted) is None or getattr(self, other) is not None:
            raise ValueError(f"shape '{self.shape}' takes '{wanted}' and not '{other}'")
        return self

    def outline(self) -> Outline:
        """Return its edge."""
        if self.diameter is not None or self.size is None:
            return Outline.circle(*self.at, self.diameter or 0.0)
        if self.shape == "oval":
            return oval(*self.size, self.at, self.angle)
        if self.shape == "obround":
            return Outline.slot(*self.at, *self.size, self.angle)
        return rectangle(*self.size, self.radius, self.at).turned(self.angle, self.at)
