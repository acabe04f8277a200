"""What ``make`` made."""

from __future__ import annotations

from pathlib import Path

from partgen.cautions import SHORT
from partgen.fit.fit import Fit, pad_text
from partgen.measure import length_text, shown
from partgen.packet.data import totals
from partgen.packet.mass import mass_text
from partgen.plates.plate import Plate
from partgen.printing.cut import how_cut, size_text
from partgen.printing.findings import what_to_heed
from partgen.printing.sheets import sheets
from partgen.printing.text import print_json, table
from partgen.tasks.making import Made


def made(result: Made, folder: Path, *, as_json: bool) -> None:
    """Print what was made, what to heed and where it is."""
    if as_json:
        print_json({**result.data, "folder": str(folder)})
        return
    build, unit = result.build, result.build.job.unit
    print(build.job.name)
    for mount in build.mounts:
        print(f"  {mount.name}: {fit_text(mount.fit, unit)}")
    table([_plate_row(p, unit) for p in build.plates], indent="  ")
    print(f"  all plates: {totals_text(result)}")
    for item in result.items:
        print(f"  {item.count} {item.item} {item.size}  {item.note}")
    for nest in result.nests:
        sheets(nest, unit)
    what_to_heed(result.findings, unit)
    if result.stopped:
        print(f"STOPPED: a rule fails, no cut files. Lists are in {folder}. See partgen check.")
    else:
        count = sum(name.endswith(".dxf") for name in result.files)
        how_cut(result)
        print(f"{count} DXF files ({unit}, {size_text(result.work, unit)}) and lists: {folder}")
    print(SHORT)


def fit_text(fit: Fit, unit: str) -> str:
    """Return gap, spacers and clearances of a mount in one line."""
    inner, outer = (pad_text(pad, unit) for pad in (fit.inner, fit.outer))
    text = (
        f"gap {shown(fit.gap, unit)}, spacers {inner} inner, {outer} outer, "
        f"clearance {shown(fit.clearance, unit)} before welding"
    )
    if fit.pull_in or fit.coating:
        text += f", {shown(fit.final_clearance, unit)} welded and coated"
    return text + (f", shim {shown(fit.shim, unit)} each side" if fit.shim else "")


def totals_text(result: Made) -> str:
    """Return mass, cut length, pierces and cost of a whole job in one line."""
    data, unit = totals(result.ready.build), result.build.job.unit
    metres = data["cut_length"] / 1000
    length = f"{metres:.1f} m" if unit == "mm" else f"{metres / 0.3048:.1f} ft"
    text = (
        f"{data['pieces']} pieces, {mass_text(data['mass_kg'], unit)}, cut {length}, "
        f"{data['pierces']} pierces"
    )
    if "cost" in data:
        text += f", {data['cost']:.2f} {data['currency']}"
        if data["not_in_cost"]:
            text += f" (not in it: {', '.join(data['not_in_cost'])})"
    return text


def _plate_row(plate: Plate, unit: str) -> tuple[str, ...]:
    x0, y0, x1, y1 = plate.outline.box
    return (
        f"{plate.count} x",
        plate.label,
        f"{length_text(plate.thickness, unit)} {plate.material.name}",
        f"{shown(x1 - x0, unit, 1 if unit == 'mm' else 2)} x "
        f"{shown(y1 - y0, unit, 1 if unit == 'mm' else 2)}",
        mass_text(plate.mass, unit),
        f"rev {plate.revision}",
    )
