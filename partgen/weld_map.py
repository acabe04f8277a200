"""Weld map: every mating edge once, with leg, length, sequence and where to stay away.

Which edges mate follows from the family. A link mount's body edges mate the rail, or, where its fit
has a spacer on that side, the spacer's edges mate rail and plate instead. A gusset mates along its
base, its upright edge and, as a trapezoid, its far edge. Corners are not welded round: every run
stops ``STOP`` short of its ends.

Leg: at least AISC 360-16 Table J2.4 by the plate's thickness (the rail's wall is not in the job: a
thinner wall asks for less and takes less), along a plate's edge at most the thickness, or 2 mm
(1/16 in) less from 6 mm (1/4 in) on (AISC 360-16 J2.2b, from memory). Runs shorter than 4 legs
(J2.2b) say so. Other families are not covered. Screening only: no strength is claimed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot

from partgen.entries.rail import Rail
from partgen.families.gusset import Gusset
from partgen.families.link_mount import LinkMount
from partgen.families.part import Part
from partgen.families.spacer import Spacer
from partgen.geometry.chain import Chain, length, shortened
from partgen.geometry.chain import backwards as turned_round
from partgen.geometry.segment import Point, Segment
from partgen.job.build import Build
from partgen.plates.plate import Plate
from partgen.reference import tables

STOP = 6.0  # mm short of an edge's end; common practice, no source
KEEP_OUT = 19.0  # mm from a rail's upper and lower edge (flange); common practice, no source
CORNER = 0.5  # rad; an arc that turns more is a corner, not an edge
BEND = 0.3  # rad; a sharper corner parts two edges
SHORT = 10.0  # mm; an edge shorter than this is a toe or a snipe, not welded
ON = 0.01  # mm
EDGE_PLAY = 2.0  # mm less than the thickness along edges of plate from 6 mm on; in inch jobs 1/16


@dataclass(frozen=True)
class Weld:
    """One mating edge.

    Attributes:
        step: its place in the sequence, from 1.
        plate: label of the plate whose edge it is.
        count: how many such plates there are.
        edge: which edge.
        mate: what it is welded to.
        path: the whole mating edge, in the plate's drawing [mm].
        run: the weld, its ends stopped short; empty if nothing is left [mm].
        leg: of the fillet [mm].
        least: least leg by the table; None where it prints none [mm].
        sides: fillets along the edge, 1 or 2.
        flange: least distance to the rail's upper or lower edge; None off the rail [mm].
        notes: what to heed.
    """

    step: int
    plate: str
    count: int
    edge: str
    mate: str
    path: Chain
    run: Chain
    leg: float
    least: float | None
    sides: int
    flange: float | None
    notes: tuple[str, ...]

    @property
    def edge_length(self) -> float:
        """Length of the mating edge [mm]."""
        return length(self.path)

    @property
    def length(self) -> float:
        """Length of one fillet [mm]."""
        return length(self.run)


@dataclass(frozen=True)
class _Edge:
    """A mating edge before its leg is known."""

    name: str
    mate: str
    path: Chain
    lap: bool  # the fillet lies along the plate's own edge
    rail: Rail | None
    asked: float | None  # leg


def weld_map(build: Build) -> tuple[list[Weld], list[str]]:
    """Return every weld in its sequence, and what is not covered."""
    parts = {part.name: part for part in build.job.parts}
    by_plate: list[list[Weld]] = []
    notes: list[str] = []
    for plate in build.plates:
        part = parts[plate.part]
        edges = list(_edges(part, plate, build))
        if not edges and isinstance(part, LinkMount):
            continue  # its spacers are welded in its place
        if not edges:
            notes.append(f"{plate.label}: family '{part.family}' is not covered: plan its welds")
        by_plate.append([_weld(edge, plate, build.job.unit) for edge in edges])
    notes += _about_spacers(build)
    return _in_sequence(by_plate), list(dict.fromkeys(notes))


def _about_spacers(build: Build) -> list[str]:
    has = {p.mount for p in build.job.parts if isinstance(p, Spacer)}
    return [
        f"{m.name}: a spacer's edge must end a leg short of the plate's edge or a leg beyond it, "
        "or one of its fillets has no room"
        if m.name in has
        else f"{m.name}: its fit has spacers but the job has no spacer part: plan their welds"
        for m in build.mounts
        if any(m.fit.spacers)
    ]


def _edges(part: Part, plate: Plate, build: Build) -> Iterator[_Edge]:
    if isinstance(part, LinkMount):
        yield from _mount_edges(part, plate, build)
    elif isinstance(part, Spacer):
        yield from _spacer_edges(part, plate, build)
    elif isinstance(part, Gusset):
        yield from _gusset_edges(part, plate)


def _mount_edges(part: LinkMount, plate: Plate, build: Build) -> Iterator[_Edge]:
    fit = build.shop.mount(part.name).fit
    if fit.spacers[0 if plate.name == "inner" else 1]:
        return
    rail = build.shop.rail(part.rail)
    for path in edges_of(plate):
        if all(_depth(rail, at, plate) >= -ON for s in path for at in (s.start, s.at(0.5), s.end)):
            yield _Edge(_side(path, plate), "rail", path, True, rail, part.leg(build.shop))


def _spacer_edges(part: Spacer, plate: Plate, build: Build) -> Iterator[_Edge]:
    if part.mount is None:
        return
    fit = build.shop.mount(part.mount).fit
    more = " or next pad" if max(len(fit.inner), len(fit.outer)) > 1 else ""
    for path in edges_of(plate):
        for mate in (f"rail{more}", f"{part.mount} plate{more}"):
            yield _Edge(_side(path, plate), mate, path, True, None, None)


def _gusset_edges(part: Gusset, plate: Plate) -> Iterator[_Edge]:
    x0, _, x1, _ = plate.outline.box
    near, far = (x1, x0) if plate.hand == "right" else (x0, x1)
    ears = part.mount is not None
    for path in edges_of(plate):
        if all(abs(v) <= ON for s in path for v in (s.y0, s.y1)):
            yield _Edge("base", "rail or crossplate" if ears else "first member", path, False,
                        None, None)  # fmt: skip
        elif all(abs(v - near) <= ON for s in path for v in (s.x0, s.x1)):
            yield _Edge("upright", f"{part.mount} plate" if ears else "second member", path, False,
                        None, None)  # fmt: skip
        elif part.far_height and all(abs(v - far) <= ON for s in path for v in (s.x0, s.x1)):
            yield _Edge("far", f"{part.mount} plate" if ears else "third member", path, False,
                        None, None)  # fmt: skip


def edges_of(plate: Plate) -> list[Chain]:
    """Return the long edges of a plate's outside: parted at corners, corner arcs left out."""
    segments = list(plate.outline.segments)
    first = next((k for k in range(len(segments)) if _parts(segments[k - 1], segments[k])), 0)
    edges: list[list[Segment]] = [[]]
    before: Segment | None = None
    for s in (*segments[first:], *segments[:first]):
        if before is None or _parts(before, s):
            edges.append([])
        if not _is_corner(s):
            edges[-1].append(s)
        before = s
    return [tuple(e) for e in edges if length(e) >= SHORT]


