"""Pictures of a job: every plate on one page, each mount's section, each sheet filled."""

from __future__ import annotations

from partgen.entries.stock import Stock
from partgen.geometry.outline import Outline
from partgen.job.assembly import assemblies
from partgen.job.build import Build
from partgen.measure import shown
from partgen.packet.assembly_picture import assembly_picture
from partgen.packet.label_place import name_inside
from partgen.packet.mount_section import mount_section
from partgen.packet.picture import BARE, METAL, label, line, path, svg
from partgen.plates.plate import Plate
from partgen.sheets.cut_files import sheet_file, slug
from partgen.sheets.nest import Nest

ROW = 900.0  # mm, width of a row of plates


def pictures(build: Build, nests: list[Nest]) -> dict[str, bytes]:
    """Return every picture of a job by its path in the output folder."""
    unit, job = build.job.unit, slug(build.job.path.stem)
    files = {f"pictures/{job}_plates.svg": plates_picture(build.plates, build.job.name, unit)}
    for assembly in assemblies(build):
        files[f"pictures/{job}_{assembly.name}_assembly.svg"] = assembly_picture(assembly)
    for mount in build.mounts:
        files[f"pictures/{job}_{mount.name}_section.svg"] = mount_section(build, mount)
    for nest in nests:
        for used in nest.layout.used:
            name = sheet_file(nest, used.sheet, used.number, job, unit).replace(".dxf", ".svg")
            files[f"pictures/{name}"] = sheet_picture(nest, used.sheet, used.number, unit)
    return files


def plates_picture(plates: list[Plate], title: str, unit: str) -> bytes:
    """Return all plates in rows, each with name, count and stock; true to scale."""
    size = max(8.0, min(14.0, max(p.outline.box[3] - p.outline.box[1] for p in plates) / 12))
    body: list[str] = []
    x = y = row = width = 0.0
    for plate in plates:
        x0, y0, x1, y1 = plate.outline.box
        stock = Stock(plate.thickness, plate.material.name)
        lines = (plate.label, f"{plate.count} x {stock.text(unit)}")
        wide = max(x1 - x0, 0.55 * size * max(len(text) for text in lines))
        if x and x + wide > ROW:
            x, y, row = 0.0, y - row - 4 * size, 0.0
        middle, top = x + wide / 2, y
        at = plate.moved(middle - (x0 + x1) / 2, top - y1)
        body.append(path(at.outlines, METAL, size / 10))
        body += [line(mark.path, size / 14) for mark in at.marks]
        foot = top - (y1 - y0)
        body += [
            label(text, middle, foot - (k + 1) * 1.2 * size, size) for k, text in enumerate(lines)
        ]
        x, row = x + wide + 2.5 * size, max(row, y1 - y0)
        width = max(width, x)
    return svg(body, (0, y - row - 3 * size, width, 0), title, size).encode("utf-8")


def sheet_picture(nest: Nest, sheet: str, number: int, unit: str) -> bytes:
    """Return one sheet: its edge, the plates where they lie, their names where they fit."""
    stock = nest.sheet(sheet)
    x0, y0, x1, y1 = stock.outline.box
    side = max(x1 - x0, y1 - y0)
    upright = y1 - y0 > x1 - x0
    body = [path((stock.outline, *stock.openings), BARE, side / 800)]
    for name, outlines in nest.placed(sheet, number):
        lying = [_lying(o) for o in outlines] if upright else list(outlines)
        body.append(path(lying, METAL, side / 1200))
        body += name_inside(name, lying, side / 70)
    if upright:
        body[0] = path([_lying(o) for o in (stock.outline, *stock.openings)], BARE, side / 800)
        x0, y0, x1, y1 = _lying(stock.outline).box
    kind = f"{nest.stock.text(unit)}, " if nest.stock else ""
    title = f"{kind}{shown(x1 - x0, unit)} x {shown(y1 - y0, unit)} {unit}, sheet {number}"
    return svg(body, (x0, y0, x1, y1), title, side / 100).encode("utf-8")


def _lying(outline: Outline) -> Outline:
    """Return an outline of an upright sheet with the sheet's long side drawn across the page."""
    return outline.turned(-90)
