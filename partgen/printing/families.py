"""The families of parts, their parameters, and a sketch made from the geometry."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from partgen.errors import PartgenError, nearest
from partgen.families import FAMILIES
from partgen.families.part import Part
from partgen.families.sample import NO_PLATE, SAMPLES, sample_plates
from partgen.job.parameters import parameters
from partgen.output.own_file import write_new
from partgen.packet.pictures import plates_picture
from partgen.plates.plate import Plate
from partgen.printing.keys import print_keys
from partgen.printing.sketch import sketch, title
from partgen.printing.text import plain, print_json, table

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
    print(plain((sys.modules[FAMILIES[name].__module__].__doc__ or "").strip()) + ".\n")
    _least(name)
    _sketches(plates)
    _parameters(FAMILIES[name])
    if svg is not None:
        print(f"\ndrawing: {svg}")


def _heading(family: type[Part]) -> str:
    doc = sys.modules[family.__module__].__doc__ or ""
    return plain(doc.strip().splitlines()[0].split(": ", 1)[-1])


def _sample(name: str) -> list[Plate]:
    """Return the plates that stand for a family, equal ones once."""
    kept: list[Plate] = []
    for plate in sample_plates(name):
        if all(not plate.outline.is_same(other.outline) for other in kept):
            kept.append(plate)
    return kept[:MOST_SKETCHES]


def _sketches(plates: list[Plate]) -> None:
    for plate in plates:
        print(f"{title(plate)}\n")
        for line in sketch(plate):
            print(f"    {line}".rstrip())
        print("".join(f"{note}\n" for note in plate.notes))


def _parameters(family: type[Part]) -> None:
    """Print the keys of a family, those that every part has last."""
    every = set(Part.model_fields) - {"name", "family"}
    found = parameters(family)
    print_keys([p for p in found if p.name not in every])
    print("\nin every part:")
    print_keys([p for p in found if p.name in every])


def _least(name: str) -> None:
    """Print the least entry of the job file that makes what was drawn."""
    if name not in SAMPLES:
        return
    plate = {} if name in NO_PLATE else {"plate": "6 mm S355"}
    entry = {"name": f"my-{name}", "family": name} | plate | SAMPLES[name]
    print("drawn from the least entry, lengths in mm; rail, joint and mount by your own names:\n")
    print("    [[part]]")
    for key, value in entry.items():
        print(f"    {key} = {_typed(value)}")
    print()


def _typed(value: Any) -> str:
    """Return a value as it is typed in TOML."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {_typed(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_typed(v) for v in value) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def _write(path: Path, name: str, plates: list[Plate]) -> None:
    if not plates:
        raise PartgenError(f"family '{name}' draws nothing by itself; there is nothing to write")
    write_new(path.parent, {path.name: plates_picture(plates, name, "mm")}, "--svg")
