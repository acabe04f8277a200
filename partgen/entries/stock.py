"""Plate in the rack: a thickness of a material, and the sheets of it, whole or offcuts.

A plate is written the way it is ordered: ``6 mm S355``, ``1/4 in A36``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

import shapely
from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from partgen.dxf.read import read_pieces
from partgen.entries.dxf_file import FILE_SCHEMA, drawn
from partgen.errors import PartgenError
from partgen.fields import At, Count, Entry, Name, Reading, Size
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.measure import length_text
from partgen.reference.material import Material, material


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
    return read_stock(value, info.context if isinstance(info.context, Reading) else Reading())


def read_stock(value: Any, reading: Reading) -> Stock:
    """Return the plate that ``value`` orders.

    Raises:
        ValueError: it is no thickness and material, or out of range.
    """
    thickness, _, grade = str(value).strip().rpartition(" ")
    if not isinstance(value, str) or not thickness:
        raise ValueError(f"{value!r} is no plate; write thickness and material, '6 mm S355'")
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


class KeepOut(Entry):
    """A place on a sheet that nothing is laid on: rust, an old hole.

    Attributes:
        at: its middle, from the sheet's lower left corner [mm].
        size: along x and y [mm].
    """

    at: At
    size: tuple[Size, Size]

    @property
    def outline(self) -> Outline:
        """Its edge [mm]."""
        return rectangle(*self.size, 0.0, self.at)


@dataclass(frozen=True)
class SheetShape:
    """A sheet, lower left at (0, 0).

    Attributes:
        outline: its edge [mm].
        openings: what is cut out of it already [mm].
    """

    outline: Outline
    openings: tuple[Outline, ...] = ()


def _shape(value: Any, info: ValidationInfo) -> SheetShape | None:
    if value is None or isinstance(value, SheetShape):
        return value
    file = drawn(value, info)
    try:
        pieces = read_pieces(file.data, where=file.name, unit=info.data.get("unit"))
    except PartgenError as error:
        raise ValueError("; ".join(error.problems)) from None
    if len(pieces) != 1:
        raise ValueError(f"'{file.name}' has {len(pieces)} outside edges; a sheet has one")
    *openings, edge = pieces[0]
    x, y = edge.box[:2]
    return SheetShape(edge.moved(-x, -y), tuple(o.moved(-x, -y) for o in openings))


SheetOutline = Annotated[SheetShape | None, BeforeValidator(_shape), WithJsonSchema(FILE_SCHEMA)]
Cost = Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)]


class SheetEntry(Entry):
    """``[[sheet]]``: sheets in the rack, whole or offcuts.

    Attributes:
        plate: thickness and material.
        size: length and width of a rectangle; or give ``outline`` [mm].
        unit: "mm" or "in", for a drawing that states no unit.
        outline: a DXF file: outside edge, and in it what is cut out already.
        keep_out: places that nothing is laid on.
        count: how many there are.
        cost: of one, in your money; without it, paid for already [-].
        name: shown on pictures and in file names.
    """

    plate: PlateStock
    size: tuple[Size, Size] | None = None
    unit: Literal["mm", "in"] | None = None
    outline: SheetOutline = None
    keep_out: tuple[KeepOut, ...] = Field(default=(), max_length=200)
    count: Count = 1
    cost: Cost | None = None
    name: Name | None = None

    @model_validator(mode="after")
    def _is_one_shape(self) -> SheetEntry:
        if (self.size is None) == (self.outline is None):
            raise ValueError("give size = [length, width] or outline = a DXF file, one of them")
        edge = self.shape.outline.polygon("outside")
        views: list[shapely.Polygon] = [o.polygon("inside") for o in self.shape.openings]
        for number, place in enumerate(self.keep_out, 1):
            view = shapely.box(*place.outline.box)
            if not edge.intersects(view):
                raise ValueError(f"keep_out[{number}] is off the sheet; its place is from the "
                                 "lower left corner")  # fmt: skip
            if any(view.intersects(other) for other in views):
                raise ValueError(f"keep_out[{number}] meets another one or an opening of the "
                                 "sheet; make one of them")  # fmt: skip
            views.append(view)
        return self

    @property
    def shape(self) -> SheetShape:
        """Edge and openings; keep-outs are not in it."""
        if self.outline is not None:
            return self.outline
        width, height = self.size or (0.0, 0.0)
        return SheetShape(rectangle(width, height, 0.0, (width / 2, height / 2)))

    @property
    def openings(self) -> tuple[Outline, ...]:
        """Everything nothing is laid on: what is cut out already, and keep-outs [mm]."""
        return (*self.shape.openings, *(place.outline for place in self.keep_out))
