"""A set of published rules that a job is checked by; from ``profiles/rules``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from partgen import profile_files, tables
from partgen.bolt import Bolt
from partgen.errors import ProfileError

DEFAULT = "aisc-360-16"


@dataclass(frozen=True)
class Requirement:
    """What a rule asks for.

    Attributes:
        value: least distance; None where the rule says nothing [mm].
        source: document and table.
        why_not: why there is no value.
    """

    value: float | None
    source: str
    why_not: str = ""


@dataclass(frozen=True)
class RuleSet:
    """One file of ``profiles/rules``.

    Attributes:
        name: of the file.
        title: of the document.
        data: the file.
    """

    name: str
    title: str
    data: dict[str, Any]

    def edge_distance(self, bolt: Bolt, hole: float) -> Requirement:
        """Return the least distance from a hole's centre to an edge.

        Args:
            bolt: the bolt in the hole.
            hole: diameter of the hole [mm].

        Raises:
            ProfileError: the rule set's file names no table for it.
        """
        entry = self.data["edge_distance"]
        table = tables.load(entry[bolt.system])
        if entry["by"] == "hole":
            row = table.find(**{table.columns[0]: entry["row"]})
            if row is None:
                raise ProfileError(f"profiles/rules/{self.name}.toml: no row '{entry['row']}'")
            return Requirement(table.number(row, entry["field"]) * hole, table.source.cite)
        factor = tables.MM_PER[table.units[entry["field"]]]
        least = table.lookup(bolt.diameter / factor, entry["field"])
        if least is None:
            return Requirement(None, table.source.cite, f"the table prints no {bolt.size}")
        return Requirement(least * factor, table.source.cite)


def rule_set(name: str) -> RuleSet:
    """Return the rule set called ``name``.

    Raises:
        ProfileError: no such rule set, or its file lacks a field.
    """
    data = profile_files.read("rules", name)
    for key in ("title", "edge_distance"):
        if key not in data:
            raise ProfileError(f"profiles/rules/{name}.toml: '{key}' is missing")
    return RuleSet(name, data["title"], data)
