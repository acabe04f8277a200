"""A second opinion on every cut file: what is on the disk is read afresh, held against the job.

Reading shares no code with writing. Each file must hold exactly the cuts that the job has, each
with its area, its extents and, where it is round, its centre and diameter; on the layer of its
kind; closed, unless micro-joints hold it; in its unit. On nominal sheets the gap between plates and
the margin to the sheet's edge are measured again on what was read, where layers tell plates from
openings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from pathlib import Path

import shapely

from partgen.cut.plan import Cut, Way
from partgen.cut.ready import Ready
from partgen.dxf.read import INSIDE, ONE_LAYER, OUTSIDE, Drawn, read_drawn
from partgen.errors import PartgenError
from partgen.geometry.outline import Outline, Vertex, distance
from partgen.layout import Sheet
from partgen.plates.plate import Plate
from partgen.sheets.cut_files import plate_file, sheet_file, slug
from partgen.sheets.cut_plans import SheetPlan, Work, plate_plan

NEAR = 1e-4  # mm; numbers are written to 1e-10 of the file's unit, 1e-8 mm and better
SAME_AREA = 1e-6  # of the area
ARC_VIEW = 0.05  # mm, chord error of the views that pick out near plates


@dataclass(frozen=True)
class Room:
    """What a layout keeps free.

    Attributes:
        gap: between plates [mm].
        margin: to the sheet's edge and its openings [mm].
    """

    gap: float
    margin: float


@dataclass(frozen=True)
class Wanted:
    """One cut that a file must hold.

    Attributes:
        label: plate and cut, for messages.
        inside: whether it is an opening.
        outline: the cut [mm].
        joints: micro-joints that hold it open.
    """

    label: str
    inside: bool
    outline: Outline
    joints: int = 0


def prove(folder: Path, ready: Ready, plans: Sequence[SheetPlan], work: Work) -> list[str]:
    """Return what is wrong with the cut files of a job in ``folder``; empty if all is well.

    Args:
        folder: where they are.
        ready: the plates as they go on the table.
        plans: how each sheet is cut.
        work: what was asked of the cut files.
    """
    unit, job, way = ready.build.job.unit, slug(ready.build.job.path.stem), work.way
    faults: list[str] = []
    for plate in ready.build.plates:
        name = f"plates/{plate_file(plate, job, unit, way.kerf)}"
        faults += file_faults(folder / name, plate_wanted(plate, ready, way))
    for found in plans:
        name = f"sheets/{sheet_file(found.nest, found.sheet, found.number, job, unit, way.kerf)}"
        faults += file_faults(folder / name, sheet_wanted(found, way))
        if not way.kerf and not way.joints:
            process, sheet = ready.build.shop.cutting, found.nest.sheet(found.sheet)
            room = Room(process.part_gap, process.sheet_margin)
            faults += gap_faults(folder / name, sheet, room)
    return faults


def plate_wanted(plate: Plate, ready: Ready, way: Way) -> list[Wanted]:
    """Return the cuts of one plate's file: the plate itself, or its paths with the kerf set off."""
    if way.kerf:
        plan = plate_plan(plate, ready.lying, ready.build.shop.cutting, way)
        return [_of_cut(cut, way) for cut in plan.cuts]
    x0, y0, _, _ = plate.outline.box
    return of_plate(plate.label, [o.moved(-x0, -y0) for o in plate.outlines], way.joints)


def sheet_wanted(found: SheetPlan, way: Way) -> list[Wanted]:
    """Return the cuts of one sheet's file: the placed plates, or their paths."""
    if way.kerf:
        return [_of_cut(cut, way) for cut in found.plan.cuts]
    placed = found.nest.placed(found.sheet, found.number)
    return [w for name, outlines in placed for w in of_plate(name, outlines, way.joints)]


def of_plate(label: str, outlines: Sequence[Outline], joints: int = 0) -> list[Wanted]:
    """Return the cuts of a plate: openings first, the outside edge last."""
    inside = [Wanted(f"{label}: opening {k}", True, o) for k, o in enumerate(outlines[:-1], 1)]
    return [*inside, Wanted(f"{label}: outside edge", False, outlines[-1], joints)]


def _of_cut(cut: Cut, way: Way) -> Wanted:
    inside = cut.loop.inside
    return Wanted(cut.loop.label, inside, cut.path, 0 if inside else way.joints)


