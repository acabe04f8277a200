"""A second opinion on every cut file: what is on the disk is read afresh, held against the job.

Reading shares no code with writing. Each file is read once. It must hold exactly the cuts that the
job has, each with its area, its extents and, where it is round, its centre and diameter; on the
layer of its kind; in its unit; in its direction; what lies inside a loop before it; closed, where
micro-joints hold it across gaps of their width; and exactly the leads and the marks that the job
has. Then the paths, those of motion programs too, are held against the finished plates, and the
gap between plates and the margin to the sheet's edge are measured again on what was read. What is
left of a sheet is a file for the next job, and read back too.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from partgen.cut.dry_run import faults as dry_run_faults
from partgen.cut.plan import Cut, Plan
from partgen.cut.ready import Ready
from partgen.dxf.read import INSIDE, OUTSIDE, read_drawn
from partgen.errors import PartgenError
from partgen.geometry.outline import Outline
from partgen.layout import Sheet, offcut
from partgen.output.cut_proof import Expected, Wanted, found_in, layer_of
from partgen.output.metal_proof import Room, gap_faults, torch_faults
from partgen.plates.plate import Plate
from partgen.sheets.cut_files import motion_file, plate_file, sheet_file, slug
from partgen.sheets.cut_plans import SheetPlan, Work, plate_plan
from partgen.sheets.offcut_files import bitten, offcut_file


def prove(folder: Path, ready: Ready, plans: Sequence[SheetPlan], work: Work) -> list[str]:
    """Return what is wrong with the cut files of a job in ``folder``; empty if all is well.

    Args:
        folder: where they are.
        ready: the plates as they go on the table.
        plans: how each sheet is cut.
        work: what was asked of the cut files.
    """
    unit, job, way = ready.build.job.unit, slug(ready.build.job.path.stem), work.way
    process = ready.build.shop.cutting
    faults: list[str] = []
    for plate in ready.build.plates:
        name = f"plates/{plate_file(plate, job, unit, way.kerf)}"
        faults += file_faults(folder / name, _of_plate(plate, ready, work))
    room = Room(process.part_gap, process.sheet_margin)
    return faults + sheets_faults(folder, "sheets/", plans, room, work, job, unit)


def sheets_faults(
    folder: Path,
    place: str,
    plans: Sequence[SheetPlan],
    room: Room,
    work: Work,
    job: str,
    unit: str,
) -> list[str]:
    """Return what is wrong with the files of sheets, of what is left of them, and their programs.

    Args:
        folder: where they are.
        place: start of the DXF files' paths in it.
        plans: how each sheet is cut.
        room: what the layout keeps free.
        work: what was asked of the cut files.
        job: start of the files' names.
        unit: of the job.
    """
    faults: list[str] = []
    for found in plans:
        named = (found.nest, found.sheet, found.number, job, unit)
        sheet = found.nest.sheet(found.sheet)
        path = folder / f"{place}{sheet_file(*named, found.plan.way.kerf)}"
        faults += file_faults(path, _of_sheet(found, work), sheet, room)
        left = offcut(sheet, found.used, gap=room.gap)
        whole = bitten(left) if left else None
        if whole is not None:
            faults += file_faults(folder / offcut_file(*named), _of_offcut(whole))
        if work.post is not None and found.motion is not None:
            name = motion_file(*named, found.motion.way.kerf, work.post.suffix)
            faults += _program_faults(folder / name, found, found.motion, work)
    return faults


def file_faults(
    path: Path, expected: Expected, sheet: Sheet | None = None, room: Room | None = None
) -> list[str]:
    """Return what is wrong with one file; it must hold what is expected, and nothing else.

    Args:
        path: of the file.
        expected: what it must hold.
        sheet: what its plates lie on, if they do.
        room: what is kept free there.
    """
    try:
        drawn = read_drawn(path.read_bytes(), where=path.name)
    except (OSError, PartgenError) as error:
        return [f"{path.name}: cannot be read back: {error}"]
    found = found_in(path.name, drawn, expected)
    faults, paths = list(found.faults), [d.path.segments for d, _ in found.cuts]
    if not faults:
        faults += torch_faults(path.name, paths, found.leads, expected.plates, expected.kerf)
    if sheet is not None and room is not None:
        edges = [want.outline for _, want in found.cuts if not want.inside]
        faults += gap_faults(path.name, edges, sheet, room.between_paths(expected.kerf))
    return faults


def _program_faults(path: Path, found: SheetPlan, motion: Plan, work: Work) -> list[str]:
    """Return what is wrong with a motion program on the disk, and with the paths it follows."""
    assert work.post is not None
    leads = [(*p.lead_in, *p.lead_out) for p in motion.passes]
    sheet = found.nest.sheet(found.sheet).outline
    try:
        content = path.read_bytes()
    except OSError as error:
        return [f"{path.name}: cannot be read back: {error}"]
    runs = [p.run for p in motion.passes]
    wrong = dry_run_faults(content, work.post, runs, leads, sheet)
    paths = [cut.path.segments for cut in motion.cuts]
    plates = found.nest.placed(found.sheet, found.number)
    wrong_paths = torch_faults(path.name, paths, leads, plates, motion.way.kerf)
    return [*(f"{path.name}: {line}" for line in wrong), *wrong_paths]


def _of_plate(plate: Plate, ready: Ready, work: Work) -> Expected:
    """Return what one plate's file must hold: the plate itself, or its paths with the kerf off."""
    x0, y0, _, _ = plate.outline.box
    outlines = tuple(o.moved(-x0, -y0) for o in plate.outlines)
    marks = [mark.moved(-x0, -y0) for mark in ready.lying[plate.label].marks]
    plates = [(plate.label, outlines)]
    if not work.way.kerf and not work.way.leads and not work.way.joints:
        return Expected(plates, nominal(plates, work), marks=marks)
    plan = plate_plan(plate, ready.lying, ready.build.shop.cutting, work.way)
    return Expected(
        plates, _cuts(plan, plates, work), plan.passes, marks, plan.joints, work.way.kerf
    )


