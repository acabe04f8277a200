"""Loads and strength in the job file, for screening only: the user's own force, direction, factor.

Axes: ISO 8855, x forward, y left, z up. An angle is in the rail's side view, from forward upwards.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, isfinite, radians, sin
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from partgen.errors import PartgenError, nearest
from partgen.fields import Angle, Entry, Name, Size
from partgen.measure import parse_force, parse_stress
from partgen.strength.bolt_grade import NOMINAL_CLASSES, known_grades


def _read(parse: Callable[[Any], float]) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        try:
            return value if isinstance(value, float) else parse(value)
        except PartgenError as error:
            raise ValueError(str(error)) from None

    return read


Force = Annotated[
    float,
    BeforeValidator(_read(parse_force)),
    WithJsonSchema({"type": "string", "description": "a force: '8 kN', '1800 lbf'"}),
]
Stress = Annotated[
    float,
    BeforeValidator(_read(parse_stress)),
    WithJsonSchema({"type": "string", "description": "a strength: '355 MPa', '70 ksi'"}),
]


def _grade(value: Any) -> Any:
    known = [*known_grades("metric"), *known_grades("inch")]
    if isinstance(value, str) and value not in {*known, *NOMINAL_CLASSES}:
        raise ValueError(f"no such grade; {nearest(value[:10], known)}")
    return value


UserFactor = Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)]
Direction = tuple[float, float, float]


class LinkTube(Entry):
    """The link between two joints, a straight round tube or bar.

    Attributes:
        diameter: outside [mm].
        wall: thickness; none for a bar [mm].
        length: between joint centres [mm].
        strength: least yield strength, with its unit [MPa].
        ends: how its ends are held.
    """

    diameter: Size
    wall: Size | None = None
    length: Size
    strength: Stress
    ends: Literal["pinned", "fixed", "fixed-pinned", "fixed-free"] = "pinned"

    @model_validator(mode="after")
    def _wall_fits(self) -> Self:
        if self.wall is not None and self.wall > self.diameter / 2:
            raise ValueError("wall must be at most half the diameter")
        return self


class Load(Entry):
    """``[[load]]``: a force at a mount's joint.

    Attributes:
        mount: name of the link mount.
        force: with its unit [N].
        direction: of the force on the mount, any length.
        angle: instead of a direction, in the rail's side view [degrees].
        factor: the user's own, times the force.
        link: the link that brings the force, if it is to be screened too.
        name: shown in findings.
    """

    mount: Name
    force: Force
    direction: Direction | None = None
    angle: Angle | None = None
    factor: UserFactor
    link: LinkTube | None = None
    name: Name | None = None

    @model_validator(mode="after")
    def _one_direction(self) -> Self:
        if (self.direction is None) == (self.angle is None):
            raise ValueError("give either 'direction' = [x, y, z] or 'angle'")
        if self.direction is not None and not (
            all(isfinite(v) for v in self.direction) and 1e-9 < hypot(*self.direction) < 1e9
        ):
            raise ValueError("direction must be three numbers, not all 0")
        return self

    @property
    def unit(self) -> Direction:
        """Direction with length 1."""
        if self.direction is None:
            turn = radians(self.angle or 0.0)
            return cos(turn), 0.0, sin(turn)
        size = hypot(*self.direction)
        return self.direction[0] / size, self.direction[1] / size, self.direction[2] / size


class StrengthEntry(Entry):
    """``[strength]``: what the screening has to know.

    Attributes:
        bolt_grade: SAE grade of inch bolts ("8") or property class of metric ones ("10.9").
        threads: whether threads lie in the shear plane; default as the bolt fit finds it.
        weld_metal: strength of the weld metal, with its unit [MPa].
        design_factor: Nd of ASME BTH-1 where no load brings a factor.
    """

    bolt_grade: Annotated[str, BeforeValidator(_grade)] | None = None
    threads: Literal["in", "out"] | None = None
    weld_metal: Stress | None = None
    design_factor: UserFactor = 3.0
