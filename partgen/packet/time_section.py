"""Cutting time, cost and tolerances on the page.

Time and cost come from the shop's own feeds and rates. Tolerances: ISO 9013 against what the fit
allows; sizes on which nothing hangs are only counted.
"""

from __future__ import annotations

from collections.abc import Sequence

from partgen.cut.ready import Ready
from partgen.cut.tolerance import TIGHT, tolerances
from partgen.job.build import Build
from partgen.measure import in_unit
from partgen.packet.cut_sheets import grouped, hole_row, notes, time_rows, tolerance_row
from partgen.packet.html import Html, bullets, inside, section, table, tag
from partgen.sheets.cut_plans import SheetPlan


def time_section(ready: Ready, plans: Sequence[SheetPlan]) -> Html:
    """Return time and cost of every sheet, work at holes, and what to heed at the table."""
    unit = ready.build.job.unit
    rows = time_rows(plans, unit)
    holes = [hole_row(hole, unit) for hole in ready.holes if hole.drill]
    heed = [
        f"{in_unit(note, unit)}: {', '.join(plates)}"
        for note, plates in grouped(notes(ready, plans)).items()
    ]
    if not (rows or holes or heed):
        return inside()
    head = ("plate", "sheet", "number", f"torch on {unit}", "pierces", f"travel {unit}",
            f"at least {unit}", "minutes", "cost")  # fmt: skip
    drill = ("plate", "hole", "policy", f"cut {unit}", f"drill to {unit}", "note")
    timed = (table(head, rows, (2, 3, 4, 5, 6, 7, 8)), tag("p", *_in_all(ready.build, plans)))
    return section(
        "Cutting time and cost",
        "time",
        *(timed if rows else ()),
        *((tag("h3", "Holes to drill"), table(drill, holes, (3, 4))) if holes else ()),
        *((tag("h3", "At the table"), bullets(heed)) if heed else ()),
    )


def _in_all(build: Build, plans: Sequence[SheetPlan]) -> tuple[Html | str, ...]:
    efforts = [p.effort for p in plans if p.effort]
    seconds = [e.seconds for e in efforts if e.seconds is not None]
    costs = [e.cost for e in efforts if e.cost is not None]
    words = []
    if seconds:
        words.append(f"In all {sum(seconds) / 60:.1f} minutes at the machine")
    if costs:
        words.append(f"{sum(costs):.2f} in your money for machine, cut length and pierces")
    else:
        words.append("no cost: neither the cutting profile nor the job gives a rate")
    if len(seconds) < len(efforts):
        words.append("sheets without a feed for their thickness not counted")
    source = f"Feeds and pierce times: {build.shop.cutting.source}."
    return "; ".join(words) + ". ", tag("span", source, class_="source")


def tolerance_section(ready: Ready) -> Html:
    """Return what the process holds where a fit hangs on it, the tight ones first."""
    unit = ready.build.job.unit
    every = tolerances(ready)
    needed = [t for t in every if t.need is not None]
    if not needed:
        return inside()
    needed.sort(key=lambda t: (not t.verdict.startswith(TIGHT), t.deviation is not None))
    head = ("plate", "size", f"nominal {unit}", f"plus or minus {unit}", f"fit allows {unit}",
            "verdict", "source")  # fmt: skip
    tight = sum(t.verdict.startswith(TIGHT) for t in needed)
    grade = ready.build.shop.cutting.tolerance_class
    words = (
        f"ISO 9013 class {grade} against what the fit allows: {tight} of {len(needed)} sizes may "
        f"come out worse than the fit takes. Nothing hangs on {len(every) - len(needed)} more: "
        "see tolerances.csv. Screening only; measure the coupon."
    )
    rows = [tolerance_row(t, unit) for t in needed]
    return section("Tolerances", "tolerances", tag("p", words), table(head, rows, (2, 3, 4)))
