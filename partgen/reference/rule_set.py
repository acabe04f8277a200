"""A set of rules that a job is checked by: a published one, the shop's, or the job's own file.

From ``profiles/rules``, or a file beside the job whose name ends in ``.toml``. Such a file may name
a ``base`` and changes only what it lists.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Literal

from partgen.errors import MeasureError, ProfileError, nearest
from partgen.file_content import beside
from partgen.reference import profile_files, tables
from partgen.reference.bolt import Bolt
from partgen.reference.limits import NO_SOURCE, Limits, read_limits
from partgen.toml_text import toml_data

DEFAULT = "aisc-360-16"
SHOP = "shop"
BLOCKS = ("title", "base", "source", "edge_distance", "spacing", "greatest", "strength", "limits")
ROUNDED = 0.1  # mm; drilled and decimal sizes of one hole differ by less
Edge = Literal["cut", "sheared"]


@dataclass(frozen=True)
class Requirement:
    """What a rule asks for.

    Attributes:
        value: least (or greatest) distance; None where the rule says nothing [mm].
        source: document and table.
        why_not: why there is no value.
        preferred: what is better than the least; None where it names nothing [mm].
    """

    value: float | None
    source: str
    why_not: str = ""
    preferred: float | None = None


@dataclass(frozen=True)
class RuleSet:
    """A rule set, complete.

    Attributes:
        name: of the file.
        title: of the document.
        data: the file over its base.
        limits: the shop's own limits.
    """

    name: str
    title: str
    data: Mapping[str, Any]
    limits: Limits

    def edge_distance(self, bolt: Bolt, hole: float, edge: Edge = "cut") -> Requirement:
        """Return the least distance from a hole's centre to an edge.

        Args:
            bolt: the bolt in the hole.
            hole: diameter of the hole [mm].
            edge: how the edge is cut; two-column tables differ.

        Raises:
            ProfileError: the rule set's file names no table for it.
        """
        entry = self.data["edge_distance"]
        if entry["by"] == "factor":
            return self._by_factor(entry, bolt)
        table = tables.load(entry[bolt.system])
        if entry["by"] == "hole":
            row = self._row(table, entry["row"])
            return Requirement(table.number(row, entry["field"]) * hole, table.source.cite)
        field = entry["field"] if isinstance(entry["field"], str) else entry["field"][edge]
        factor = tables.MM_PER[table.units[field]]
        least = table.lookup(bolt.diameter / factor, field)
        cite = table.source.cite + ("" if isinstance(entry["field"], str) else f", {edge} edge")
        if least is None:
            return Requirement(None, cite, f"the table prints no {bolt.size}")
        return self._oversized(Requirement(least * factor, cite), bolt, hole)

    def _oversized(self, asked: Requirement, bolt: Bolt, hole: float) -> Requirement:
        """Return what an oversized hole needs; nothing is known of it in metric sizes."""
        entry = self.data["edge_distance"]["standard"]
        table = tables.load(entry[bolt.system])
        row = table.find(bolt=bolt.diameter / tables.MM_PER[table.units["bolt"]])
        if row is None or hole <= table.mm(row, "standard") + ROUNDED or asked.value is None:
            return asked
        if bolt.system == "metric":
            standard = table.mm(row, "standard")
            why = f"a hole of {hole:g} mm is oversized, the standard one is {standard:g} mm"
            return Requirement(None, "AISC 360-16 Table J3.5", why)
        more = tables.load(entry["increment"])
        size = bolt.diameter / tables.MM_PER["in"]
        step = [r for r in more.rows if more.number(r, "from") <= size][-1]
        return Requirement(
            asked.value + more.mm(step, "oversized"), f"{asked.source}, {more.source.cite}"
        )

    def spacing(self, bolt: Bolt, hole: float) -> tuple[Requirement, Requirement | None]:
        """Return least distance of hole centres, and least clear metal between them if ruled.

        Args:
            bolt: the larger bolt of the two.
            hole: diameter of the larger hole [mm].
        """
        entry = self.data["spacing"]
        if entry["by"] == "factor":
            clear = Requirement(entry["clear"] * bolt.diameter, self._source("spacing"))
            return self._by_factor(entry, bolt), clear
        table = tables.load(entry["table"])
        if entry["by"] == "hole":
            row = self._row(table, entry["row"])
            return Requirement(table.number(row, entry["field"]) * hole, table.source.cite), None
        least, better, clear_d = (
            table.number(self._row(table, name), "per_d") * bolt.diameter
            for name in ("centres, least", "centres, preferred", "clear, least")
        )
        return Requirement(least, "AISC 360-16 J3.3", preferred=better), Requirement(
            clear_d, "AISC 360-16 J3.3"
        )

    def greatest_edge(self, thickness: float, unit: str) -> Requirement | None:
        """Return the greatest distance from a hole's centre to the nearest edge, if ruled."""
        return self._greatest("edge", "edge, most", thickness, unit)

    def greatest_spacing(self, thickness: float, unit: str) -> Requirement | None:
        """Return the greatest distance of a hole to the next, if ruled."""
        return self._greatest("centres", "centres, most", thickness, unit)

    def _greatest(self, key: str, row: str, thickness: float, unit: str) -> Requirement | None:
        entry = self.data.get("greatest")
        if entry is None:
            return None
        table = tables.load(entry["table"])
        if key in entry:
            found = self._row(table, entry[key])
            value = table.number(found, "max_t") * thickness + table.number(found, "max_plus")
            cap = found["max_cap"]
            most = value if cap is None else min(value, float(cap))
            return Requirement(most, table.source.cite)
        found = self._row(table, row)
        cap_mm = table.number(found, "most_mm")
        if unit == "in":
            cap_mm = table.mm(found, "most_in")
        return Requirement(
            min(table.number(found, "per_t") * thickness, cap_mm), "AISC 360-16 J3.5"
        )

    @cached_property
    def strength(self) -> tuple[str, str]:
        """Document ("aisc" or "en") and edition of the screening strength."""
        entry = self.data["strength"]
        return entry["document"], str(entry.get("edition", ""))

    def _by_factor(self, entry: Mapping[str, Any], bolt: Bolt) -> Requirement:
        better = entry.get("preferred")
        return Requirement(
            float(entry["least"]) * bolt.diameter,
            self._source("edge_distance"),
            preferred=None if better is None else float(better) * bolt.diameter,
        )

    def _source(self, block: str) -> str:
        return str(self.data.get("sources", {}).get(block, NO_SOURCE))

    def _row(self, table: tables.Table, name: str) -> tables.Row:
        row = table.find(**{table.columns[0]: name})
        if row is None:
            raise ProfileError(f"{self.name}: {table.source.cite} has no row '{name}'")
        return row