def _is_corner(s: Segment) -> bool:
    return abs(s.sweep) > CORNER


def _parts(a: Segment, b: Segment) -> bool:
    if _is_corner(a) or _is_corner(b):
        return True
    (ax, ay), (bx, by) = a.direction(1.0), b.direction(0.0)
    return abs(atan2(ax * by - ay * bx, ax * bx + ay * by)) > BEND


def _side(path: Chain, plate: Plate) -> str:
    """Return which side an edge looks to, as on the left hand; the metal is on its left."""
    way = -1 if plate.hand == "right" else 1
    (x0, y0), (x1, y1) = path[0].start, path[-1].end
    outward = degrees(atan2(x0 - x1, way * (y1 - y0))) % 360  # of the normal (dy, -dx)
    side = ("front", "upper", "rear", "lower")[round(outward / 90) % 4]
    return f"{side} at x = {way * (x0 + x1) / 2:.1f} mm"


def _depth(rail: Rail, at: Point, plate: Plate) -> float:
    """Return how far a point is inside the rail's upper and lower edge, negative off it [mm]."""
    x, y = at
    up = -rail.room((-x if plate.hand == "right" else x, y))
    return min(up, rail.depth - up)


def _weld(edge: _Edge, plate: Plate, unit: str) -> Weld:
    least = least_leg(plate.thickness, unit)
    most = most_leg(plate.thickness, unit) if edge.lap else plate.thickness
    asked = edge.asked if edge.asked is not None else least or min(plate.thickness, most)
    leg, notes = min(asked, most), list[str]()
    if asked > most + ON:
        notes.append(f"leg {asked:g} mm asked; along this edge no more than {most:g} mm")
    if least is not None and leg < least - ON:
        notes.append(f"leg {leg:g} mm is under the table's {least:g} mm")
    if least is None:
        notes.append("no least leg in the table")
    run = turned_round(shortened(turned_round(shortened(edge.path, STOP)), STOP))
    if length(run) < 4 * leg:
        notes.append(f"{length(run):.0f} mm is under 4 legs: counts for less")
    flange = None
    if edge.rail is not None:
        looks = (s.at(k / 4) for s in run or edge.path for k in range(5))
        flange = min(_depth(edge.rail, at, plate) for at in looks)
        if flange < KEEP_OUT - ON:
            notes.append(
                f"{flange:.1f} mm from the rail's flange edge, keep {KEEP_OUT:g} mm off: raise "
                "the shelf or lower the height"
            )
    return Weld(0, plate.label, plate.count, edge.name, edge.mate, edge.path, run, leg, least,
                1 if edge.lap else 2, flange, tuple(notes))  # fmt: skip


