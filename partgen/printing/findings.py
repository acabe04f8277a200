"""Findings of the rules."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from partgen.cautions import SHORT
from partgen.job.build import Build
from partgen.measure import UNIT_WORDS, in_unit
from partgen.packet.data import finding_data
from partgen.packet.finding_text import MARKS, counts, figures, limit, number, ordered
from partgen.packet.screening import screening_data
from partgen.printing.screening import screening
from partgen.printing.text import print_json, table
from partgen.rules.finding import Finding, Status


def findings(
    build: Build, found: Sequence[Finding], *, as_json: bool, strength: bool = False
) -> None:
    """Print every finding as a table, failures first, and a line that counts them.

    Args:
        build: the job.
        found: what the rules say.
        as_json: as data instead.
        strength: also the screening strength of every mount, not only its weakest link.
    """
    if as_json:
        data: dict[str, Any] = {"job": build.job.name}
        data["findings"] = [finding_data(f) for f in found]
        data["screening"] = screening_data(build)
        print_json(data)
        return
    unit = build.job.unit
    rows: list[tuple[str, ...]] = [
        ("", "rule", "plate", "where", "measured", "required", "margin", "source")
    ]
    found = ordered(found)
    rows += [_finding_row(f, unit) for f in found]
    table(rows, numbers=range(4, 7))
    print()
    for f in found:
        if f.note and f.status is not Status.PASS:
            where, note = in_unit(f.where, unit), in_unit(f.note, unit)
            print(f"{MARKS[f.status]} {f.rule}, {f.plate}, {where}: {note}")
        if f.accepted:
            print(f"  accepted: {f.accepted}")
    screening(build, whole=strength)
    print(
        f"{build.job.name}: {counts(found)}. Lengths in {UNIT_WORDS[unit]}. "
        f"{build.shop.rule_set.title}."
    )
    print(SHORT)


def what_to_heed(found: Sequence[Finding], unit: str) -> None:
    """Print failures, warnings and what was accepted, and a line that counts."""
    for f in ordered(found):
        if f.status in (Status.FAIL, Status.WARN) or f.accepted:
            accepted = f" (accepted: {f.accepted})" if f.accepted else ""
            numbers = (
                f"{number(f.measured, f.unit, unit)}, {limit(f, unit)}; "
                if f.measured is not None
                else ""
            )
            where, note = in_unit(f.where, unit), in_unit(f.note, unit)
            print(f"  {MARKS[f.status]} {f.rule}, {f.plate}, {where}: {numbers}{note}{accepted}")
    print(f"  rules: {counts(found)}")


def _finding_row(f: Finding, unit: str) -> tuple[str, ...]:
    mark = MARKS[f.status] + (" (accepted)" if f.accepted else "")
    return (mark, f.rule, f.plate, in_unit(f.where, unit), *figures(f, unit), f.source)
