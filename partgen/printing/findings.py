"""Findings of the rules."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from partgen.build import Build
from partgen.cautions import SHORT
from partgen.measure import in_unit, shown
from partgen.packet.data import finding_data
from partgen.packet.screening import screening_data
from partgen.printing.screening import force_text, screening
from partgen.printing.text import print_json, table
from partgen.rules.finding import Finding, Status

MARKS = {
    Status.PASS: "pass",
    Status.WARN: "WARN",
    Status.FAIL: "FAIL",
    Status.NOT_COVERED: "not covered",
}
ORDER = [Status.FAIL, Status.WARN, Status.NOT_COVERED, Status.PASS]


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
    ordered = sorted(found, key=lambda f: ORDER.index(f.status))
    rows += [_finding_row(f, unit) for f in ordered]
    table(rows, numbers=range(4, 7))
    print()
    for f in ordered:
        if f.note and f.status is not Status.PASS:
            where, note = in_unit(f.where, unit), in_unit(f.note, unit)
            print(f"{MARKS[f.status]} {f.rule}, {f.plate}, {where}: {note}")
        if f.accepted:
            print(f"  accepted: {f.accepted}")
    screening(build, whole=strength)
    print(f"{build.job.name}: {_counts(found)}. Lengths in {unit}. {build.shop.rule_set.title}.")
    print(SHORT)


def what_to_heed(found: Sequence[Finding], unit: str) -> None:
    """Print failures, warnings and what was accepted, and a line that counts."""
    for f in sorted(found, key=lambda f: ORDER.index(f.status)):
        if f.status in (Status.FAIL, Status.WARN) or f.accepted:
            accepted = f" (accepted: {f.accepted})" if f.accepted else ""
            numbers = (
                f"{_number(f.measured, f.unit, unit)}, needs {_number(f.required, f.unit, unit)}; "
                if f.measured is not None
                else ""
            )
            where, note = in_unit(f.where, unit), in_unit(f.note, unit)
            print(f"  {MARKS[f.status]} {f.rule}, {f.plate}, {where}: {numbers}{note}{accepted}")
    print(f"  rules: {_counts(found)}")


def _finding_row(f: Finding, unit: str) -> tuple[str, ...]:
    numbers = [_number(v, f.unit, unit) for v in (f.measured, f.required, f.margin)]
    mark = MARKS[f.status] + (" (accepted)" if f.accepted else "")
    return (mark, f.rule, f.plate, in_unit(f.where, unit), *numbers, f.source)


def _number(value: float | None, kind: str, unit: str) -> str:
    if value is None:
        return "-"
    value = round(value, 6) + 0.0
    if kind == "N":
        return force_text(value, unit)
    return shown(value, unit, 2 if unit == "mm" else 3) if kind == "mm" else f"{value:.2f}"


def _counts(found: Sequence[Finding]) -> str:
    tally = [(status, sum(f.status is status for f in found)) for status in ORDER[::-1]]
    return ", ".join(f"{count} {status}" for status, count in tally if count)
