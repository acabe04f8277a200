"""One cut file, read back, against what it must hold: head, cuts, their order, leads, marks."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import dist

from partgen.cut.plan import Pass
from partgen.dxf.micro_joints import size_said
from partgen.dxf.read import (
    INSIDE,
    LEAD,
    MARK_LAYERS,
    ONE_LAYER,
    OUTSIDE,
    REFERENCE,
    Drawn,
    DrawnFile,
)
from partgen.dxf.tags import COMPENSATED, NOMINAL
from partgen.geometry.containment import holders
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point, Segment
from partgen.plates.plate import Mark

NEAR = 1e-4  # mm; numbers are written to 1e-10 of the file's unit, 1e-8 mm and better
SAME_AREA = 1e-6  # of the area
ROUNDED = 2e-3  # mm; the head of the file rounds the kerf
NOT_CLOSED = frozenset({*MARK_LAYERS.values(), LEAD})


@dataclass(frozen=True)
class Wanted:
    """One closed outline that a file must hold.

    Attributes:
        label: plate and cut, for messages.
        layer: it lies on.
        inside: whether it is an opening.
        outline: where it runs [mm].
        joints: micro-joints asked for; there may be room for fewer.
        clockwise: whether it runs clockwise; a circle has no direction.
    """

    label: str
    layer: str
    inside: bool
    outline: Outline
    joints: int = 0
    clockwise: bool = False


@dataclass(frozen=True)
class Expected:
    """What a cut file must hold, and nothing else.

    Attributes:
        plates: name and finished outlines of each, openings first, where it lies [mm].
        cuts: where the torch runs.
        passes: with the leads, in their order; empty if none are drawn.
        marks: lines that are not cut [mm].
        joints: micro-joints in all.
        kerf: compensated in the cuts [mm].
        reference: outlines for reference [mm].
    """

    plates: Sequence[tuple[str, tuple[Outline, ...]]]
    cuts: Sequence[Wanted]
    passes: Sequence[Pass] = ()
    marks: Sequence[Mark] = ()
    joints: int = 0
    kerf: float = 0.0
    reference: Sequence[Outline] = ()


@dataclass(frozen=True)
class Found:
    """What was found of what is wanted.

    Attributes:
        faults: one line each.
        cuts: in the order of the file, each with what it is.
        leads: as drawn [mm].
    """

    faults: list[str]
    cuts: list[tuple[Drawn, Wanted]]
    leads: list[tuple[Segment, ...]]


def layer_of(*, inside: bool, one_layer: bool) -> str:
    """Return the layer of a cut."""
    return ONE_LAYER if one_layer else INSIDE if inside else OUTSIDE


def found_in(name: str, file: DrawnFile, expected: Expected) -> Found:
    """Return what a file holds of what it must hold, and what is wrong with it."""
    edges = [Wanted("the sheet's edge", REFERENCE, True, o) for o in expected.reference]
    closed = [d for d in file.entities if d.layer not in NOT_CLOSED]
    faults, matched = _matched(name, closed, [*expected.cuts, *edges])
    cuts = [(d, want) for d, want in matched if want.layer != REFERENCE]
    if (held := sum(d.joints for d in closed)) != expected.joints:
        faults.append(f"{name}: {held} micro-joints, not {expected.joints}")
    faults += [
        *_head_faults(name, file.comments, expected.kerf),
        *_order_faults(name, [want for _, want in cuts]),
        *_lead_faults(name, file.entities, expected.passes),
        *_mark_faults(name, file.entities, expected.marks),
    ]
    leads = [d.path.segments for d in file.entities if d.layer == LEAD]
    return Found(faults, cuts, leads)


def _head_faults(name: str, comments: Sequence[str], kerf: float) -> list[str]:
    """Compare what the head says of the kerf: whoever reads it sets the machine by it."""
    said = size_said(comments, COMPENSATED)
    if (NOMINAL in comments) == (kerf == 0) and abs(said - kerf) <= ROUNDED:
        return []
    return [f"{name}: its head says a kerf of {said:g} mm is compensated, not {kerf:g} mm"]


def _matched(
    name: str, drawn: Sequence[Drawn], wanted: Sequence[Wanted]
) -> tuple[list[str], list[tuple[Drawn, Wanted]]]:
    """Return what is missing, changed or too many, and what matches, in the order of the file."""
    faults, taken = list[str](), dict[int, Wanted]()
    order = sorted((k for k, d in enumerate(drawn) if d.path.closed), key=lambda k: _x(drawn[k]))
    begins = [_x(drawn[k]) for k in order]
    for want in wanted:
        x0 = want.outline.box[0]
        near = order[bisect_left(begins, x0 - NEAR) : bisect_right(begins, x0 + NEAR)]
        match = next((k for k in near if k not in taken and _is(drawn[k], want)), None)
        if match is None:
            faults.append(f"{name}: {want.label} is missing or not as it should be")
        else:
            taken[match] = want
    strange = [d for k, d in enumerate(drawn) if k not in taken]
    faults += [f"{name}: {d.path.label} belongs to no cut of the job" for d in strange]
    return faults, [(drawn[k], taken[k]) for k in sorted(taken)]


def _x(drawn: Drawn) -> float:
    """Return the least x of an entity."""
    return min(s.box[0] for s in drawn.path.segments)


def _is(drawn: Drawn, want: Wanted) -> bool:
    """Tell whether an entity is the outline that is wanted."""
    if drawn.layer != want.layer or drawn.joints > want.joints:
        return False
    segments = drawn.path.segments
    found = Outline(tuple(Vertex(s.x0, s.y0, s.bulge) for s in segments))
    box = zip(found.box, want.outline.box, strict=True)
    places = [p for s in segments for p in (s.start, s.at(0.5))]
    return (
        abs(abs(found.area) - want.outline.area) <= SAME_AREA * want.outline.area + NEAR**2
        and all(abs(a - b) <= NEAR for a, b in box)
        and abs(found.length - want.outline.length) <= NEAR * len(segments)
        and all(want.outline.distance(p) <= NEAR for p in places)
        and _has_corners(found, want.outline)
        and ((found.area < 0) == want.clockwise or _is_whole_circle(drawn, want))
    )


def _is_whole_circle(drawn: Drawn, want: Wanted) -> bool:
    return want.outline.circle_of is not None and not drawn.joints


def _has_corners(found: Outline, want: Outline) -> bool:
    """Tell whether every corner is there; of a circle, whether it is round about its centre."""
    if want.circle_of is not None:
        x, y, _ = want.circle_of
        return all(s.bulge for s in found.segments) and dist(found.centroid, (x, y)) <= NEAR
    return all(
        any(dist((v.x, v.y), (f.x, f.y)) <= NEAR for f in found.vertices) for v in want.vertices
    )


def _order_faults(name: str, cuts: Sequence[Wanted]) -> list[str]:
    """Return cuts that come after one round them, when they may have moved with what is loose."""
    around = holders([want.outline for want in cuts]) if cuts else []
    return [
        f"{name}: {cuts[k].label} comes after {cuts[j].label}, which is round it"
        for k, larger in enumerate(around)
        for j in larger
        if j < k
    ]


def _lead_faults(name: str, drawn: Sequence[Drawn], passes: Sequence[Pass]) -> list[str]:
    """Compare leads in their order: those into a cut, and those out of it."""
    wanted = [lead for p in passes for lead in (p.lead_in, p.lead_out) if lead]
    found = [d.path.segments for d in drawn if d.layer == LEAD]
    if len(found) != len(wanted):
        return [f"{name}: {len(found)} leads, not {len(wanted)}"]
    wrong = sum(not _same_points(_trace(a), _trace(b)) for a, b in zip(found, wanted, strict=True))
    return [f"{name}: {wrong} leads are not where they should be"] if wrong else []


def _trace(chain: Sequence[Segment]) -> list[Point]:
    return [*(p for s in chain for p in (s.start, s.at(0.5))), chain[-1].end]


def _mark_faults(name: str, drawn: Sequence[Drawn], marks: Sequence[Mark]) -> list[str]:
    """Return what is wrong with the marks of a file: drill centres, text, bend lines."""
    faults = []
    for kind, layer in MARK_LAYERS.items():
        want = [tuple(k for k, _ in groupby(m.path)) for m in marks if m.kind == kind]
        want = [points for points in want if len(points) > 1]
        found = [_points(d) for d in drawn if d.layer == layer]
        if len(found) != len(want):
            faults.append(f"{name}: {len(found)} marks on {layer}, not {len(want)}")
        elif not all(map(_same_points, found, want)):
            faults.append(f"{name}: a mark on {layer} is not where it should be")
    return faults


def _points(drawn: Drawn) -> list[Point]:
    segments = drawn.path.segments
    return [*(s.start for s in segments), segments[-1].end]


def _same_points(found: Sequence[Point], want: Sequence[Point]) -> bool:
    return len(found) == len(want) and all(
        dist(p, q) <= NEAR for p, q in zip(found, want, strict=True)
    )
