"""The files that go on the stick: one DXF for each plate and hand, one for each sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from partgen.cut.plan import Plan
from partgen.cut.ready import Ready
from partgen.dxf.item import mark_items
from partgen.dxf.read import INSIDE, LEAD, ONE_LAYER, OUTSIDE, REFERENCE
from partgen.dxf.write import Item, Unit, Version, write_items
from partgen.entries.cutting import Cutting
from partgen.entries.stock import Stock
from partgen.measure import per_unit, shown
from partgen.plates.plate import Plate
from partgen.sheets.cut_plans import SheetPlan, Work, motion_program, plate_plan
from partgen.sheets.nest import Nest

INSIDE_FIRST = "What lies inside a loop comes before it. Layers name the operation."
DEVICES = {"con", "prn", "aux", "nul"} | {f"{d}{k}" for d in ("com", "lpt") for k in range(10)}


def slug(text: str) -> str:
    """Return a file name's worth of ``text``: lower case, digits, single hyphens.

    Never a name that one system keeps for a device.

    Examples:
        >>> slug("Camping trailer / arms")
        'camping-trailer-arms'
    """
    name = re.sub(r"[^a-z0-9.]+", "-", text.lower()).strip("-.")[:60] or "job"
    return f"job-{name}" if name.split(".")[0] in DEVICES else name


def stock_slug(stock: Stock, unit: str) -> str:
    """Return thickness and material for a file name, decimals only.

    Examples:
        >>> stock_slug(Stock(6.35, "A36"), "in")
        '0.25in-A36'
    """
    size = f"{stock.thickness / per_unit(unit):.4f}".rstrip("0").rstrip(".")
    return f"{size}{unit}-{stock.grade}"


def plate_file(plate: Plate, job: str, unit: str, kerf: float = 0.0) -> str:
    """Return a plate's file name: job, part, plate, hand, revision, stock, count, kerf, unit."""
    stock = stock_slug(Stock(plate.thickness, plate.material.name), unit)
    revision = f"rev{plate.revision}_" if plate.revision else ""
    name = f"{job}_{plate.part}_{plate.name}_{plate.hand}"
    return f"{name}_{revision}{stock}_x{plate.count}{_kerf_slug(kerf, unit)}_{unit}.dxf"


def _kerf_slug(kerf: float, unit: str) -> str:
    return f"_kerf-{kerf / per_unit(unit):.4f}".rstrip("0").rstrip(".") + unit if kerf else ""


def plate_dxf(
    plate: Plate, plan: Plan, job: str, unit: Unit, version: Version, *, one_layer: bool = False
) -> bytes:
    """Return the DXF of one plate as planned."""
    stock = Stock(plate.thickness, plate.material.name)
    comments = (
        f"job: {job}",
        f"plate: {plate.label}, cut {plate.count} of {stock.text(unit)}",
        *([f"revision: {plate.revision}"] if plate.revision else []),
        INSIDE_FIRST,
    )
    items = [*mark_items(plan.marks), *cut_items(plan, one_layer=one_layer)]
    return _written(items, comments, plan, unit, version)


def _written(
    items: Sequence[Item], comments: Sequence[str], plan: Plan, unit: Unit, version: Version
) -> bytes:
    kerf, joint = plan.way.kerf, plan.joint
    return write_items(items, comments, unit=unit, version=version, kerf=kerf, joint=joint)


def sheet_dxf(found: SheetPlan, unit: Unit, version: Version, *, one_layer: bool = False) -> bytes:
    """Return the DXF of one sheet with everything on it; the sheet's edge is for reference."""
    nest, plan = found.nest, found.plan
    kind = f" of {nest.stock.text(unit)}" if nest.stock else ""
    stock = nest.sheet(found.sheet)
    items = [
        *(Item(REFERENCE, outline) for outline in (stock.outline, *stock.openings)),
        *mark_items(plan.marks),
        *cut_items(plan, one_layer=one_layer),
    ]
    comments = (f"sheet {found.sheet}, number {found.number}{kind}", INSIDE_FIRST)
    return _written(items, comments, plan, unit, version)