def least_leg(thickness: float, unit: str) -> float | None:
    """Return the least leg of a fillet on a plate [mm]; None outside the table.

    Table J2.4 goes by the thinner part; here the plate. Inch jobs read its inch columns.
    """
    table = tables.load("aisc_360_16_j2_4")
    over, to, leg = ("over", "to", "leg") if unit == "in" else ("over_mm", "to_mm", "leg_mm")
    for row in table.rows:
        top = row[to]
        if table.mm(row, over) < thickness - ON and (
            top is None or thickness <= table.mm(row, to) + ON
        ):
            return table.mm(row, leg)
    return None


def most_leg(thickness: float, unit: str) -> float:
    """Return the largest leg along the edge of a plate (AISC 360-16 J2.2b) [mm]."""
    limit, play = (25.4 / 4, 25.4 / 16) if unit == "in" else (6.0, EDGE_PLAY)
    return thickness if thickness < limit - ON else thickness - play


def _in_sequence(by_plate: Sequence[Sequence[Weld]]) -> list[Weld]:
    """Return the welds so that neighbours in time lie on different plates and far ends.

    One edge of each plate in turn, hands alternating as the plates do; within a plate each next
    edge is the farthest from the last.
    """
    waiting = [_far_apart(welds) for welds in by_plate if welds]
    order: list[Weld] = []
    while any(waiting):
        waiting.sort(key=lambda welds: -len(welds))
        for welds in waiting:
            if welds:
                order.append(welds.pop(0))
    return [replace(weld, step=step) for step, weld in enumerate(order, 1)]


def _far_apart(welds: Sequence[Weld]) -> list[Weld]:
    left, order = list(welds), list[Weld]()
    while left:
        chosen = max(left, key=lambda w: _away(order[-1], w)) if order else left[0]
        left.remove(chosen)
        order.append(chosen)
    return order


def _away(a: Weld, b: Weld) -> float:
    (ax, ay), (bx, by) = middle(a.path), middle(b.path)
    return hypot(ax - bx, ay - by)


def middle(path: Chain) -> Point:
    """Return the point half way along a chain."""
    rest = length(path) / 2
    for s in path:
        if rest <= s.length:
            return s.at(rest / s.length)
        rest -= s.length
    return path[-1].end
