"""The job file: read it, resolve its measures, find every mistake in one pass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, ValidationError

from partgen.entries import cutting as cutting_profiles
from partgen.entries.accept import Accept
from partgen.entries.cutting import Cutting, CuttingChanges
from partgen.entries.hole_policy import HolePolicy
from partgen.entries.job_problems import problems_of
from partgen.entries.joint import Joint
from partgen.entries.library import Library, filled, shipped, takes_from_library
from partgen.entries.library import library as find_library
from partgen.entries.load import Load, StrengthEntry
from partgen.entries.net import Net
from partgen.entries.prices import Prices
from partgen.entries.rail import Rail
from partgen.entries.stock import SheetEntry, Stock
from partgen.entries.surroundings import Box, Room
from partgen.errors import ALIKE, PartgenError, nearest
from partgen.families import FAMILIES
from partgen.families.part import Part
from partgen.families.single_ear import SingleEar
from partgen.fields import Entry, Name, Reading, Text
from partgen.file_content import file_content, why
from partgen.job.named_measures import read_measures
from partgen.job.sides import mirrored_rails, one_for_each_side
from partgen.linkage.entry import LinkageEntry
from partgen.reference import rule_set as rule_sets
from partgen.reference.rule_set import RuleSet
from partgen.shop import Shop
from partgen.toml_text import toml_data

MOST_PARTS = 1_000
MOST_SHEETS = 300  # kinds, offcuts among them; all are tried
MOST_NETS = 10
NAMED = ("rail", "joint", "net")  # tables that stand under a name, [rail.NAME]


class JobHead(Entry):
    """``[job]``: its name, unit, cutting and rules, and the shop's own library file, if any."""

    name: Text
    units: Literal["mm", "in"]
    cutting: Text = "plasma-65a"
    rules: Text = rule_sets.DEFAULT
    library: Text | None = None


class JobFile(Entry):
    """The whole file, parts still raw: each family reads its own.

    Attributes:
        job: [job] with name = "..." and units = "mm" or "in".
        part: at least one [[part]] with its name and family; all other tables may be left out.
    """

    job: JobHead
    measures: dict[str, Any] = Field(default={}, max_length=MOST_PARTS)
    cutting: CuttingChanges = CuttingChanges()
    rail: dict[Name, Rail] = Field(default={}, max_length=MOST_PARTS)
    joint: dict[Name, Joint] = Field(default={}, max_length=MOST_PARTS)
    part: list[dict[str, Any]] = Field(min_length=1, max_length=MOST_PARTS)
    sheet: list[SheetEntry] = Field(default=[], max_length=MOST_SHEETS)
    hole: list[HolePolicy] = Field(default=[], max_length=MOST_PARTS)
    accept: list[Accept] = Field(default=[], max_length=MOST_PARTS)
    linkage: LinkageEntry | None = None
    load: list[Load] = Field(default=[], max_length=MOST_PARTS)
    strength: StrengthEntry = StrengthEntry()
    box: list[Box] = Field(default=[], max_length=MOST_PARTS)
    room: list[Room] = Field(default=[], max_length=MOST_PARTS)
    prices: Prices = Prices()
    net: dict[Name, Net] = Field(default={}, max_length=MOST_NETS)


@dataclass(frozen=True)
class Job:
    """A job file, read and resolved.

    Attributes:
        path: of the file.
        name: of the job.
        unit: of bare numbers and of the DXF, "mm" or "in".
        measures: named lengths [mm].
        parts: what it asks for.
        sheets: what it may be cut from.
        accepts: findings the shop takes on itself.
        shop: what the families may ask for.
        linkage: the links' points and travel, if the job has them.
        loads: forces at mounts, for screening.
        strength: what the screening has to know.
        boxes: parts that close a cavity.
        rooms: free space beside mounts.
        holes: what is done at single holes, where the cutting profile is not to decide.
        prices: the job's own over those of its cutting profile.
        nets: point-to-point readings by name.
        numbers: measures that number a hole; they have no unit.
    """

    path: Path
    name: str
    unit: str
    measures: dict[str, float]
    parts: list[Part]
    sheets: list[SheetEntry]
    accepts: list[Accept]
    shop: Shop
    linkage: LinkageEntry | None = None
    loads: list[Load] = field(default_factory=list)
    strength: StrengthEntry = field(default_factory=StrengthEntry)
    boxes: list[Box] = field(default_factory=list)
    rooms: list[Room] = field(default_factory=list)
    holes: list[HolePolicy] = field(default_factory=list)
    prices: Prices = field(default_factory=Prices)
    nets: dict[str, Net] = field(default_factory=dict)
    numbers: frozenset[str] = frozenset()

    def unit_of(self, measure: str) -> str:
        """Return what follows a measure's value: a space and the unit, or nothing."""
        return "" if measure in self.numbers else f" {self.unit}"


def load_job(path: Path, changes: Mapping[str, str] | None = None) -> Job:
    """Return the job in a file.

    Args:
        path: of the TOML file.
        changes: measures to set differently, as typed.

    Raises:
        PartgenError: the file cannot be read, or holds mistakes: one line for each.
    """
    return read_job(_toml(path), path, changes or {})


