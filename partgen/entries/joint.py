"""A joint at a link's end: bushing, rod end or ball, and the bolt through it."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from partgen.errors import PartgenError, nearest
from partgen.fields import Angle, Entry, Margin, Size, Text, in_job_unit, length
from partgen.reference.bolt import Bolt, bolt

NamedFit = Literal["close", "normal", "loose"]
FITS = get_args(NamedFit)
SIDE_CLEARANCE = 25.4 / 32  # mm in all, before welding; common practice, no source


def _bolt(value: Any) -> Bolt:
    if isinstance(value, Bolt):
        return value
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is no bolt; write 'M16' or '3/4-10'")
    try:
        return bolt(value)
    except PartgenError as error:
        raise ValueError(str(error)) from None


BoltSize = Annotated[
    Bolt,
    BeforeValidator(_bolt),
    WithJsonSchema({"type": "string", "description": "a bolt: 'M16', '3/4-10', '5/8 in'"}),
]


def _hole(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and value.replace(" ", "").isalpha():
        if value not in FITS:
            raise ValueError(
                f"'{value}' is no clearance; {nearest(value, FITS)}; or give the hole's diameter"
            )
        return value
    return length(value, info)


HoleFit = Annotated[
    NamedFit | float,
    BeforeValidator(_hole),
    WithJsonSchema(
        {
            "anyOf": [{"enum": list(FITS)}, {"type": "number"}, {"type": "string"}],
            "description": "close, normal or loose, or the hole's diameter: 15.1, '.594 in'",
        }
    ),
]


class Joint(Entry):
    """``[joint.NAME]``.

    Attributes:
        like: name of a joint of the library that gives what is not typed here.
        nominal: typed as ``width``: face to face of what the bolt clamps [mm].
        measured: the same by calliper; it wins over ``width`` [mm].
        body_diameter: of the housing, bushing or ball body [mm].
        bolt: the bolt through it.
        bore: of the sleeve or ball [mm].
        bush_width: of the soft bush on a sleeve, which the ears must not pinch [mm].
        housing_width: of the housing the bush or ball sits in [mm].
        hole: clearance of its hole in the ears, close, normal or loose; or the diameter [mm].
        side_clearance: between joint and ears, both sides together, before welding [mm].
        nut_height: of the nut in hand, if not the plain one of the bolt's table [mm].
        bolt_length: of the bolt in hand, under its head [mm].
        shank: plain body of the bolt in hand, under its head to the thread [mm].
        max_misalignment: what the joint allows either way [degrees].
        note: anything to remember of it.
    """

    like: Text | None = None
    nominal: Size = Field(alias="width")
    measured: Size | None = None
    body_diameter: Size
    bolt: BoltSize
    bore: Size | None = None
    bush_width: Size | None = None
    housing_width: Size | None = None
    hole: HoleFit = "close"
    side_clearance: Margin = SIDE_CLEARANCE
    nut_height: Size | None = None
    bolt_length: Size | None = None
    shank: Size | None = None
    max_misalignment: Angle | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _shank_is_of_a_bolt(self, info: ValidationInfo) -> Self:
        if self.shank is not None and self.bolt_length is None:
            raise ValueError("'shank' is of the bolt in hand; give its 'bolt_length' too")
        if self.shank is not None and self.shank >= (self.bolt_length or 0.0):
            raise ValueError(
                in_job_unit(
                    f"shank = {self.shank:g} mm must be less than bolt_length = "
                    f"{self.bolt_length:g} mm; measure the plain part under the head",
                    info,
                )
            )
        return self

    @model_validator(mode="after")
    def _hole_is_known(self, info: ValidationInfo) -> Self:
        try:
            self.bolt.hole(self.hole)
        except PartgenError as error:
            raise ValueError(in_job_unit(str(error), info)) from None
        return self

    @property
    def width(self) -> float:
        """Face to face of what the bolt clamps: as measured, else nominal [mm]."""
        return self.nominal if self.measured is None else self.measured
