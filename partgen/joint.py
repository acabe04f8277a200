"""A joint at a link's end: bushing, rod end or ball, and the bolt through it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, WithJsonSchema

from partgen.bolt import Bolt, bolt
from partgen.errors import PartgenError
from partgen.fields import Angle, Entry, Margin, Size

Fit = Literal["close", "normal", "loose"]
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


class Joint(Entry):
    """``[joint.NAME]``.

    Attributes:
        width: face to face of what the bolt clamps [mm].
        body_diameter: of the housing, bushing or ball body [mm].
        bolt: the bolt through it.
        hole: clearance of the bolt's hole in the ears: close, normal or loose.
        side_clearance: between joint and ears, both sides together, before welding [mm].
        nut_height: of the nut in hand, if not the plain one of the bolt's table [mm].
        housing_width: of the housing the bush or ball sits in [mm].
        max_misalignment: what the joint allows either way [degrees].
    """

    width: Size
    body_diameter: Size
    bolt: BoltSize
    hole: Fit = "close"
    side_clearance: Margin = SIDE_CLEARANCE
    nut_height: Size | None = None
    housing_width: Size | None = None
    max_misalignment: Angle | None = None