def read_job(data: dict[str, Any], path: Path, changes: Mapping[str, str]) -> Job:
    """Return the job in parsed TOML.

    Raises:
        PartgenError: it holds mistakes: one line for each.
    """
    reading, problems = read_measures(data, changes)
    reading = replace(reading, folder=path.parent)
    data, unnamed = _without_unnamed(data)
    data, unmirrored = mirrored_rails(data)
    pieces, unpaired = one_for_each_side(data.get("part"))
    library, wrong = _library(data, path)
    data, missing = filled(data, library)
    problems += unnamed + unmirrored + unpaired + wrong + missing
    try:
        file = JobFile.model_validate(data, context=reading)
    except ValidationError as error:
        file = None
        problems += problems_of(error, JobFile, data)
    parts, wrong = read_parts(pieces, reading)
    problems += wrong
    if file is None:
        raise PartgenError([f"{path.name}: {line}" for line in problems])
    sheets = [*file.sheet, *library.sheets]
    shop, wrong = _shop(file, sheets, path.parent)
    problems += wrong + _twice(parts) + _strangers(file, parts)
    if problems or shop is None:
        raise PartgenError([f"{path.name}: {line}" for line in problems])
    return Job(
        path=path,
        name=file.job.name,
        unit=file.job.units,
        measures=reading.measures,
        numbers=frozenset(reading.numbers),
        parts=parts,
        sheets=sheets,
        accepts=file.accept,
        shop=shop,
        linkage=file.linkage,
        loads=file.load,
        strength=file.strength,
        boxes=file.box,
        rooms=file.room,
        holes=file.hole,
        prices=file.prices.over(shop.cutting.prices),
        nets=file.net,
    )


def _toml(path: Path) -> dict[str, Any]:
    try:
        return toml_data(file_content(path, kind="job file"), path.name)
    except OSError as error:
        raise PartgenError(f"{path}: {why(error)}") from None


def _without_unnamed(data: dict[str, Any]) -> tuple[dict[str, Any], list[str]]:
    """Return raw job data less the kinds of table that lack their names, and a line for each."""
    found = {kind: data[kind] for kind in NAMED if kind in data}
    wrong = [
        kind
        for kind, named in found.items()
        if not isinstance(named, dict) or not all(isinstance(e, dict) for e in named.values())
    ]
    lines = [f"{kind}: each is a table with a name of its own, as [{kind}.front]" for kind in wrong]
    return {key: value for key, value in data.items() if key not in wrong}, lines


def read_parts(raw: list[tuple[str, Any]], reading: Reading) -> tuple[list[Part], list[str]]:
    """Return the parts that can be read, and what is wrong with the others, once each."""
    parts: list[Part] = []
    problems: list[str] = []
    for where, data in raw[:MOST_PARTS]:
        if not isinstance(data, dict):
            continue
        family = FAMILIES.get(str(data.get("family")))
        if family is None:
            problems.append(f"{where}: {_no_family(data)}")
            continue
        try:
            parts.append(family.model_validate(data, context=reading))
        except ValidationError as error:
            problems += [f"{where}.{line}" for line in problems_of(error, family, data)]
    return parts, list(dict.fromkeys(problems))


def _no_family(data: dict[str, Any]) -> str:
    if "family" in data:
        return f"family = '{data['family']}'; {nearest(str(data['family']), FAMILIES)}"
    slip = next((key for key in data if get_close_matches(key, ["family"], cutoff=ALIKE)), None)
    if slip is not None:
        return f"{slip}: unknown key; did you mean 'family'?"
    return f"family is missing; {nearest('', FAMILIES)}"


def _library(data: dict[str, Any], path: Path) -> tuple[Library, list[str]]:
    """Return what the job may take joints, sections and plates from, and what is wrong with it."""
    head = data.get("job")
    own = head.get("library") if isinstance(head, dict) else None
    if own is None and not takes_from_library(data):
        return Library(), []
    try:
        return find_library(own if isinstance(own, str) else None, path.parent), []
    except PartgenError as error:
        return shipped(), error.problems


def _shop(file: JobFile, sheets: list[SheetEntry], folder: Path) -> tuple[Shop | None, list[str]]:
    problems: list[str] = []
    cutting: Cutting | None = None
    rules: RuleSet | None = None
    try:
        cutting = cutting_profiles.cutting(
            file.job.cutting, file.cutting.model_dump(exclude_none=True), folder
        )
    except PartgenError as error:
        problems += [f"job.cutting: {line}" for line in error.problems]
    try:
        rules = rule_sets.rule_set(file.job.rules, folder)
    except PartgenError as error:
        problems += [f"job.rules: {line}" for line in error.problems]
    if cutting is None or rules is None:
        return None, problems
    rack: dict[Stock, None] = dict.fromkeys(sheet.plate for sheet in sheets)
    return Shop(file.job.units, file.rail, file.joint, list(rack), rules, cutting), problems


def _twice(parts: list[Part]) -> list[str]:
    names = [part.name for part in parts]
    return [
        f'part "{name}" is there {names.count(name)} times; names are unique'
        for name in dict.fromkeys(names)
        if names.count(name) > 1
    ]


def _strangers(file: JobFile, parts: list[Part]) -> list[str]:
    """Return a line for each load, room, box or standing ear that names no part of the job."""
    names = [part.name for part in parts]
    named = [(f"load[{k}].mount", load.mount) for k, load in enumerate(file.load, 1)]
    named += [(f"room[{k}].mount", room.mount) for k, room in enumerate(file.room, 1)]
    ears = [p for p in parts if isinstance(p, SingleEar)]
    named += [(f'part "{p.name}": stands.on', p.stands.on) for p in ears if p.stands]
    named += [(f"box[{k}].parts", name) for k, box in enumerate(file.box, 1) for name in box.parts]
    return [
        f"{where} = '{name}': no such part; {nearest(name, names)}"
        for where, name in named
        if name not in names
    ]
