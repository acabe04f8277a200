"""Hardware, cut list and sheets on the page."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from partgen.cut.ready import Ready
from partgen.measure import length_text, shown
from partgen.packet.hardware import Item
from partgen.packet.html import Html, inside, picture, section, table, tag
from partgen.packet.mass import mass_figure, mass_text, mass_unit
from partgen.packet.sheet_picture import sheet_picture
from partgen.plates.plate import Plate
from partgen.sheets.cut_files import sheet_title
from partgen.sheets.cut_plans import Asked, SheetPlan

BLANK = tag("span", class_="blank")


def hardware_section(items: Sequence[Item]) -> Html:
    """Return what to buy, with blanks for grade and torque; nothing where there is none."""
    if not items:
        return inside()
    rows = [(str(i.count), i.item, i.size, i.mount, i.note, _blank(i), _blank(i)) for i in items]
    head = ("count", "item", "size", "for", "note", "grade", "torque")
    note = "Torque and grade are the shop's to fill in, from the maker of the joint and the bolt."
    return section("Hardware", "hardware", table(head, rows, (0,)), tag("p", note, class_="source"))


def _blank(item: Item) -> Html:
    return BLANK if item.item in ("bolt", "nut") else inside()


def cut_section(ready: Ready) -> Html:
    """Return the cut list with its totals, as the plates go on the table."""
    build = ready.build
    unit = build.job.unit
    head = ("plate", "count", "stock", f"size {unit}", f"cut {unit}", "pierces", "holes",
            f"{mass_unit(unit)} each, as cut", mass_unit(unit))  # fmt: skip
    rows = [_cut_row(plate, ready.holes_of(plate.label, unit), unit) for plate in build.plates]
    mass = fsum(p.mass * p.count for p in build.plates)
    length = fsum(p.cut_length * p.count for p in build.plates)
    pierces = sum(len(p.outlines) * p.count for p in build.plates)
    far = f"{length / 1000:.2f} m" if unit == "mm" else f"{length / 304.8:.1f} ft"
    count, weight = sum(p.count for p in build.plates), mass_text(mass, unit)
    total = f"In all {count} plates, {weight}, {far} of cut, "
    return section(
        "Cut list",
        "cut-list",
        table(head, rows, (1, 3, 4, 5, 7, 8)),
        tag("p", f"{total}{pierces} pierces."),
    )


def _cut_row(plate: Plate, holes: str, unit: str) -> tuple[str, ...]:
    x0, y0, x1, y1 = plate.outline.box
    digits = 1 if unit == "mm" else 2
    return (
        plate.label,
        str(plate.count),
        f"{length_text(plate.thickness, unit)} {plate.material.name}",
        f"{shown(x1 - x0, unit, digits)} x {shown(y1 - y0, unit, digits)}",
        shown(plate.cut_length, unit, digits),
        str(len(plate.outlines)),
        holes,
        mass_figure(plate.mass, unit),
        mass_figure(plate.mass * plate.count, unit),
    )


def sheets_section(plans: Sequence[SheetPlan], unit: str, asked: Asked) -> Html:
    """Return every sheet used, drawn, with what lies on it and what is ``asked`` for."""
    if not plans:
        text = "No layout: a rule stops this job, or it has no plates."
        return section("Sheets", "sheets", tag("p", text))
    figures = []
    for found in plans:
        nest, place = found.nest, (found.sheet, found.number)
        used = found.used
        names = [name for name, _ in nest.placed(*place)]
        tally = ", ".join(f"{names.count(n)} x {n}" for n in dict.fromkeys(names))
        left = f"{shown(used.leftover, unit, 0 if unit == 'mm' else 1)} {unit}"
        figures.append(tag("h3", sheet_title(nest, *place, unit)))
        text = f"{tally}. {100 * used.filled:.0f} % metal on the used length; {left} left."
        figures.append(picture(sheet_picture(found, unit, asked), text))
    return section("Sheets", "sheets", *figures)
