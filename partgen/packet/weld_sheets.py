"""The weld map's files: its picture, and a list of the welds in their sequence."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from partgen.job.build import Build
from partgen.measure import in_unit, shown
from partgen.packet.tables import csv_bytes
from partgen.packet.weld_picture import weld_picture
from partgen.welds.weld import Weld
from partgen.welds.weld_map import weld_map

HOLD = (
    "HOLD POINT after tacking: real bolt and dummy spacer in, a second person examines, then cycle "
    "the joint from bump to droop with springs out; only then weld"
)


def weld_sheets(build: Build, job: str) -> dict[str, bytes]:
    """Return the weld map's files by name; ``job`` is for the picture's name."""
    welds, notes = weld_map(build)
    files = {"weld-map.csv": weld_list(welds, notes, build.job.unit)}
    if welds:
        files[f"pictures/{job}_weld-map.svg"] = weld_picture(build, welds)
    return files


def weld_list(welds: Sequence[Weld], notes: Sequence[str], unit: str) -> bytes:
    """Return the list of welds in their sequence, the hold point ahead."""
    head = (
        "step", "plate", "plates", "edge", "to", f"edge {unit}", f"leg {unit}", "fillets",
        f"weld {unit}", f"to flange edge {unit}", "note",
    )  # fmt: skip
    rows: list[tuple[str, ...]] = [("hold", *[""] * 9, HOLD)]
    rows += [weld_row(w, unit) for w in welds]
    rows.append(("all", *[""] * 7, all_welds(welds, unit), "", ""))
    rows += [("note", *[""] * 9, in_unit(note, unit)) for note in notes]
    return csv_bytes(head, rows)


def weld_row(w: Weld, unit: str) -> tuple[str, ...]:
    """Return one weld's line of the list."""
    digits = 1 if unit == "mm" else 3
    return (
        str(w.step),
        w.plate,
        str(w.count),
        in_unit(w.seam.edge, unit),
        in_unit(w.seam.mate, unit),
        shown(w.edge_length, unit, digits),
        w.seam.kind if w.leg is None else shown(w.leg, unit),
        str(w.seam.sides),
        shown(w.length, unit, digits),
        "" if w.flange is None else shown(w.flange, unit, digits),
        in_unit("; ".join(w.notes), unit),
    )


def all_welds(welds: Sequence[Weld], unit: str) -> str:
    """Return the length of all fillets on all plates, in the job's unit."""
    total = fsum(w.total for w in welds)
    return shown(total, unit, 0 if unit == "mm" else 1)
