"""Plate in the rack: a thickness of a material, and the sheets of it.

A plate is written the way it is ordered: ``6 mm S355``, ``1/4 in A36``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from partgen.errors import PartgenError
from partgen.fields import Count, Entry, Name, Reading, Size
from partgen.material import Material, material
from partgen.measure import length_text


@dataclass(frozen=True, order=True)
class Stock:
    """A thickness of a material.

    Attributes:
        thickness: nominal [mm].
        grade: name of the material.
    """

    thickness: float
    grade: str

    @property
    def material(self) -> Material:
        """The material behind the grade."""
        return material(self.grade)

    def text(self, unit: str) -> str:
        """Return the plate as it is ordered, in ``unit``."""
        return f"{length_text(self.thickness, unit)} {self.grade}"


def _stock(value: Any, info: ValidationInfo) -> Stock:
    if isinstance(value, Stock):
        return value
    thickness, _, grade = str(value).strip().rpartition(" ")
    if not isinstance(value, str) or not thickness:
        raise ValueError(f"{value!r} is no plate; write thickness and material, '6 mm S355'")
    reading = info.context if isinstance(info.context, Reading) else Reading()
    try:
        size, kind = reading.length(thickness), material(grade)
    except PartgenError as error:
        raise ValueError(str(error)) from None
    if not 0.5 <= size <= 100:
        raise ValueError(f"'{value}': thickness {size:g} mm is outside 0.5 to 100 mm")
    return Stock(size, kind.name)


PlateStock = Annotated[
    Stock,
    BeforeValidator(_stock),
    WithJsonSchema({"type": "string", "description": "thickness and material: '6 mm S355'"}),
]


class SheetEntry(Entry):
    """``[[sheet]]``: sheets in the rack."""

    plate: PlateStock
    size: tuple[Size, Size]
    count: Count = 1
    name: Name | None = None
