"""How the sheets are cut: time, drill work, notes, programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from partgen.cautions import TORCH_OFF
from partgen.cut.effort import Effort
from partgen.cut.holes import HoleWork
from partgen.entries.cutting import Cutting
from partgen.measure import in_unit, kerf_text, length_text, shown
from partgen.packet.cut_sheets import grouped, notes
from partgen.sheets.cut_plans import SheetPlan, Work
from partgen.tasks.making import Made


def size_text(work: Work, unit: str) -> str:
    """Return what the DXF files say about the kerf."""
    if not work.way.kerf:
        return "nominal size, kerf not compensated"
    return f"kerf {kerf_text(work.way.kerf, unit)} compensated: set none at the machine"


def how_cut(result: Made) -> None:
    """Print time by sheet, what is drilled, what to heed, and the motion programs' caution."""
    unit = result.build.job.unit
    time_of_sheets(result.plans, unit)
    _drilled(result.ready.holes, unit)
    heed(notes(result.ready, result.plans), unit)
    programs_text(result.files, result.work, result.build.shop.cutting, unit)


def _drilled(holes: Sequence[HoleWork], unit: str) -> None:
    """Print how many holes are drilled to each size, and in which parts."""
    sizes: dict[float, list[HoleWork]] = {}
    for work in holes:
        if work.drill:
            sizes.setdefault(work.drill, []).append(work)
    for size, found in sizes.items():
        parts = ", ".join(dict.fromkeys(work.plate.split("/")[0] for work in found))
        many = f"{len(found)} holes" if len(found) > 1 else "1 hole"
        print(f"  drill {length_text(size, unit)}: {many} in {parts}; holes.csv has each")


def time_of_sheets(plans: Sequence[SheetPlan], unit: str) -> None:
    """Print torch-on length, pierces, time, cost and travel of each sheet."""
    for p in plans:
        cut, kind = p.motion or p.plan, p.nest.stock.text(unit) + ", " if p.nest.stock else ""
        print(
            f"  cut {kind}{p.sheet}, number {p.number}: {shown(cut.length, unit, 0)} {unit}, "
            f"{cut.pierces} pierces, {_time(p.effort)}, travel {shown(cut.travel, unit, 0)} {unit} "
            f"(no order less than {shown(cut.least_travel, unit, 0)})"
        )


def _time(effort: Effort | None) -> str:
    """Return time and cost of a sheet in words."""
    if effort is None:
        return "no time: thickness not known"
    if effort.seconds is None:
        return "no feed for this thickness"
    cost = "" if effort.cost is None else f", cost {effort.cost:.2f}"
    return f"{effort.seconds / 60:.1f} min{cost}"


def heed(lines: Iterable[str], unit: str) -> None:
    """Print each note once, with the plates it is about."""
    for note, plates in grouped(lines).items():
        print(f"  note: {in_unit(note, unit)}: {', '.join(plates)}")


def programs_text(files: Iterable[str], work: Work, process: Cutting, unit: str) -> None:
    """Print how many motion programs there are, and their caution."""
    programs = sum(name.startswith("motion/") for name in files)
    if programs:
        kerf = work.motion_way(process).kerf
        print(
            f"{programs} motion programs (kerf {kerf_text(kerf, unit)} compensated, marks left "
            f"out). {TORCH_OFF}."
        )