def file_faults(path: Path, wanted: list[Wanted]) -> list[str]:
    """Return what is wrong with one file; it must hold what is wanted, and no other cut."""
    try:
        drawn = read_drawn(path.read_bytes(), where=path.name)
    except (OSError, PartgenError) as error:
        return [f"{path.name}: cannot be read back: {error}"]
    cuts = [d for d in drawn if d.layer in (INSIDE, OUTSIDE, ONE_LAYER)]
    faults = [f"{path.name}: {line}" for line in _held(cuts, [w for w in wanted if w.joints])]
    closed = [d for d in cuts if d.path.closed]
    left = list(closed)
    for want in (w for w in wanted if not w.joints):
        match = next((d for d in left if _is(d, want)), None)
        if match is None:
            faults.append(f"{path.name}: {want.label} is missing or not as it should be")
        else:
            left.remove(match)
    faults += [f"{path.name}: {d.path.label} belongs to no cut of the job" for d in left]
    return faults


def _held(cuts: list[Drawn], wanted: list[Wanted]) -> list[str]:
    """Return what is wrong with the open runs between micro-joints: they lie on their edges."""
    runs = [d for d in cuts if not d.path.closed]
    if len(runs) != sum(w.joints for w in wanted):
        return [f"{len(runs)} open cuts, not {sum(w.joints for w in wanted)}"]
    drawn = sum(s.length for d in runs for s in d.path.segments)
    whole = sum(w.outline.length for w in wanted)
    if wanted and not 0.5 * whole < drawn < whole:
        return [f"open cuts of {drawn:.1f} mm along edges of {whole:.1f} mm"]
    edges = [w.outline for w in wanted]
    return [f"{d.path.label} lies on no edge of the job" for d in runs if not _lies_on(d, edges)]


def _lies_on(run: Drawn, edges: list[Outline]) -> bool:
    points = [p for s in run.path.segments for p in (s.start, s.at(0.5), s.end)]
    return any(all(edge.distance(p) <= NEAR for p in points) for edge in edges)


def _is(drawn: Drawn, want: Wanted) -> bool:
    """Tell whether an entity is the cut that is wanted."""
    if drawn.layer not in (INSIDE if want.inside else OUTSIDE, ONE_LAYER):
        return False
    vertices = tuple(Vertex(s.x0, s.y0, s.bulge) for s in drawn.path.segments)
    found = Outline(vertices)
    box = zip(found.box, want.outline.box, strict=True)
    return (
        abs(abs(found.area) - want.outline.area) <= SAME_AREA * want.outline.area + NEAR**2
        and all(abs(a - b) <= NEAR for a, b in box)
        and abs(found.length - want.outline.length) <= NEAR * len(vertices)
        and all(want.outline.distance((v.x, v.y)) <= NEAR for v in vertices)
        and _has_corners(found, want.outline)
    )


def _has_corners(found: Outline, want: Outline) -> bool:
    """Tell whether every corner is there; of a circle, whether it is round about its centre."""
    if want.circle_of is not None:
        (x, y), (wx, wy, _) = found.centroid, want.circle_of
        return all(s.bulge for s in found.segments) and hypot(x - wx, y - wy) <= NEAR
    return all(
        any(hypot(v.x - f.x, v.y - f.y) <= NEAR for f in found.vertices) for v in want.vertices
    )


def gap_faults(path: Path, sheet: Sheet, room: Room) -> list[str]:
    """Return plates that lie nearer each other, or the sheet's edge, than they may."""
    edges = [
        Outline(tuple(Vertex(s.x0, s.y0, s.bulge) for s in d.path.segments))
        for d in read_drawn(path.read_bytes(), where=path.name)
        if d.layer == OUTSIDE and d.path.closed
    ]
    if not edges:
        return []
    views = [_anticlockwise(o).polygon("outside", ARC_VIEW) for o in edges]
    faults = [
        f"{path.name}: plate {k + 1} is too near the sheet's edge"
        for k, edge in enumerate(edges)
        if min(distance(edge.segments, o.segments) for o in (sheet.outline, *sheet.openings))
        < room.margin - NEAR
    ]
    tree = shapely.STRtree(views)
    pairs = tree.query(views, predicate="dwithin", distance=room.gap)
    faults += [
        f"{path.name}: plates {a + 1} and {b + 1} are too near each other"
        for a, b in pairs.T.tolist()
        if a < b and distance(edges[a].segments, edges[b].segments) < room.gap - NEAR
    ]
    return faults


def _anticlockwise(outline: Outline) -> Outline:
    return outline if outline.area > 0 else Outline.of(outline.vertices)