def cut_items(plan: Plan, *, one_layer: bool) -> Iterator[Item]:
    """Return the cuts in their order, each with its leads; open where micro-joints hold it."""
    for cut in plan.cuts:
        layer = ONE_LAYER if one_layer else INSIDE if cut.loop.inside else OUTSIDE
        yield from (Item(LEAD, p.lead_in) for p in cut.passes if p.lead_in)
        if cut.is_held:
            yield from (Item(layer, p.run) for p in cut.passes)
        else:
            yield Item(layer, cut.path, cut.clockwise)
        yield from (Item(LEAD, p.lead_out) for p in cut.passes if p.lead_out)


def sheet_file(nest: Nest, sheet: str, number: int, job: str, unit: str, kerf: float = 0.0) -> str:
    """Return a sheet's file name: job, stock, sheet, number, kerf if it is in it, unit."""
    kind = f"{stock_slug(nest.stock, unit)}_" if nest.stock else ""
    name = slug(sheet.replace("#", "-"))
    return f"{job}_{kind}sheet-{name}-{number}{_kerf_slug(kerf, unit)}_{unit}.dxf"


def motion_file(
    nest: Nest, sheet: str, number: int, job: str, unit: str, kerf: float, suffix: str
) -> str:
    """Return the path of a sheet's motion program."""
    return f"motion/{sheet_file(nest, sheet, number, job, unit, kerf).removesuffix('.dxf')}{suffix}"


def cut_files(
    ready: Ready, plans: list[SheetPlan], version: Version, work: Work
) -> dict[str, bytes]:
    """Return every cut file of a job by its path in the output folder.

    Raises:
        PartgenError: a plate alone has no room for a lead, or no feed is known for a motion
            program.
    """
    build, process = ready.build, ready.build.shop.cutting
    unit: Unit = "in" if build.job.unit == "in" else "mm"
    job, kerf = slug(build.job.path.stem), work.way.kerf
    files: dict[str, bytes] = {}
    for plate in build.plates:
        plan = plate_plan(plate, ready.lying, process, work.way)
        files[f"plates/{plate_file(plate, job, unit, kerf)}"] = plate_dxf(
            plate, plan, build.job.name, unit, version, one_layer=work.one_layer
        )
    made = sheet_files(plans, job, "sheets/", unit, version, work, process, title=build.job.name)
    return files | made


def sheet_files(
    plans: Sequence[SheetPlan],
    job: str,
    folder: str,
    unit: Unit,
    version: Version,
    work: Work,
    process: Cutting,
    title: str = "",
) -> dict[str, bytes]:
    """Return the cut file of every sheet, and its motion program if one is asked for.

    Args:
        plans: how each is cut.
        job: start of the files' names.
        folder: start of the DXF files' paths.
        unit: of the numbers in the files.
        version: of the DXF.
        work: what was asked of the cut files.
        process: feeds of the motion programs.
        title: what the motion programs call the job; ``job`` if empty.

    Raises:
        PartgenError: no feed is known for a motion program.
    """
    files: dict[str, bytes] = {}
    for found in plans:
        place = (found.nest, found.sheet, found.number, job, unit)
        name = sheet_file(*place, found.plan.way.kerf)
        files[folder + name] = sheet_dxf(found, unit, version, one_layer=work.one_layer)
        if work.post is not None and found.motion is not None:
            name = motion_file(*place, found.motion.way.kerf, work.post.suffix)
            files[name] = motion_program(found, work.post, process, title or job, unit)
    return files


def sheet_title(nest: Nest, sheet: str, number: int, unit: str) -> str:
    """Return what a sheet is called in pictures and tables."""
    x0, y0, x1, y1 = nest.sheet(sheet).outline.box
    kind = f"{nest.stock.text(unit)}, " if nest.stock else ""
    return f"{kind}{shown(x1 - x0, unit)} x {shown(y1 - y0, unit)} {unit}, number {number}"
