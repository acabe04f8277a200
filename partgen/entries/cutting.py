"""How the shop cuts: kerf, spacing on the sheet, smallest features; from ``profiles/cutting``."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError, model_validator

from partgen.entries.prices import Prices
from partgen.errors import MeasureError, ProfileError
from partgen.fields import Entry, Length, Margin, Reading, Size, Text
from partgen.file_content import beside, file_content, why
from partgen.reference import profile_files
from partgen.toml_text import toml_data

Factor = Annotated[float, Field(gt=0, le=10, allow_inf_nan=False)]
Seconds = Annotated[float, Field(ge=0, le=60, allow_inf_nan=False)]
Money = Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)]


class Feed(Entry):
    """``[[feed]]``: speed and pierce at one thickness.

    Attributes:
        thickness: of the plate [mm].
        speed: along the cut in a minute [mm].
        pierce: dwell from arc start until the torch moves [s].
    """

    thickness: Size
    speed: Size
    pierce: Seconds


class Cutting(Entry):
    """A cutting process as one shop runs it; every number is the shop's own to edit.

    Attributes:
        name: shown in the packet.
        source: where the numbers come from.
        kerf: width of the cut [mm].
        part_gap: least distance between two plates on a sheet [mm].
        sheet_margin: least distance from the sheet's edge [mm].
        web_per_thickness: least web as a multiple of the plate's thickness [-].
        least_web: least web whatever the thickness [mm].
        least_hole_per_thickness: a hole smaller than this many thicknesses is marked, not cut [-].
        good_hole_per_thickness: a hole smaller than this many thicknesses is cut with a note [-].
        edge: how outside edges are cut: "cut" thermally, or "sheared".
        hole_error: how much smaller round holes come out than path and kerf say [mm].
        slot_clearance: how much wider than the plate a slot must be drawn to take it [mm].
        drill_allowance: metal a pilot leaves on the diameter, to drill the hard edge away [mm].
        centre_mark: length of the two lines that cross on a drill centre [mm].
        lead: lead-in, from pierce to cut [mm].
        lead_out: lead-out; 0 for none [mm].
        pierce_clearance: least distance from a pierce to any other cut and the sheet's edge [mm].
        micro_joint: metal left where a plate is held by micro-joints [mm].
        text_height: of scribed letters [mm].
        least_text_height: letters shrink no further than this [mm].
        tolerance_class: of ISO 9013, 1 or 2 [-].
        rapid: travel between cuts in a minute [mm].
        lift: seconds from one cut's end to the next one's pierce, travel aside [s].
        slats: distance between the table's slats; plates that may tip are named; 0 for none [mm].
        cool: what lies nearer than this to the cut just made waits while another cut can be made,
            so that heat leaves; 0 for the nearest next [mm].
        cost_per_hour: of the machine, in your own money; 0 if not known [-].
        feed: speed and pierce by thickness, thinnest first.
        prices: the shop's own, if it keeps them with its process.
    """

    name: Text
    source: Text
    kerf: Size
    part_gap: Size
    sheet_margin: Margin
    web_per_thickness: float
    least_web: Size
    least_hole_per_thickness: Factor
    good_hole_per_thickness: Factor
    hole_error: Length
    slot_clearance: Length
    drill_allowance: Margin
    centre_mark: Size
    lead: Size
    lead_out: Margin
    pierce_clearance: Margin
    micro_joint: Size
    text_height: Size
    least_text_height: Size
    tolerance_class: Literal[1, 2]
    rapid: Size
    lift: Seconds
    cost_per_hour: Money
    feed: tuple[Feed, ...] = Field(max_length=100)
    edge: Literal["cut", "sheared"] = "cut"
    slats: Margin = 0.0
    cool: Margin = 0.0
    prices: Prices = Prices()

    @model_validator(mode="after")
    def _rows_in_order(self) -> Cutting:
        if any(a.thickness >= b.thickness for a, b in pairwise(self.feed)):
            raise ValueError("feed: rows go from the thinnest plate to the thickest")
        if self.least_text_height > self.text_height:
            raise ValueError(
                f"least_text_height, {self.least_text_height:g} mm, is more than text_height, "
                f"{self.text_height:g} mm; change both"
            )
        return self

    def web(self, thickness: float) -> float:
        """Return the least web of a plate of ``thickness`` [mm]."""
        return max(self.least_web, self.web_per_thickness * thickness)

    def feed_at(self, thickness: float) -> Feed | None:
        """Return speed and pierce at a thickness, between two rows in proportion; else None."""
        for row in self.feed:
            if abs(row.thickness - thickness) < 1e-6:
                return row
        for low, high in pairwise(self.feed):
            if low.thickness < thickness < high.thickness:
                part = (thickness - low.thickness) / (high.thickness - low.thickness)
                return Feed.model_construct(
                    thickness=thickness,
                    speed=low.speed + part * (high.speed - low.speed),
                    pierce=low.pierce + part * (high.pierce - low.pierce),
                )
        return None


class CuttingChanges(Entry):
    """``[cutting]``: what a job changes of its cutting profile."""

    kerf: Size | None = None
    part_gap: Size | None = None
    sheet_margin: Margin | None = None
    web_per_thickness: Factor | None = None
    least_web: Size | None = None
    least_hole_per_thickness: Factor | None = None
    good_hole_per_thickness: Factor | None = None
    hole_error: Length | None = None
    slot_clearance: Length | None = None
    drill_allowance: Margin | None = None
    centre_mark: Size | None = None
    lead: Size | None = None
    lead_out: Margin | None = None
    pierce_clearance: Margin | None = None
    micro_joint: Size | None = None
    text_height: Size | None = None
    least_text_height: Size | None = None
    tolerance_class: Literal[1, 2] | None = None
    rapid: Size | None = None
    lift: Seconds | None = None
    cost_per_hour: Money | None = None
    feed: tuple[Feed, ...] | None = Field(default=None, max_length=100)
    edge: Literal["cut", "sheared"] | None = None
    slats: Margin | None = None
    cool: Margin | None = None


def cutting(
    name: str, changes: dict[str, Any] | None = None, folder: Path | None = None
) -> Cutting:
    """Return a cutting profile, with the job's own ``changes`` in mm.

    Args:
        name: of a profile, or of a file of your own that ends in ``.toml``.
        changes: fields to set differently.
        folder: of the job that names a file of its own, which lies there or below; None for a file
            that a command names, wherever it is.

    Raises:
        ProfileError: the profile is unknown, or its file incomplete.
    """
    own = name.endswith(".toml")
    data = _own(name, folder) if own else profile_files.read("cutting", name)
    where = name if own else f"profiles/cutting/{name}.toml"
    return read({**data, **(changes or {})}, where)


def read(data: dict[str, Any], where: str) -> Cutting:
    """Return the profile in parsed TOML; ``where`` names it in messages.

    Raises:
        ProfileError: it is incomplete, or holds mistakes: one line for each.
    """
    try:
        return Cutting.model_validate(data, context=Reading("mm"))
    except ValidationError as error:
        raise ProfileError(
            [
                ": ".join(
                    [
                        where,
                        *filter(None, [".".join(str(p) for p in e["loc"])]),
                        e["msg"].removeprefix("Value error, "),
                    ]
                )
                for e in error.errors()
            ]
        ) from None


def _own(name: str, folder: Path | None) -> dict[str, Any]:
    try:
        if folder is not None:
            return toml_data(beside(folder, name, kind="profile"), name)
        return toml_data(file_content(Path(name), kind="profile"), name)
    except MeasureError as error:
        raise ProfileError(f"'{name}': {error}") from None
    except OSError as error:
        raise ProfileError(f"{name}: {why(error)}") from None
