"""``partgen coupon``: the test piece and its form; from measured values to a cutting profile."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import Field, ValidationError

from partgen.cautions import CAUTIONS
from partgen.cut.coupon import Result, Size, pieces, sizes, solved
from partgen.cut.coupon_profile import profile_text
from partgen.cut.plan import Way, plan
from partgen.dxf.item import mark_items
from partgen.dxf.write import Unit, Version, write_items
from partgen.entries import cutting
from partgen.entries.cutting import Cutting
from partgen.entries.job_problems import problems_of
from partgen.entries.stock import PlateStock, Stock
from partgen.errors import PartgenError, nearest
from partgen.fields import Entry, Reading
from partgen.file_content import file_content, why
from partgen.measure import UNIT_WORDS, parse_length, per_unit, shown
from partgen.output.cut_proof import Expected
from partgen.output.folder import MANIFEST, write_all
from partgen.output.own_file import write_new
from partgen.output.proof import file_faults, nominal
from partgen.packet.data import as_json, digest
from partgen.sheets.cut_files import INSIDE_FIRST, cut_items, stock_slug
from partgen.sheets.cut_plans import Work
from partgen.toml_text import toml_data

FORM = "form.toml"


class FormHead(Entry):
    """``[coupon]`` of the form."""

    plate: PlateStock
    cutting: str
    unit: Unit
    thickness_measured: str | float = ""
    narrowest_slot_that_takes_the_plate: int | str = ""


class Form(Entry):
    """The form, filled in or not."""

    coupon: FormHead
    drawn: dict[str, float] = Field(max_length=100)
    measured: dict[str, str | float] = Field(max_length=100)


class PlateOnly(Entry):
    """A plate as typed on the command line."""

    plate: PlateStock


@dataclass(frozen=True)
class Coupon:
    """A test piece.

    Attributes:
        stock: what it is cut from.
        unit: of DXF and form.
        drawn: what its DXF holds.
        files: content by path in the output folder.
    """

    stock: Stock
    unit: Unit
    drawn: Expected
    files: dict[str, bytes]


@dataclass(frozen=True)
class Measured:
    """A form read back.

    Attributes:
        result: kerf, hole error, slot clearance.
        profile: the new cutting profile, as TOML.
        cutting: the same, read.
        unit: of the form.
    """

    result: Result
    profile: str
    cutting: Cutting
    unit: Unit


def coupon(plate: str, profile: str, unit: Unit, version: Version) -> Coupon:
    """Return the coupon of a plate and its form.

    Args:
        plate: thickness and material, as typed.
        profile: name of the cutting profile it is cut with.
        unit: of DXF and form.
        version: of the DXF.

    Raises:
        PartgenError: plate or profile cannot be read.
    """
    stock = _stock(plate, unit)
    process = cutting.cutting(profile)
    there = pieces(stock.thickness, process.kerf)
    drawing = plan(there, process, Way())
    comments = (
        f"coupon of {stock.text(unit)}, {process.name}",
        "cut it with no kerf set at the machine, measure it, fill in the form",
        INSIDE_FIRST,
    )
    items = [*mark_items(drawing.marks), *cut_items(drawing, one_layer=False)]
    plates = [(p.name, (*(o for _, o in p.openings), p.edge)) for p in there]
    drawn = Expected(plates, nominal(plates, Work()), marks=drawing.marks)
    files = {
        coupon_file(stock, unit): write_items(items, comments, unit=unit, version=version),
        FORM: _form(stock, process, profile, unit).encode("utf-8"),
    }
    data = {
        "coupon": stock.text(unit),
        "cautions": list(CAUTIONS),
        "files": {path: digest(content) for path, content in sorted(files.items())},
    }
    files[MANIFEST] = as_json(data)
    return Coupon(stock, unit, drawn, files)


def coupon_file(stock: Stock, unit: Unit) -> str:
    """Return the name of a coupon's DXF."""
    return f"coupon_{stock_slug(stock, unit)}_{unit}.dxf"


def write(made: Coupon, folder: Path) -> None:
    """Write a coupon into ``folder``, after its DXF was read back.

    Raises:
        PartgenError: the folder cannot be written, or foreign files are in the way.
        RuntimeError: the DXF is not what it should be (a mistake in partgen); nothing is written.
    """
    name = coupon_file(made.stock, made.unit)
    write_all(folder, made.files, lambda staged: file_faults(staged / name, made.drawn))


def _stock(plate: str, unit: str) -> Stock:
    try:
        return PlateOnly.model_validate({"plate": plate}, context=Reading(unit)).plate
    except ValidationError as error:
        why = error.errors()[0]["msg"].removeprefix("Value error, ")
        raise PartgenError(f"--plate: {why}") from None


