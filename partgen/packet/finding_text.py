"""Findings in words and numbers, the same on the screen and on the page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from partgen.measure import in_unit, per_unit, shown, shown_force
from partgen.packet.tables import csv_bytes
from partgen.rules.finding import Finding, Status

MARKS = {
    Status.PASS: "pass",
    Status.WARN: "WARN",
    Status.FAIL: "FAIL",
    Status.NOT_COVERED: "not covered",
}
ORDER = [Status.FAIL, Status.WARN, Status.NOT_COVERED, Status.PASS]


def ordered(found: Iterable[Finding]) -> list[Finding]:
    """Return findings with failures first, then what to heed, passes last."""
    return sorted(found, key=lambda f: ORDER.index(f.status))


def number(value: float | None, kind: str, unit: str) -> str:
    """Return a measured or required value: lengths in the job's unit, others with their own.

    Examples:
        >>> number(25.4, "mm", "in"), number(1.5, "1", "in"), number(12, "deg", "in")
        ('1.000', '1.50', '12.00 deg')
    """
    if value is None:
        return "-"
    value = round(value, 6) + 0.0
    if kind == "N":
        return shown_force(value, unit)
    if kind == "mm":
        return shown(value, unit, 2 if unit == "mm" else 3)
    return f"{value:.2f}" + ("" if kind == "1" else f" {kind}")


def limit(finding: Finding, unit: str) -> str:
    """Return what a rule asks for: "needs 22.00", or "at most 22.00" where it is an upper limit."""
    word = "at most" if finding.at_most else "needs"
    return f"{word} {number(finding.required, finding.unit, unit)}"


def figures(finding: Finding, unit: str) -> tuple[str, str, str]:
    """Return measured, required and margin for a table; an upper limit says so."""
    required = number(finding.required, finding.unit, unit)
    if finding.at_most and finding.required is not None:
        required = limit(finding, unit)
    measured, margin = (number(v, finding.unit, unit) for v in (finding.measured, finding.margin))
    return measured, required, margin


def findings_list(found: Sequence[Finding], unit: str) -> bytes:
    """Return every finding for a spreadsheet, failures first; lengths in the job's unit."""
    head = ("status", "rule", "plate", "where", "measured", "limit", "required", "margin", "unit",
            "source", "note", "accepted")  # fmt: skip

    def row(f: Finding) -> tuple[object, ...]:
        kind = unit if f.unit == "mm" else f.unit
        factor = per_unit(unit) if f.unit == "mm" else 1.0
        measured, required, margin = (
            "" if v is None else round(v / factor, 4) + 0.0
            for v in (f.measured, f.required, f.margin)
        )
        limit_word = "" if f.required is None else "at most" if f.at_most else "at least"
        return (MARKS[f.status], f.rule, f.plate, in_unit(f.where, unit), measured, limit_word,
                required, margin, "" if measured == "" else kind, f.source,
                in_unit(f.note, unit), f.accepted)  # fmt: skip

    return csv_bytes(head, (row(f) for f in ordered(found)))


def counts(found: Sequence[Finding]) -> str:
    """Return how many findings there are of each status."""
    tally = [(status, sum(f.status is status for f in found)) for status in ORDER[::-1]]
    return ", ".join(f"{count} {status}" for status, count in tally if count)
