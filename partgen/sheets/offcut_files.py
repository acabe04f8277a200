"""What is left of each sheet, for the next job: a DXF and its ``[[sheet]]`` entry."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.dxf.write import Drawing, Version, write
from partgen.entries.stock import Stock, read_stock
from partgen.errors import GeometryError, PartgenError
from partgen.fields import Reading
from partgen.geometry.outline import Outline
from partgen.geometry.trim import less
from partgen.layout import Sheet, offcut
from partgen.measure import per_unit
from partgen.sheets.cut_files import sheet_file
from partgen.sheets.nest import Nest

FOLDER = "offcuts"
ENTRIES = f"{FOLDER}/offcuts.toml"
UNKNOWN = 'plate = ""                      # partgen was not told: write it, as "6 mm S355"'
NEAR = 1e-6  # mm; an opening this near the edge is part of it


def offcut_files(
    nests: Sequence[Nest],
    gap: float,
    job: str,
    unit: str,
    version: Version = "R2000",
    *,
    title: str,
) -> dict[str, bytes]:
    """Return the leftovers of sheets by path in the output folder; none if all is scrap.

    Args:
        nests: what is laid out on them.
        gap: left between the last plate and the leftover [mm].
        job: start of the files' names.
        unit: of the files.
        version: of the DXF.
        title: whose leftovers they are, for the head of the entries.
    """
    files: dict[str, bytes] = {}
    lines = [
        f"# Offcuts of {title}. Copy the folder 'offcuts' beside the next job, and",
        "# these entries into it; remove them from there once they are used.",
    ]
    for nest in nests:
        for used in nest.layout.used:
            left = offcut(nest.sheet(used.sheet), used, gap=gap)
            if left is None:
                continue
            whole = bitten(left)
            if whole is None:
                lines += ["", f"# {used.sheet}, number {used.number}: measure what is left"]
                continue
            path = offcut_file(nest, used.sheet, used.number, job, unit)
            files[path] = _dxf(whole, unit, version)
            lines += _entry(nest.stock, whole, path, unit)
    return {**files, ENTRIES: "\n".join([*lines, ""]).encode("utf-8")} if files else {}


def offcut_file(nest: Nest, sheet: str, number: int, job: str, unit: str) -> str:
    """Return the path, in the output folder, of what is left of a sheet."""
    name = sheet_file(nest, sheet, number, job, unit)
    return f"{FOLDER}/{name.replace('_sheet-', '_offcut-')}"


def bitten(left: Sheet) -> Sheet | None:
    """Return an offcut whose openings all lie inside: one that meets the edge is cut out of it.

    None where what is left has to be measured.
    """
    outline, inside = left.outline, list[Outline]()
    try:
        for opening in left.openings:
            view, edge = opening.polygon("inside"), outline.polygon("inside")
            if edge.contains(view) and edge.exterior.distance(view) > NEAR:
                inside.append(opening)
            elif edge.intersects(view):
                outline = max(less(outline, opening).outlines, key=lambda o: o.area)
    except (GeometryError, ValueError):
        return None
    kept = [o for o in inside if outline.polygon("outside").contains(o.polygon("inside"))]
    x, y = outline.box[:2]
    moved = tuple(o.moved(-x, -y) for o in kept)
    return Sheet(left.name, outline.moved(-x, -y), openings=moved)


def _dxf(sheet: Sheet, unit: str, version: Version) -> bytes:
    drawing = Drawing((sheet.outline,), sheet.openings, comments=(f"offcut: {sheet.name}",))
    return write(drawing, unit="in" if unit == "in" else "mm", version=version)


def _entry(stock: Stock | None, sheet: Sheet, path: str, unit: str) -> list[str]:
    x0, y0, x1, y1 = sheet.outline.box
    sides = "x".join(f"{side / per_unit(unit):.0f}" for side in (x1 - x0, y1 - y0))
    return [
        "",
        "[[sheet]]",
        f'plate = "{_plate_text(stock, unit)}"' if stock else UNKNOWN,
        f'outline = "{path}"',
        f'name = "offcut-{sides}"',
    ]


def _plate_text(stock: Stock, unit: str) -> str:
    """Return the plate as it is typed; to the last digit where the usual words would round."""
    text = stock.text(unit)
    try:
        same = read_stock(text, Reading(unit)) == stock
    except (PartgenError, ValueError):
        same = False
    return text if same else f"{stock.thickness!r} mm {stock.grade}"