def _form(stock: Stock, process: Cutting, profile: str, unit: Unit) -> str:
    rows = sizes(stock.thickness, process.kerf)
    drawn = "\n".join(f"{s.name} = {s.nominal / per_unit(unit):.6g}" for s in rows)
    blanks = "\n".join(f'{s.name} = ""' for s in rows)
    return f"""# Coupon form. Cut the DXF with no kerf set anywhere, knock the dross off, measure
# with a calliper and write the numbers between the quotes, in {UNIT_WORDS[unit]}; leave blank
# what you did not measure. Squares and openings: across the straight sides, in the middle of the
# plate's thickness.
# Then: partgen coupon --measured {FORM} --out my-plasma.toml

[coupon]
plate = "{stock.text(unit)}"
cutting = "{profile}"
unit = "{unit}"
thickness_measured = ""
narrowest_slot_that_takes_the_plate = ""    # its number, 1 is the narrowest

[measured]
{blanks}

[drawn]     # as cut from the DXF; leave it
{drawn}
"""


def measured(path: Path) -> Measured:
    """Return the cutting profile that a filled-in form gives.

    Raises:
        PartgenError: the form cannot be read or holds mistakes, one line for each.
    """
    form = _read(path)
    unit = form.coupon.unit
    problems: list[str] = []
    found = _sizes(form, problems)
    thickness = _number(form.coupon.thickness_measured, "thickness_measured", unit, problems)
    fits = _slot(form, found, problems)
    if problems:
        raise PartgenError([f"{path.name}: {line}" for line in problems])
    result = solved(found, thickness or form.coupon.plate.thickness, fits)
    if result is None or result.kerf <= 0:
        raise PartgenError(
            f"{path.name}: no kerf comes out of it; measure a square, a window or a slot of a "
            "coupon that was cut with no kerf set"
        )
    base = form.coupon.cutting
    profile = profile_text(base, result, form.coupon.plate, unit)
    return Measured(result, profile, _checked(profile), unit)


def _read(path: Path) -> Form:
    try:
        data = toml_data(file_content(path, kind="form"), path.name)
    except OSError as error:
        raise PartgenError(f"{path}: {why(error)}") from None
    if "coupon" not in data:
        raise PartgenError(
            f"{path.name}: is no coupon form, [coupon] is missing; fill in the {FORM} that partgen "
            "coupon wrote"
        )
    unit = data.get("coupon", {}).get("unit") if isinstance(data.get("coupon"), dict) else None
    try:
        return Form.model_validate(data, context=Reading("in" if unit == "in" else "mm"))
    except ValidationError as error:
        lines = problems_of(error, Form, data)
        raise PartgenError([f"{path.name}: {line}" for line in lines]) from None


def _sizes(form: Form, problems: list[str]) -> list[Size]:
    kinds = {"square": "outside", "hole": "hole", "window": "inside", "slot": "slot"}
    unit, found = form.coupon.unit, []
    for name, typed in form.measured.items():
        kind: Any = kinds.get(name.split("-")[0])
        if name not in form.drawn or kind is None:
            problems.append(f"measured.{name}: no such size; {nearest(name, form.drawn)}")
            continue
        nominal = form.drawn[name] * per_unit(unit)
        value = _number(typed, f"measured.{name}", unit, problems)
        if value is not None and abs(value - nominal) > 10:
            problems.append(
                f"measured.{name}: {shown(value, unit)} {unit} is far from the "
                f"{shown(nominal, unit)} {unit} drawn; check number and unit"
            )
        found.append(Size(name, kind, nominal, value))
    return found


def _number(typed: str | float, where: str, unit: str, problems: list[str]) -> float | None:
    if isinstance(typed, str) and not typed.strip():
        return None
    try:
        value = parse_length(typed, unit)
    except PartgenError as error:
        problems += [f"{where}: {line}" for line in error.problems]
        return None
    if value <= 0:
        problems.append(f"{where}: must be more than 0")
    return value


def _slot(form: Form, found: list[Size], problems: list[str]) -> int | None:
    typed = str(form.coupon.narrowest_slot_that_takes_the_plate).strip()
    if not typed:
        return None
    slots = [s.name.removeprefix("slot-") for s in found if s.kind == "slot"]
    if typed not in slots:
        problems.append(
            f"narrowest_slot_that_takes_the_plate: '{typed[:20]}' is no slot; "
            f"write {slots[0] if slots else 1} to {slots[-1] if slots else 1}"
        )
        return None
    return int(typed)


def _checked(profile: str) -> Cutting:
    return cutting.read(tomllib.loads(profile), "the new profile")


def write_profile(found: Measured, path: Path) -> None:
    """Write the new profile; an existing file is never replaced.

    Raises:
        PartgenError: the file is there already, or cannot be written.
    """
    write_new(path.parent, {path.name: found.profile.encode("utf-8")}, "--out")
