"""Kinds of value in a job file: lengths, angles, names; read in the job's unit and measures.

Models built from these kinds are validated with a ``Reading`` as context, so that every field ends
up in mm or degrees and every mistake of a file is found in one pass.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationInfo,
    WithJsonSchema,
)

from partgen.errors import MeasureError, PartgenError
from partgen.expression import evaluate, is_expression, names_in, summed_names
from partgen.measure import in_unit, parse_angle, parse_length, per_unit


class Millimetres(float):
    """A length already in mm, whatever the unit it stands among: a record of a library."""


@dataclass(frozen=True)
class Reading:
    """What a length needs to be read.

    Attributes:
        unit: unit of bare numbers and of expressions, "mm" or "in".
        measures: named lengths [mm].
        broken: names of measures that could not be read; reported once, at their own place.
        folder: of the job file, where the files it names are looked for.
        typed: the measures as they were typed.
        numbers: measures that number a hole and are no length; noted as they are read.
    """

    unit: str = "mm"
    measures: dict[str, float] = field(default_factory=dict)
    broken: frozenset[str] = frozenset()
    folder: Path | None = None
    typed: dict[str, Any] = field(default_factory=dict)
    numbers: set[str] = field(default_factory=set)

    @cached_property
    def bare(self) -> dict[str, float]:
        """The measures as bare numbers, as expressions take them [the unit]."""
        factor = per_unit(self.unit)
        return {name: mm / factor for name, mm in self.measures.items()}

    def length(self, value: Any) -> float:
        """Return a length, or an expression of measures [mm].

        Raises:
            MeasureError: it cannot be read.
        """
        if isinstance(value, Millimetres):
            return float(value)
        name = value.strip() if isinstance(value, str) else None
        if name in self.measures or name in self.broken:
            raise MeasureError(f"'{value}' is a measure; to use it write '= {name}'")
        if not is_expression(value):
            return parse_length(value, self.unit)
        if names_in(value) & self.broken:
            return 1.0
        return parse_length(evaluate(value, self.bare), self.unit)

    def count(self, value: str) -> float:
        """Return the value of an expression of measures that counts something, and has no unit.

        The measures it adds up count too, and those that they are made of.

        Raises:
            MeasureError: it cannot be read.
        """
        number = self.length(value) / per_unit(self.unit)
        waiting = summed_names(value) & self.measures.keys()
        while waiting:
            name = waiting.pop()
            self.numbers.add(name)
            if is_expression(self.typed.get(name)):
                waiting |= (summed_names(self.typed[name]) & self.measures.keys()) - self.numbers
        return number


def in_job_unit(text: str, info: ValidationInfo) -> str:
    """Return a message of a model's validator with its lengths [mm] in the job's unit."""
    return in_unit(text, info.context.unit) if isinstance(info.context, Reading) else text


def length(value: Any, info: ValidationInfo) -> float:
    """Return a length of a job file [mm]; for validators.

    Raises:
        ValueError: it cannot be read.
    """
    reading = info.context if isinstance(info.context, Reading) else Reading()
    try:
        return reading.length(value)
    except PartgenError as error:
        raise ValueError(str(error)) from None


def _angle(value: Any) -> float:
    try:
        return parse_angle(value)
    except PartgenError as error:
        raise ValueError(str(error)) from None


_LENGTH_SCHEMA = {
    "anyOf": [{"type": "number"}, {"type": "string"}],
    "description": "a length: 66.7, '66.7 mm', '2-5/8 in', or '= joint_width + 3'",
}
_ANGLE_SCHEMA = {
    "anyOf": [{"type": "number"}, {"type": "string"}],
    "description": "an angle: 45 or '45 deg'",
}

Length = Annotated[float, BeforeValidator(length), WithJsonSchema(_LENGTH_SCHEMA)]
Size = Annotated[float, Field(gt=0), BeforeValidator(length), WithJsonSchema(_LENGTH_SCHEMA)]
Margin = Annotated[float, Field(ge=0), BeforeValidator(length), WithJsonSchema(_LENGTH_SCHEMA)]
Angle = Annotated[float, BeforeValidator(_angle), WithJsonSchema(_ANGLE_SCHEMA)]
At = tuple[Length, Length]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=40)]
Text = Annotated[
    str, StringConstraints(min_length=1, max_length=120, pattern=r"^[^\x00-\x1f\x7f]*$")
]
Count = Annotated[int, Field(ge=1, le=10_000, strict=True)]


def whole_number(text: str) -> int | None:
    """Return a count, or a number in a list, of at most nine plain digits; None if it is none.

    Examples:
        >>> whole_number("12"), whole_number("-1"), whole_number("9" * 5000)
        (12, None, None)
    """
    plain = text.isascii() and text.isdigit() and len(text) <= 9
    return int(text) if plain else None


def descriptions(model: type[BaseModel]) -> dict[str, str]:
    """Return what the docstrings of a table and its parents say of each key."""
    texts: dict[str, str] = {}
    for parent in reversed(model.__mro__):
        texts |= dict(re.findall(r"^\s+(\w+): (.+)$", parent.__doc__ or "", re.MULTILINE))
    return texts


class Entry(BaseModel):
    """A table of the job file: unknown keys are mistakes, values do not change once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)
