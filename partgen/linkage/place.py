"""Where rails and parts lie in the vehicle, and which hole of a part is meant."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from partgen.errors import PartgenError
from partgen.expression import is_expression
from partgen.fields import Angle, Entry, Length, Margin, Name, Reading

At3 = tuple[Length, Length, Length]


def _hole(value: Any, info: ValidationInfo) -> Any:
    """Return a hole's number where it is typed as one, or as an expression of measures."""
    if not is_expression(value):
        return value
    reading = info.context if isinstance(info.context, Reading) else Reading()
    try:
        number = reading.count(value)
    except PartgenError as error:
        raise ValueError(str(error)) from None
    if abs(number - round(number)) > 1e-6:
        raise ValueError(f"'{value}' is {number:g}; holes are counted 1, 2, 3")
    return round(number)


_HOLE_SCHEMA = {
    "anyOf": [{"type": "integer", "minimum": 1}, {"type": "string"}],
    "description": "a bolt hole: its name, its number from 1, or '= which_hole'",
}
HoleName = Annotated[Name | int, BeforeValidator(_hole), WithJsonSchema(_HOLE_SCHEMA)]


class PartPlace(Entry):
    """``[linkage.place.PART]``: where a part's drawing lies in the vehicle, left side.

    Attributes:
        on: what carries it, "axle" or "frame".
        station: of the middle between its ears along the axle tube, from the vehicle's middle [mm].
        at: in place of that, its drawing's zero in vehicle axes [mm].
        clock: its drawing turned in the side view, forward to the right, anticlockwise [degrees].
        reach: from there to the drawing's zero, along the drawing's y [mm].
        turn: seen from above, anticlockwise, after that; default by the part's own ``skew``,
            where it has one [degrees].
    """

    on: Literal["axle", "frame"] = "axle"
    station: Margin | None = None
    at: At3 | None = None
    clock: Angle = Field(default=0.0, ge=-180, le=180)
    reach: Length = 0.0
    turn: Angle | None = Field(default=None, ge=-180, le=180)

    @model_validator(mode="after")
    def _one_zero(self) -> Self:
        if (self.station is None) == (self.at is None):
            raise ValueError("give either 'station' along the axle, or 'at' = [x, y, z]")
        if self.station is not None and self.on == "frame":
            raise ValueError("'station' is along the axle; on the frame give 'at' = [x, y, z]")
        return self


class RailPlace(Entry):
    """``[linkage.rail.NAME]``: where the rail's side view lies in the vehicle, left side.

    Attributes:
        at: its zero in vehicle axes; y to the middle of the rail's width [mm].
        slope: how the side view's x axis rises forward [degrees].
        plan: how it runs outward (to the left) forward [degrees].
    """

    at: At3
    slope: Angle = Field(default=0.0, ge=-60, le=60)
    plan: Angle = Field(default=0.0, ge=-60, le=60)
