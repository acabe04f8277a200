"""What the cut means for the shop: time, cost, holes to drill, tolerances; tables and data."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

from partgen.cut.holes import HoleWork
from partgen.cut.ready import Ready
from partgen.cut.tolerance import TIGHT, Tolerance, tolerances
from partgen.entries.cutting import Cutting
from partgen.measure import in_unit, shown
from partgen.packet.data import totals
from partgen.packet.tables import csv_bytes
from partgen.sheets.cut_plans import SheetPlan, Work


def cut_sheets(ready: Ready, plans: Sequence[SheetPlan]) -> dict[str, bytes]:
    """Return the tables of the cut by file name."""
    files = {"tolerances.csv": _tolerances(ready), "holes.csv": _holes(ready)}
    if plans:
        files["cutting-time.csv"] = _times(ready, plans)
    return files


def cut_data(ready: Ready, plans: Sequence[SheetPlan], work: Work) -> dict[str, Any]:
    """Return what ``job.json`` says about the cut; totals are of the plates as they are cut."""
    data = sheets_data(plans, work, ready.build.shop.cutting)
    data["cut"]["holes"] = [asdict(hole) for hole in ready.holes]
    data["cut"]["notes"] = notes(ready, plans)
    return {**data, "totals": totals(ready.build)}


def sheets_data(plans: Sequence[SheetPlan], work: Work, process: Cutting) -> dict[str, Any]:
    """Return what was asked of the cut files, and order, time and travel of each sheet."""
    kerf = work.way.kerf
    return {
        "kerf": f"compensated in the DXF: {kerf:g} mm" if kerf else "not compensated",
        "cut": {
            **asdict(work.way),
            "one_layer": work.one_layer,
            "motion": None if work.post is None else work.post.name,
            "kerf_in_motion": work.motion_way(process).kerf if work.post else None,
            "sheets": [
                {
                    "sheet": p.sheet,
                    "number": p.number,
                    "order": [cut.loop.label for cut in p.plan.cuts],
                    "effort": asdict(p.effort) if p.effort else None,
                }
                for p in plans
            ],
        },
    }


def notes(ready: Ready, plans: Sequence[SheetPlan]) -> list[str]:
    """Return everything to heed, once."""
    tight = (
        f"{t.plate}: {t.what}: plus or minus {t.deviation:g} mm by {t.source}, {t.verdict}"
        for t in tolerances(ready)
        if t.verdict.startswith(TIGHT)
    )
    found = [
        *ready.notes,
        *tight,
        *(note for p in plans for note in p.notes),
    ]
    return list(dict.fromkeys(found))


def grouped(lines: Iterable[str]) -> dict[str, list[str]]:
    """Return the plates of each note, so that the same words need to be said only once."""
    found: dict[str, list[str]] = {}
    for line in lines:
        plate, _, note = line.partition(": ")
        found.setdefault(note, []).append(plate)
    return found


def _times(ready: Ready, plans: Sequence[SheetPlan]) -> bytes:
    unit = ready.build.job.unit
    head = ("plate", "sheet", "number", f"torch on [{unit}]", "pierces", f"travel [{unit}]",
            f"no order travels less than [{unit}]", "minutes", "cost (your money)")  # fmt: skip
    return csv_bytes(head, time_rows(plans, unit))


def time_rows(plans: Sequence[SheetPlan], unit: str) -> list[tuple[str, ...]]:
    """Return stock, sheet, number, torch on, pierces, travel and its bound, minutes, cost."""
    rows: list[tuple[str, ...]] = []
    for p in plans:
        e, stock = p.effort, p.nest.stock
        if e is None or stock is None:
            continue
        rows.append(
            (
                stock.text(unit),
                p.sheet,
                str(p.number),
                shown(e.length, unit, 1),
                str(e.pierces),
                shown(e.travel, unit, 1),
                shown(e.least_travel, unit, 1),
                "not covered: no feed" if e.seconds is None else f"{e.seconds / 60:.1f}",
                "" if e.cost is None else f"{e.cost:.2f}",
            )
        )
    return rows


def _holes(ready: Ready) -> bytes:
    unit = ready.build.job.unit
    head = ("plate", "hole", "policy", f"cut [{unit}]", f"drill to [{unit}]", "note")
    return csv_bytes(head, [hole_row(hole, unit) for hole in ready.holes])


def hole_row(work: HoleWork, unit: str) -> tuple[str, ...]:
    """Return plate, hole, policy, diameter cut, diameter drilled, note."""
    cut, drill = (shown(d, unit) if d else "" for d in (work.cut, work.drill))
    return work.plate, work.hole, work.policy, cut, drill, in_unit(work.note, unit)


def _tolerances(ready: Ready) -> bytes:
    unit = ready.build.job.unit
    head = ("plate", "size", f"nominal [{unit}]", f"plus or minus [{unit}]",
            f"fit allows [{unit}]", "verdict", "source")  # fmt: skip
    return csv_bytes(head, [tolerance_row(t, unit) for t in tolerances(ready)])


def tolerance_row(t: Tolerance, unit: str) -> tuple[str, ...]:
    """Return plate, size, nominal, plus or minus, what the fit allows, verdict, source."""
    held, need = ("" if v is None else shown(v, unit) for v in (t.deviation, t.need))
    return t.plate, t.what, shown(t.nominal, unit), held, need, t.verdict, t.source
