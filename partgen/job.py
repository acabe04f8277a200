"""The job file: read it, resolve its measures, find every mistake in one pass."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, ValidationError

from partgen import cutting as cutting_profiles
from partgen import rule_set as rule_sets
from partgen.cutting import Cutting
from partgen.errors import MeasureError, PartgenError, nearest
from partgen.expression import is_expression, names_in
from partgen.families import FAMILIES
from partgen.families.part import Part
from partgen.fields import Entry, Margin, Name, Reading, Size, Text
from partgen.job_problems import problems_of
from partgen.joint import Joint
from partgen.linkage.entry import LinkageEntry
from partgen.rail import Rail
from partgen.rule_set import RuleSet
from partgen.shop import Shop
from partgen.sides import mirrored_rails, one_for_each_side
from partgen.stock import SheetEntry, Stock

LARGEST_FILE = 1_000_000  # bytes
MOST_PARTS = 1_000


class JobHead(Entry):
    """``[job]``: its name, its unit, how it is cut and which rules it is checked by."""

    name: Text
    units: Literal["mm", "in"]
    cutting: str = "plasma-65a"
    rules: str = rule_sets.DEFAULT


class CuttingChanges(Entry):
    """``[cutting]``: what this job changes of its cutting profile."""

    kerf: Size | None = None
    part_gap: Size | None = None
    sheet_margin: Margin | None = None
    web_per_thickness: float | None = Field(default=None, gt=0, le=10, allow_inf_nan=False)
    least_web: Size | None = None


class Accept(Entry):
    """``[[accept]]``: a finding that the shop takes on itself, with its reason."""

    rule: str
    plate: str
    reason: Text


class JobFile(Entry):
    """The whole file, parts still raw: each family reads its own."""

    job: JobHead
    measures: dict[str, Any] = Field(default={}, max_length=MOST_PARTS)
    cutting: CuttingChanges = CuttingChanges()
    rail: dict[Name, Rail] = Field(default={}, max_length=MOST_PARTS)
    joint: dict[Name, Joint] = Field(default={}, max_length=MOST_PARTS)
    part: list[dict[str, Any]] = Field(min_length=1, max_length=MOST_PARTS)
    sheet: list[SheetEntry] = Field(default=[], max_length=MOST_PARTS)
    accept: list[Accept] = Field(default=[], max_length=MOST_PARTS)
    linkage: LinkageEntry | None = None


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
    data, unmirrored = mirrored_rails(data)
    pieces, unpaired = one_for_each_side(data.get("part"))
    problems += unmirrored + unpaired
    try:
        file = JobFile.model_validate(data, context=reading)
    except ValidationError as error:
        file = None
        problems += problems_of(error, JobFile, data)
    parts, wrong = read_parts(pieces, reading)
    problems += wrong
    if file is None:
        raise PartgenError([f"{path.name}: {line}" for line in problems])
    shop, wrong = _shop(file)
    problems += wrong + _twice(parts)
    if problems or shop is None:
        raise PartgenError([f"{path.name}: {line}" for line in problems])
    return Job(
        path=path,
        name=file.job.name,
        unit=file.job.units,
        measures=reading.measures,
        parts=parts,
        sheets=file.sheet,
        accepts=file.accept,
        shop=shop,
        linkage=file.linkage,
    )


def _toml(path: Path) -> dict[str, Any]:
    try:
        with path.open("rb") as file:
            text = file.read(LARGEST_FILE + 1)
        if len(text) > LARGEST_FILE:
            raise PartgenError(f"{path.name}: larger than 1 MB; this is no job file")
        return tomllib.loads(text.decode("utf-8"))
    except OSError as error:
        raise PartgenError(f"{path}: {error.strerror or error}") from None
    except UnicodeDecodeError:
        raise PartgenError(f"{path.name}: not UTF-8 text; this is no job file") from None
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise PartgenError(f"{path.name}: not readable as TOML: {error}") from None


def read_measures(data: dict[str, Any], changes: Mapping[str, str]) -> tuple[Reading, list[str]]:
    """Return the named lengths, in the order they need each other, and what is wrong with them."""
    head = data.get("job")
    unit = head.get("units") if isinstance(head, dict) else None
    unit = unit if unit in ("mm", "in") else "mm"
    raw = data.get("measures", {})
    raw = dict(raw) if isinstance(raw, dict) else {}
    problems = [
        f"--set {name}: no such measure; {nearest(name, raw)}"
        for name in changes
        if name not in raw
    ]
    raw.update({name: value for name, value in changes.items() if name in raw})
    known: dict[str, float] = {}
    broken: set[str] = set()
    for name in _in_order(raw):
        try:
            if not name.isidentifier():
                raise MeasureError("a measure's name is letters, digits and underscores")
            _refuse_circle(name, raw, known, broken)
            known[name] = Reading(unit, known, frozenset(broken)).length(raw[name])
        except MeasureError as error:
            broken.add(name)
            problems.append(f"measures.{name}: {error}")
    return Reading(unit, known, frozenset(broken)), problems


def _in_order(raw: dict[str, Any]) -> list[str]:
    """Return the names so that each follows those it uses, plain lengths first."""
    order: dict[str, None] = dict.fromkeys(n for n, v in raw.items() if not is_expression(v))
    waiting = {n: v for n, v in raw.items() if n not in order}
    while waiting:
        ready = [n for n, v in waiting.items() if not (_uses(v) & (waiting.keys() - {n}))] or list(
            waiting
        )
        order |= dict.fromkeys(ready)
        waiting = {n: v for n, v in waiting.items() if n not in order}
    return list(order)


def _uses(value: Any) -> set[str]:
    return names_in(value) if is_expression(value) else set()


def _refuse_circle(
    name: str, raw: dict[str, Any], known: dict[str, float], broken: set[str]
) -> None:
    later = sorted((_uses(raw[name]) & raw.keys()) - known.keys() - broken)
    if later:
        raise MeasureError(
            f"goes round in a circle through '{later[0]}'; give one of them a number"
        )


def read_parts(raw: Any, reading: Reading) -> tuple[list[Part], list[str]]:
    """Return the parts that can be read, and what is wrong with the others."""
    parts: list[Part] = []
    problems: list[str] = []
    for number, data in enumerate(raw if isinstance(raw, list) else [], 1):
        if not isinstance(data, dict) or number > MOST_PARTS:
            continue
        where = f"part[{number}]"
        if isinstance(data.get("name"), str):
            where += f' "{data["name"][:40]}"'
        family = FAMILIES.get(str(data.get("family")))
        if family is None:
            given = f"family = '{data['family']}'" if "family" in data else "family is missing"
            problems.append(f"{where}: {given}; {nearest(str(data.get('family')), FAMILIES)}")
            continue
        try:
            parts.append(family.model_validate(data, context=reading))
        except ValidationError as error:
            problems += [f"{where}.{line}" for line in problems_of(error, family, data)]
    return parts, problems


def _shop(file: JobFile) -> tuple[Shop | None, list[str]]:
    problems: list[str] = []
    cutting: Cutting | None = None
    rules: RuleSet | None = None
    try:
        cutting = cutting_profiles.cutting(
            file.job.cutting, file.cutting.model_dump(exclude_none=True)
        )
    except PartgenError as error:
        problems += [f"job.cutting: {line}" for line in error.problems]
    try:
        rules = rule_sets.rule_set(file.job.rules)
    except PartgenError as error:
        problems += [f"job.rules: {line}" for line in error.problems]
    if cutting is None or rules is None:
        return None, problems
    rack: dict[Stock, None] = dict.fromkeys(sheet.plate for sheet in file.sheet)
    return Shop(file.job.units, file.rail, file.joint, list(rack), rules, cutting), problems


def _twice(parts: list[Part]) -> list[str]:
    names = [part.name for part in parts]
    return [
        f'part "{name}" is there {names.count(name)} times; names are unique'
        for name in dict.fromkeys(names)
        if names.count(name) > 1
    ]
