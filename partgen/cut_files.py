"""The files that go on the stick: one DXF for each plate and hand, one for each sheet."""

from __future__ import annotations

import re

from partgen.build import Build
from partgen.dxf import Drawing, Unit, Version, write
from partgen.measure import per_unit, shown
from partgen.nest import Nest
from partgen.plate import Plate
from partgen.stock import Stock

INSIDE_FIRST = "Openings come before outside edges. Layers name the operation."


def slug(text: str) -> str:
    """Return a file name's worth of ``text``: lower case, digits, single hyphens.

    Examples:
        >>> slug("Camping trailer / arms")
        'camping-trailer-arms'
    """
    return re.sub(r"[^a-z0-9.]+", "-", text.lower()).strip("-.")[:60] or "job"


def stock_slug(stock: Stock, unit: str) -> str:
    """Return thickness and material for a file name, decimals only.

    Examples:
        >>> stock_slug(Stock(6.35, "A36"), "in")
        '0.25in-A36'
    """
    size = f"{stock.thickness / per_unit(unit):.4f}".rstrip("0").rstrip(".")
    return f"{size}{unit}-{stock.grade}"


def plate_file(plate: Plate, job: str, unit: str) -> str:
    """Return a plate's file name: job, part, plate, hand, revision, stock, count, unit."""
    stock = stock_slug(Stock(plate.thickness, plate.material.name), unit)
    revision = f"rev{plate.revision}_" if plate.revision else ""
    name = f"{job}_{plate.part}_{plate.name}_{plate.hand}"
    return f"{name}_{revision}{stock}_x{plate.count}_{unit}.dxf"


def plate_dxf(plate: Plate, job: str, unit: Unit, version: Version) -> bytes:
    """Return the DXF of one plate, its lower left corner at (0, 0)."""
    x0, y0, _, _ = plate.outline.box
    at = plate.moved(-x0, -y0)
    stock = Stock(plate.thickness, plate.material.name)
    comments = (
        f"job: {job}",
        f"plate: {plate.label}, cut {plate.count} of {stock.text(unit)}",
        *([f"revision: {plate.revision}"] if plate.revision else []),
        INSIDE_FIRST,
    )
    drawing = Drawing(outside=(at.outline,), inside=at.outlines[:-1], comments=comments)
    return write(drawing, unit=unit, version=version)


def sheet_dxf(nest: Nest, sheet: str, number: int, unit: Unit, version: Version) -> bytes:
    """Return the DXF of one sheet with everything on it; the sheet's edge is for reference."""
    placed = nest.placed(sheet, number)
    kind = f" of {nest.stock.text(unit)}" if nest.stock else ""
    stock = nest.sheet(sheet)
    drawing = Drawing(
        outside=tuple(outlines[-1] for _, outlines in placed),
        inside=tuple(o for _, outlines in placed for o in outlines[:-1]),
        reference=(stock.outline, *stock.openings),
        comments=(f"sheet {sheet}, number {number}{kind}", INSIDE_FIRST),
    )
    return write(drawing, unit=unit, version=version)


def sheet_file(nest: Nest, sheet: str, number: int, job: str, unit: str) -> str:
    """Return a sheet's file name: job, stock, sheet, number, unit."""
    kind = f"{stock_slug(nest.stock, unit)}_" if nest.stock else ""
    name = slug(sheet.replace("#", "-"))
    return f"{job}_{kind}sheet-{name}-{number}_{unit}.dxf"


def cut_files(build: Build, nests: list[Nest], version: Version) -> dict[str, bytes]:
    """Return every cut file of a job by its path in the output folder."""
    unit: Unit = "in" if build.job.unit == "in" else "mm"
    job = slug(build.job.path.stem)
    files = {
        f"plates/{plate_file(p, job, unit)}": plate_dxf(p, build.job.name, unit, version)
        for p in build.plates
    }
    for entry in nests:
        for used in entry.layout.used:
            name = sheet_file(entry, used.sheet, used.number, job, unit)
            files[f"sheets/{name}"] = sheet_dxf(entry, used.sheet, used.number, unit, version)
    return files


def sheet_title(nest: Nest, sheet: str, number: int, unit: str) -> str:
    """Return what a sheet is called in pictures and tables."""
    x0, y0, x1, y1 = nest.sheet(sheet).outline.box
    kind = f"{nest.stock.text(unit)}, " if nest.stock else ""
    return f"{kind}{shown(x1 - x0, unit)} x {shown(y1 - y0, unit)} {unit}, number {number}"