def rule_set(name: str, folder: Path | None = None) -> RuleSet:
    """Return the rule set called ``name``.

    Args:
        name: of a published set, or of a file beside the job, ending in ``.toml``.
        folder: of the job file.

    Raises:
        ProfileError: no such rule set, or its file lacks a field.
    """
    chain = _chain(name, folder)
    merged: dict[str, Any] = {"sources": {}}
    for where, data in chain:
        unknown = [key for key in data if key not in BLOCKS]
        if unknown:
            raise ProfileError(
                [f"{where}: {key}: unknown key; {nearest(key, BLOCKS)}" for key in unknown]
            )
        merged |= {key: value for key, value in data.items() if key != "limits"}
        merged["sources"] |= dict.fromkeys(data, data.get("source", NO_SOURCE))
    where, last = chain[-1]
    if not isinstance(last.get("title"), str):
        raise ProfileError(f"{where}: 'title' is missing")
    own = last if name.endswith(".toml") else {}
    if "greatest" in own:
        raise ProfileError(f"{name}: greatest: comes from the base; remove it")
    _need_numbers(where, merged, set(own))
    limits = read_limits([(SHOP, profile_files.read("rules", SHOP)), *chain])
    return RuleSet(name, merged["title"], merged, limits)


def _chain(name: str, folder: Path | None) -> list[tuple[str, dict[str, Any]]]:
    """Return the file and what it is based on, the base first."""
    if not name.endswith(".toml"):
        return [(f"profiles/rules/{name}.toml", profile_files.read("rules", name))]
    data = _own(name, folder)
    base = data.get("base", SHOP)
    known = profile_files.names("rules")
    if base not in known:
        raise ProfileError(
            f"{name}: base = '{base}': no such rule set; {nearest(str(base), known)}"
        )
    return [*_chain(base, None), (name, data)]


def _own(name: str, folder: Path | None) -> dict[str, Any]:
    try:
        return toml_data(beside(folder or Path(), name, kind="file of limits"), f"'{name}'")
    except MeasureError as error:
        raise ProfileError(f"'{name}': {error}") from None


def _need_numbers(where: str, data: Mapping[str, Any], own: set[str]) -> None:
    """Refuse blocks that lack what they need, or hold factors that are no numbers."""
    problems: list[str] = []
    for block in ("edge_distance", "spacing", "strength"):
        if not isinstance(data.get(block), dict):
            problems.append(f"{where}: [{block}] must be a table")
    if not problems:
        for block, keys in (("edge_distance", ("least",)), ("spacing", ("least", "clear"))):
            problems += _wrong_factors(f"{where}: {block}", data[block], keys, block in own)
        if data["strength"].get("document") not in ("aisc", "en"):
            problems.append(f"{where}: strength.document: must be 'aisc' or 'en'")
    if problems:
        raise ProfileError(problems)


def _wrong_factors(
    where: str, entry: dict[str, Any], keys: tuple[str, ...], own: bool
) -> list[str]:
    by = entry.get("by")
    if by in ("bolt", "hole") and not own:
        return []
    if by != "factor":
        return [f"{where}.by: must be 'factor'; tables come from a base, base = 'aisc-360-16'"]
    given = [*keys, *(k for k in ("preferred",) if k in entry)]
    return [
        f"{where}.{k}: must be a number from 0 to 20" for k in given if not _is_factor(entry.get(k))
    ]


def _is_factor(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= 20
