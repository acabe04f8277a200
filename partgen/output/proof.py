"""A second opinion on every cut file: what is on the disk is read afresh, held against the job.

Reading shares no code with writing. Each file is read once. It must hold exactly the cuts that the
job has, each with its area, its extents and, where it is round, its centre and diameter; on the
layer of its kind; in its unit; closed, where micro-joints hold it across gaps of their width; and
exactly the marks that the job has. The gap between plates and the margin to the sheet's edge are
measured again on what was read, where layers tell plates from openings.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import dist, hypot
from pathlib import Path

import shapely

from partgen.cut.plan import Cut, Way
from partgen.cut.ready import Ready
from partgen.dxf.read import INSIDE, MARK_LAYERS, ONE_LAYER, OUTSIDE, Drawn, read_drawn
from partgen.errors import PartgenError
from partgen.geometry.outline import Outline, Vertex, distance
from partgen.geometry.segment import Point
from partgen.layout import Sheet
from partgen.plates.plate import Mark, Plate
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

    def between_paths(self, kerf: float) -> Room:
        """Return what is left free between the torch's paths, half a kerf off each edge."""
        return Room(self.gap - kerf, self.margin - kerf / 2)


@dataclass(frozen=True)
class Wanted:
    """One cut that a file must hold.

    Attributes:
        label: plate and cut, for messages.
        inside: whether it is an opening.
        outline: the cut [mm].
        joints: micro-joints asked for; there may be room for fewer.
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
    process = ready.build.shop.cutting
    faults: list[str] = []
    for plate in ready.build.plates:
        name = f"plates/{plate_file(plate, job, unit, way.kerf)}"
        x0, y0, _, _ = plate.outline.box
        marks = [mark.moved(-x0, -y0) for mark in ready.lying[plate.label].marks]
        joints = plate_plan(plate, ready.lying, process, way).joints if way.joints else 0
        faults += file_faults(folder / name, plate_wanted(plate, ready, way), marks, joints)
    for found in plans:
        name = f"sheets/{sheet_file(found.nest, found.sheet, found.number, job, unit, way.kerf)}"
        faults += sheet_faults(folder / name, found, Room(process.part_gap, process.sheet_margin))
    return faults


def sheet_faults(path: Path, found: SheetPlan, room: Room) -> list[str]:
    """Return what is wrong with the file of one sheet."""
    drawn, faults = _read_back(path)
    if drawn is None:
        return faults
    way, sheet = found.plan.way, found.nest.sheet(found.sheet)
    faults += [
        *cut_faults(path, drawn, sheet_wanted(found, way), found.plan.joints),
        *mark_faults(path, drawn, found.plan.marks),
        *gap_faults(path, drawn, sheet, room.between_paths(way.kerf)),
    ]
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


def file_faults(
    path: Path, wanted: list[Wanted], marks: Sequence[Mark] = (), joints: int = 0
) -> list[str]:
    """Return what is wrong with one file; it must hold what is wanted, and nothing else."""
    drawn, faults = _read_back(path)
    if drawn is None:
        return faults
    return [*cut_faults(path, drawn, wanted, joints), *mark_faults(path, drawn, marks)]


def _read_back(path: Path) -> tuple[list[Drawn] | None, list[str]]:
    try:
        return read_drawn(path.read_bytes(), where=path.name), []
    except (OSError, PartgenError) as error:
        return None, [f"{path.name}: cannot be read back: {error}"]


def cut_faults(
    path: Path, drawn: Sequence[Drawn], wanted: Sequence[Wanted], joints: int
) -> list[str]:
    """Return what is wrong with the cuts of a file: one missing, changed, too many; its joints."""
    cuts = [d for d in drawn if d.layer in (INSIDE, OUTSIDE, ONE_LAYER)]
    faults = []
    if (held := sum(d.joints for d in cuts)) != joints:
        faults.append(f"{path.name}: {held} micro-joints, not {joints}")
    closed = sorted((d for d in cuts if d.path.closed), key=_begin)
    begins, taken = [_begin(d) for d in closed], set[int]()
    for want in wanted:
        x0 = want.outline.box[0]
        near = range(bisect_left(begins, x0 - NEAR), bisect_right(begins, x0 + NEAR))
        match = next((k for k in near if k not in taken and _is(closed[k], want)), None)
        if match is None:
            faults.append(f"{path.name}: {want.label} is missing or not as it should be")
        else:
            taken.add(match)
    matched = {id(closed[k]) for k in taken}
    strange = [d for d in cuts if id(d) not in matched]
    return faults + [f"{path.name}: {d.path.label} belongs to no cut of the job" for d in strange]


def _begin(drawn: Drawn) -> float:
    """Return the least x of an entity."""
    return min(s.box[0] for s in drawn.path.segments)


def mark_faults(path: Path, drawn: Sequence[Drawn], marks: Sequence[Mark]) -> list[str]:
    """Return what is wrong with the marks of a file: drill centres, text, bend lines."""
    faults = []
    for kind, layer in MARK_LAYERS.items():
        want = [tuple(k for k, _ in groupby(m.path)) for m in marks if m.kind == kind]
        want = [points for points in want if len(points) > 1]
        found = [_points(d) for d in drawn if d.layer == layer]
        if len(found) != len(want):
            faults.append(f"{path.name}: {len(found)} marks on {layer}, not {len(want)}")
        elif not all(map(_same_points, found, want)):
            faults.append(f"{path.name}: a mark on {layer} is not where it should be")
    return faults


def _points(drawn: Drawn) -> list[Point]:
    segments = drawn.path.segments
    return [*(s.start for s in segments), segments[-1].end]


def _same_points(found: Sequence[Point], want: Sequence[Point]) -> bool:
    return len(found) == len(want) and all(
        dist(p, q) <= NEAR for p, q in zip(found, want, strict=True)
    )


def _is(drawn: Drawn, want: Wanted) -> bool:
    """Tell whether an entity is the cut that is wanted."""
    if drawn.layer not in (INSIDE if want.inside else OUTSIDE, ONE_LAYER):
        return False
    if drawn.joints > want.joints:
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


def gap_faults(path: Path, drawn: Sequence[Drawn], sheet: Sheet, room: Room) -> list[str]:
    """Return plates that lie nearer each other, or the sheet's edge, than they may."""
    edges = [
        Outline(tuple(Vertex(s.x0, s.y0, s.bulge) for s in d.path.segments))
        for d in drawn
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
