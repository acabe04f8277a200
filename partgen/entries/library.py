"""Joints, tube sections and plates kept for many jobs: the shipped ones and the shop's own file.

Shipped records lie in ``profiles/joints`` and ``profiles/sections``. A shop keeps its own in a file
of the same form beside the job, or in the user folder; a job names that file, ``library`` in
``[job]``. A joint of the job takes a record by ``like``, a rail by ``section``; what the job types
itself wins. The plates of the shop's file join the job's rack.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal

import platformdirs
from pydantic import BaseModel, Field, ValidationError

from partgen.entries.job_problems import problems_of
from partgen.entries.joint import Joint
from partgen.entries.section import Section
from partgen.entries.stock import SheetEntry
from partgen.errors import PartgenError, ProfileError, nearest
from partgen.fields import Entry, Millimetres, Name, Reading, Text
from partgen.file_content import file_content, why
from partgen.reference import profile_files
from partgen.toml_text import toml_data

LONGEST_NAME = 100  # characters
RAIL_KEYS = ("width", "depth", "corner_radius", "wall")


class LibraryFile(Entry):
    """A library file: joints, sections, and sheets of plate in the rack."""

    title: Text
    source: Text
    units: Literal["mm", "in"]
    joint: dict[Name, Joint] = Field(default={}, max_length=1000)
    section: dict[Name, Section] = Field(default={}, max_length=1000)
    sheet: list[SheetEntry] = Field(default=[], max_length=1000)


@dataclass(frozen=True)
class Library:
    """What a job may take its joints, sections and plates from.

    Attributes:
        joints: by name; the shop's own before the shipped ones.
        sections: by name; likewise.
        sheets: plates of the shop's own file.
        sources: where each joint or section comes from, by its name.
    """

    joints: dict[str, Joint] = field(default_factory=dict)
    sections: dict[str, Section] = field(default_factory=dict)
    sheets: list[SheetEntry] = field(default_factory=list)
    sources: dict[str, str] = field(default_factory=dict)

    def joint(self, name: str) -> Joint:
        """Return a joint.

        Raises:
            ProfileError: no such joint in the library.
        """
        return self.joints[_known("joint", name, self.joints)]

    def section(self, name: str) -> Section:
        """Return a section.

        Raises:
            ProfileError: no such section in the library.
        """
        return self.sections[_known("section", name, self.sections)]


@cache
def shipped() -> Library:
    """Return the joints and sections that come with partgen.

    Raises:
        ProfileError: a file is wrong.
    """
    files = [
        read_library(profile_files.path(kind, name), f"profiles/{kind}/{name}.toml")
        for kind in ("joints", "sections")
        for name in profile_files.names(kind)
    ]
    return _together(files, sheets=[])


def library(own: str | None, folder: Path) -> Library:
    """Return what a job may take from: its own file's records, then the shipped ones.

    Args:
        own: the file a job names, if any: beside the job, else in the user folder.
        folder: the job's folder.

    Raises:
        ProfileError: the file is not there, out of bounds, or wrong; one line for each mistake.
    """
    base = shipped()
    if own is None:
        return base
    file = read_library(find(own, folder), own)
    mine = _together([file], sheets=file.sheet)
    return Library(
        joints={**base.joints, **mine.joints},
        sections={**base.sections, **mine.sections},
        sheets=mine.sheets,
        sources={**base.sources, **mine.sources},
    )


def user_folder() -> Path:
    """Return where a user's own files are kept, by the platform's convention."""
    return Path(platformdirs.user_config_path("partgen", appauthor=False))


def find(name: str, folder: Path) -> Path:
    """Return the library file called ``name``, beside the job or in the user folder.

    Raises:
        ProfileError: it is in neither place, or leads out of them.
    """
    if not name.endswith(".toml") or Path(name).is_absolute() or ".." in Path(name).parts:
        raise ProfileError(
            f"library = '{name}': write the name of a .toml file beside the job or in "
            f"{user_folder()}"
        )
    for place in (folder, user_folder()):
        there = place / name
        if len(name) <= LONGEST_NAME and there.is_file():
            if not there.resolve().is_relative_to(place.resolve()):
                raise ProfileError(f"library = '{name}': leads out of {place}; put the file there")
            return there
    raise ProfileError(
        f"library = '{name[:LONGEST_NAME]}': neither beside the job nor in {user_folder()}"
    )


def read_library(path: Path, name: str) -> LibraryFile:
    """Return a library file.

    Args:
        path: of the file.
        name: as messages call it.

    Raises:
        ProfileError: it cannot be read; one line for each mistake.
    """
    try:
        data = toml_data(file_content(path, kind="library"), name)
    except OSError as error:
        raise ProfileError(f"{name}: {why(error)}") from None
    unit = data.get("units")
    try:
        return LibraryFile.model_validate(
            data, context=Reading(unit if unit in ("mm", "in") else "mm")
        )
    except ValidationError as error:
        lines = problems_of(error, LibraryFile, data)
        raise ProfileError([f"{name}: {line}" for line in lines]) from None


def takes_from_library(data: dict[str, Any]) -> bool:
    """Tell whether raw job data names a record, so that no file is read for nothing."""
    return any(
        isinstance(entry, dict) and key in entry
        for kind, key in (("joint", "like"), ("rail", "section"))
        if isinstance(entries := data.get(kind), dict)
        for entry in entries.values()
    )


def filled(data: dict[str, Any], found: Library) -> tuple[dict[str, Any], list[str]]:
    """Return raw job data with its joints and rails filled up from the library, and mistakes.

    Args:
        data: the job file as TOML gives it.
        found: the library.
    """
    problems: list[str] = []
    result = dict(data)
    records: dict[tuple[str, str], Callable[[str], dict[str, Any]]] = {
        ("joint", "like"): lambda name: _values(found.joint(name)),
        ("rail", "section"): lambda name: _rail_values(name, found.section(name)),
    }
    for (kind, key), defaults in records.items():
        entries = data.get(kind)
        if not isinstance(entries, dict):
            continue
        result[kind] = dict(entries)
        for name, entry in entries.items():
            if not isinstance(entry, dict) or not isinstance(entry.get(key), str):
                continue
            try:
                result[kind][name] = {**defaults(entry[key]), **entry}
            except PartgenError as error:
                problems += [f"{kind}.{name}.{key} = '{entry[key]}': {p}" for p in error.problems]
                result[kind].pop(name)
    return result, problems


def _values(record: BaseModel) -> dict[str, Any]:
    """Return a record as raw data: lengths stay millimetres whatever the job's unit."""
    values = {
        field.alias or name: getattr(record, name)
        for name, field in type(record).model_fields.items()
    }
    return {
        key: Millimetres(value) if isinstance(value, float) else value
        for key, value in values.items()
        if value is not None
    }


def _rail_values(name: str, section: Section) -> dict[str, Any]:
    if section.is_round:
        raise ProfileError(f"{name} is round; a rail needs flat faces for its plates")
    values = _values(section)
    return {key: values[key] for key in RAIL_KEYS if key in values}


def _together(files: Iterable[LibraryFile], sheets: list[SheetEntry]) -> Library:
    joints: dict[str, Joint] = {}
    sections: dict[str, Section] = {}
    sources: dict[str, str] = {}
    for file in files:
        joints |= file.joint
        sections |= file.section
        sources |= dict.fromkeys([*file.joint, *file.section], file.source)
    return Library(joints, sections, list(sheets), sources)


def _known(kind: str, name: str, things: Mapping[str, Any]) -> str:
    if name not in things:
        hint = nearest(name, things)
        if hint.startswith("known"):
            hint = f"partgen library lists the {len(things)} there are"
        raise ProfileError(f"no such {kind} in the library; {hint}")
    return name
