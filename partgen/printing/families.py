"""The families of parts, their parameters, and a sketch made from the geometry."""

from __future__ import annotations

import sys
from pathlib import Path

from pydantic import BaseModel

from partgen.errors import PartgenError, nearest
from partgen.families import FAMILIES
from partgen.families.part import Part
from partgen.families.sample import sample_plates
from partgen.job.parameters import Parameter, entries, parameters
from partgen.output.own_file import write_new
from partgen.packet.pictures import plates_picture
from partgen.plates.plate import Plate
from partgen.printing.sketch import sketch, title
from partgen.printing.text import print_json, table

MOST_SKETCHES = 3


def families(name: str | None, *, as_json: bool, svg: Path | None = None) -> None:
    """Print the families, or one family's sketch and parameters.

    Args:
        name: of the family; all are listed if it is none.
        as_json: print data.
        svg: file to write a drawing of the family's sample to.

    Raises:
        PartgenError: no such family, or the file is there already or cannot be written.
    """
    if name is None:
        if svg is not None:
            raise PartgenError("--svg draws one family; name it")
        listed = {key: _heading(family) for key, family in FAMILIES.items()}
        if as_json:
            print_json(listed)
        else:
            table([(key, text) for key, text in listed.items()])
        return
    if name not in FAMILIES:
        raise PartgenError(f"family '{name}' is not known; {nearest(name, FAMILIES)}")
    plates = _sample(name)
    if svg is not None:
        _write(svg, name, plates)
    if as_json:
        print_json(FAMILIES[name].model_json_schema())
        return
    print((sys.modules[FAMILIES[name].__module__].__doc__ or "").strip() + "\n")
    _sketches(plates)
    _parameters(FAMILIES[name])
    if svg is not None:
        print(f"\ndrawing: {svg}")


def _heading(family: type[Part]) -> str:
    doc = sys.modules[family.__module__].__doc__ or ""
    return doc.strip().splitlines()[0].split(": ", 1)[-1]


def _sample(name: str) -> list[Plate]:
    """Return the plates that stand for a family, equal ones once; none if it has no sample."""
    try:
        plates = sample_plates(name)
    except PartgenError:
        return []
    kept: list[Plate] = []
    for plate in plates:
        if all(not plate.outline.is_same(other.outline) for other in kept):
            kept.append(plate)
    return kept[:MOST_SKETCHES]


def _sketches(plates: list[Plate]) -> None:
    for plate in plates:
        print(f"drawn from the defaults, {title(plate)}\n")
        for line in sketch(plate):
            print(f"    {line}".rstrip())
        print()


def _parameters(family: type[BaseModel]) -> None:
    table([("parameter", "unit", "default", "limits", ""), *map(_row, parameters(family))])
    for key, entry in entries(family).items():
        print(f"\n{key} = {{ ... }}")
        table([_row(p) for p in parameters(entry)], indent="  ")


def _row(parameter: Parameter) -> tuple[str, ...]:
    p = parameter
    return (p.name, p.unit, p.default, p.limits, p.text)


def _write(path: Path, name: str, plates: list[Plate]) -> None:
    if not plates:
        raise PartgenError(f"family '{name}' draws nothing by itself; there is nothing to write")
    write_new(path.parent, {path.name: plates_picture(plates, name, "mm")}, "--svg")
