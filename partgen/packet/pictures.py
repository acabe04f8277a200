"""Pictures of a job: every plate on one page, each mount's section, each sheet filled."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.entries.stock import Stock
from partgen.job.assembly import assemblies
from partgen.job.build import Build
from partgen.packet.assembly_picture import assembly_picture
from partgen.packet.mount_section import mount_section
from partgen.packet.picture import METAL, label, line, path, svg
from partgen.packet.sheet_picture import sheet_pictures
from partgen.plates.plate import Plate
from partgen.sheets.cut_files import slug
from partgen.sheets.cut_plans import Asked, SheetPlan

ROW = 900.0  # mm, width of a row of plates


def pictures(build: Build, plans: Sequence[SheetPlan], asked: Asked) -> dict[str, bytes]:
    """Return every picture of a job by its path in the output folder.

    Args:
        build: the job, its plates as they are drawn.
        plans: how each sheet is cut.
        asked: what the sheets' pictures show.
    """
    unit, job = build.job.unit, slug(build.job.path.stem)
    files = {f"pictures/{job}_plates.svg": plates_picture(build.plates, build.job.name, unit)}
    for assembly in assemblies(build):
        files[f"pictures/{job}_{assembly.name}_assembly.svg"] = assembly_picture(assembly)
    for mount in build.mounts:
        files[f"pictures/{job}_{mount.name}_section.svg"] = mount_section(build, mount)
    return files | sheet_pictures(plans, job, unit, asked)


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
