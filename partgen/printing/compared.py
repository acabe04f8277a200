"""Two builds against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from partgen.cautions import SHORT
from partgen.measure import in_unit, shown
from partgen.packet.data import finding_data, totals
from partgen.packet.mass import mass_figure, mass_text
from partgen.printing.text import print_json, table
from partgen.rules.finding import Finding
from partgen.tasks.comparison import Comparison, PlateChange

WORDS = {"keep": "keep", "recut": "RECUT", "shim": "RECUT", "new": "CUT NEW", "gone": "not needed"}
ORDER = ("recut", "shim", "new", "gone", "keep")


def compared(found: Comparison, saved: Path | None, *, as_json: bool) -> None:
    """Print what changes from one build to the other, and whether it was saved."""
    if as_json:
        print_json({**comparison_data(found), "saved": None if saved is None else str(saved)})
        return
    unit = found.after.job.unit
    print(_title(found))
    _measures(found)
    ranked = sorted(found.plates, key=lambda p: ORDER.index(p.state))
    table([_plate_row(p, unit) for p in ranked], indent="  ")
    if found.values:
        rows = [("mount", f"figure, {unit}", "before", "after")]
        rows += [(v.mount, v.what, v.before, v.after) for v in found.values]
        table(rows, indent="  ")
    for h in found.hardware:
        word = "buy or make" if not h.before else "not needed" if not h.after else "count"
        pieces = f"{h.before} -> {h.after}" if h.before and h.after else f"{h.before or h.after}"
        print(f"  {word}: {pieces} {h.item} {h.size} ({h.mount})")
    _findings("finding gone", found.lost, unit)
    _findings("NEW FINDING", found.gained, unit)
    print(f"  {_totals(found)}")
    print(_counts(found.plates))
    if found.stops:
        print("A rule fails with these numbers: partgen make would stop. See partgen check.")
    if saved is not None:
        print(f"saved: {saved}")
    print(SHORT)


def comparison_data(found: Comparison) -> dict[str, Any]:
    """Return what changes as plain data; lengths of plates in mm, figures as printed."""
    return {
        "before": found.before.job.path.name,
        "after": found.after.job.path.name,
        "plates": [asdict(plate) for plate in found.plates],
        "mounts": [asdict(value) for value in found.values],
        "hardware": [asdict(item) for item in found.hardware],
        "findings_gone": [finding_data(f) for f in found.lost],
        "findings_new": [finding_data(f) for f in found.gained],
        "totals_before": totals(found.before),
        "totals_after": totals(found.after),
        "stopped": found.stops,
    }


def _title(found: Comparison) -> str:
    before, after = found.before.job, found.after.job
    if before.path == after.path:
        return after.name
    return f"{before.path.name} ({before.name}) -> {after.path.name} ({after.name})"


def _measures(found: Comparison) -> None:
    job = found.after.job
    old, new = found.before.job.measures, job.measures
    for name in dict.fromkeys([*old, *new]):
        a, b = old.get(name), new.get(name)
        if a != b:
            before, after = ("-" if v is None else shown(v, job.unit) for v in (a, b))
            print(f"  {name}: {before} -> {after}{job.unit_of(name)}")


def _plate_row(plate: PlateChange, unit: str) -> tuple[str, ...]:
    told = [in_unit(text, unit) for text in plate.changes]
    if plate.shim is not None:
        each = shown(plate.shim, unit)
        told.append(f"or keep, with a shim of {each} {unit} on each side of the joint")
    if plate.state == "keep" and plate.count_before != plate.count_after:
        more = plate.count_after - plate.count_before
        told.append(f"cut {more} more" if more > 0 else f"{-more} fewer")
    pieces = (
        f"{plate.count_after}"
        if plate.count_before == plate.count_after
        else f"{plate.count_before} -> {plate.count_after}"
    )
    return WORDS[plate.state], f"{pieces} x", plate.label, "; ".join(told)


def _findings(word: str, findings: Sequence[Finding], unit: str) -> None:
    for f in findings:
        note = f": {in_unit(f.note, unit)}" if f.note else ""
        print(f"  {word}: {f.status} {f.rule}, {f.plate}, {in_unit(f.where, unit)}{note}")


def _totals(found: Comparison) -> str:
    (before, after), unit = found.mass, found.after.job.unit
    text = f"mass of plates: {mass_figure(before, unit)} -> {mass_text(after, unit)}"
    old, new = totals(found.before), totals(found.after)
    if "cost" in old and "cost" in new:
        text += f"; cost {old['cost']:.2f} -> {new['cost']:.2f} {new['currency']}"
    return text


def _counts(plates: Sequence[PlateChange]) -> str:
    keep = sum(p.state == "keep" for p in plates)
    cut = sum(p.state in ("recut", "shim", "new") for p in plates)
    shim = sum(p.shim is not None for p in plates)
    text = f"{keep} plates can be kept, {cut} must be cut"
    return f"{text}; {shim} of those before would do with a shim" if shim else text
