"""How the sheets are cut: time, drill work, notes, programs."""

from __future__ import annotations

from partgen.cut.motion import WARNING
from partgen.measure import in_unit, kerf_text, length_text, shown
from partgen.packet.cut_sheets import grouped, notes
from partgen.tasks.making import Made


def size_text(result: Made) -> str:
    """Return what the DXF files say about the kerf."""
    kerf, unit = result.work.way.kerf, result.build.job.unit
    if not kerf:
        return "nominal size, kerf not compensated"
    return f"kerf {kerf_text(kerf, unit)} compensated: set none at the machine"


def how_cut(result: Made) -> None:
    """Print time by sheet, what is drilled, what to heed, and the motion programs' caution."""
    unit = result.build.job.unit
    for p in result.plans:
        e = p.effort
        if e is None or p.nest.stock is None:
            continue
        time = "no feed for this thickness" if e.seconds is None else f"{e.seconds / 60:.1f} min"
        cost = "" if e.cost is None else f", cost {e.cost:.2f}"
        print(
            f"  cut {p.nest.stock.text(unit)}, {p.sheet}, number {p.number}: "
            f"{shown(e.length, unit, 0)} {unit}, {e.pierces} pierces, {time}{cost}, travel "
            f"{shown(e.travel, unit, 0)} {unit} (no order less than "
            f"{shown(e.least_travel, unit, 0)})"
        )
    for work in result.ready.holes:
        if work.drill:
            print(f"  drill {length_text(work.drill, unit)}: {work.plate}, hole {work.hole}")
    for note, plates in grouped(notes(result.ready, result.plans)).items():
        print(f"  note: {in_unit(note, unit)}: {', '.join(plates)}")
    programs = sum(name.startswith("motion/") for name in result.files)
    if programs:
        kerf = result.work.motion_way(result.build.shop.cutting).kerf
        print(
            f"{programs} motion programs (kerf {kerf_text(kerf, unit)} compensated, marks left "
            f"out). {WARNING}."
        )
