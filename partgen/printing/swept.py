"""A sweep."""

from __future__ import annotations

from pathlib import Path

from partgen.cautions import SHORT
from partgen.measure import UNIT_WORDS, length_text, per_unit, shown
from partgen.printing.text import print_json, table
from partgen.sweep import Point
from partgen.tasks.adjusting import Swept


def swept(result: Swept, folder: Path, *, as_json: bool) -> None:
    """Print the job at each value of the measure, and where table and curves are."""
    found, unit = result.sweep, result.sweep.unit
    if as_json:
        one = 1.0 if found.after else per_unit(unit)  # a count has no unit
        points = [
            {"value": round(p.value / one, 9), "problem": p.problem, "fails": p.fails}
            for p in found.points
        ]
        print_json({"measure": found.measure, "points": points, "folder": str(folder),
                    "files": sorted(result.files)})  # fmt: skip
        return
    head = (found.measure, "mount", "gap", "spacers", "clearance", "bolt", "least margin", "fails")
    table([head, *(row for p in found.points for row in _rows(p, unit))])
    for point in found.points:
        if point.problem:
            print(f"{shown(point.value, unit)}{found.after}: {point.problem}")
    names = ", ".join(sorted(n for n in result.files if not n.endswith(".json")))
    print(f"{found.job}. Lengths in {UNIT_WORDS[unit]}. {folder}: {names}")
    print(SHORT)


def _rows(point: Point, unit: str) -> list[tuple[str, ...]]:
    value = shown(point.value, unit)
    if point.build is None:
        return [(value, "cannot be built", *[""] * 6)]
    margin = _number(point.least.margin, unit) if point.least else "-"
    rows: list[tuple[str, ...]] = []
    for mount in point.build.mounts:
        inner, outer = (shown(s, unit) for s in mount.fit.spacers)
        chosen = mount.bolt_fit
        bolt = length_text(chosen.length, unit) if chosen else "none"
        rows.append(
            (value, mount.name, shown(mount.fit.gap, unit), f"{inner} + {outer}",
             _number(mount.fit.clearance, unit), bolt, margin, str(point.fails))
        )  # fmt: skip
    return rows or [(value, *["-"] * 5, margin, str(point.fails))]


def _number(mm: float | None, unit: str) -> str:
    return "-" if mm is None else shown(mm, unit, 2 if unit == "mm" else 3)