def _of_sheet(found: SheetPlan, work: Work) -> Expected:
    """Return what one sheet's file must hold: the placed plates, or their paths."""
    plates, plan = found.nest.placed(found.sheet, found.number), found.plan
    sheet = found.nest.sheet(found.sheet)
    return Expected(
        plates,
        _cuts(plan, plates, work),
        plan.passes,
        plan.marks,
        plan.joints,
        plan.way.kerf,
        (sheet.outline, *sheet.openings),
    )


def _of_offcut(left: Sheet) -> Expected:
    """Return what the file of what is left of a sheet must hold."""
    inside, edge = left.openings, left.outline
    cuts = [Wanted(f"{left.name}: an opening", INSIDE, True, o) for o in inside]
    cuts.append(Wanted(f"{left.name}: its edge", OUTSIDE, False, edge))
    return Expected([(left.name, (*inside, edge))], cuts)


def _cuts(
    plan: Plan, plates: Sequence[tuple[str, tuple[Outline, ...]]], work: Work
) -> list[Wanted]:
    return [_of_cut(cut, work) for cut in plan.cuts] if plan.way.kerf else nominal(plates, work)


def nominal(plates: Sequence[tuple[str, tuple[Outline, ...]]], work: Work) -> list[Wanted]:
    """Return the cuts of plates at their finished size: openings first, outside edges last."""
    way, found = work.way, list[Wanted]()
    inner = layer_of(inside=True, one_layer=work.one_layer)
    outer = layer_of(inside=False, one_layer=work.one_layer)
    for label, (*openings, edge) in plates:
        found += [
            Wanted(f"{label}: opening {k}", inner, True, o) for k, o in enumerate(openings, 1)
        ]
        edge_of = f"{label}: outside edge"
        found.append(Wanted(edge_of, outer, False, edge, way.joints, way.clockwise))
    return found


def _of_cut(cut: Cut, work: Work) -> Wanted:
    inside, way = cut.loop.inside, work.way
    layer = layer_of(inside=inside, one_layer=work.one_layer)
    if inside:
        return Wanted(cut.loop.label, layer, inside, cut.path)
    return Wanted(cut.loop.label, layer, inside, cut.path, way.joints, way.clockwise)
