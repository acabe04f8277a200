"""The cutting plan of one sheet or one plate: what the torch does, in which order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import dist, fsum

from partgen.cut.kerf import rounded_corners
from partgen.cut.leads import Start, bare_starts, starts
from partgen.cut.loop import Loop, Lying, loops
from partgen.cut.obstacles import Obstacles
from partgen.cut.order import cut_order
from partgen.cut.travel import least_travel
from partgen.entries.cutting import Cutting
from partgen.errors import PartgenError
from partgen.geometry.chain import Chain, backwards, begun, closed, length, shortened
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.plate import Mark

MOST_PLACES = 400  # tried for micro-joints on one edge
NEAR = 1e-6  # mm; a length this little short of another is as long


@dataclass(frozen=True)
class Way:
    """How a sheet is cut.

    Attributes:
        kerf: compensated in the path; 0 leaves it nominal [mm].
        leads: whether leads are drawn.
        clockwise: whether outside edges run clockwise; openings always run anticlockwise.
        joints: micro-joints on each outside edge.
        cool: what lies nearer than this to the loop just cut waits, if it can; 0 for none [mm].
    """

    kerf: float = 0.0
    leads: bool = False
    clockwise: bool = False
    joints: int = 0
    cool: float = 0.0


@dataclass(frozen=True)
class Pass:
    """What the torch cuts between one pierce and its end.

    Attributes:
        lead_in: from the pierce to the cut; may be empty.
        run: along the cut.
        lead_out: away from it; may be empty.
    """

    lead_in: Chain
    run: Chain
    lead_out: Chain

    @property
    def chain(self) -> Chain:
        """All of it, as it is run."""
        return (*self.lead_in, *self.run, *self.lead_out)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the torch pierces and where it is off again [mm]."""
        chain = self.chain
        return chain[0].start, chain[-1].end


@dataclass(frozen=True)
class Cut:
    """One closed cut as it is run.

    Attributes:
        loop: what is cut.
        path: its path, from where it begins; always anticlockwise [mm].
        clockwise: whether it is run clockwise.
        passes: one, or one between each two micro-joints.
        is_held: whether micro-joints hold it, one after each pass.
    """

    loop: Loop
    path: Outline
    clockwise: bool
    passes: tuple[Pass, ...]
    is_held: bool = False

    def begun(self, first: int) -> Cut:
        """Return the same cut begun with pass number ``first``."""
        return replace(self, passes=(*self.passes[first:], *self.passes[:first]))


@dataclass(frozen=True)
class Plan:
    """How a sheet is cut.

    Attributes:
        way: as asked.
        marks: everything that is marked before anything is cut [mm].
        cuts: in their order.
        notes: what to heed.
        joint: what each micro-joint leaves open of the path; 0 if there are none [mm].
    """

    way: Way
    marks: tuple[Mark, ...]
    cuts: tuple[Cut, ...]
    notes: tuple[str, ...]
    joint: float = 0.0

    @property
    def passes(self) -> list[Pass]:
        """Every pass in order."""
        return [p for cut in self.cuts for p in cut.passes]

    @property
    def pierces(self) -> int:
        """How often the torch pierces."""
        return len(self.passes)

    @property
    def joints(self) -> int:
        """How many micro-joints hold its plates."""
        return sum(len(cut.passes) for cut in self.cuts if cut.is_held)

    @property
    def length(self) -> float:
        """Torch-on length, leads and all [mm]."""
        return fsum(length(p.chain) for p in self.passes)

    @property
    def travel(self) -> float:
        """Torch-off length, from (0, 0) to the first pierce and from pass to pass [mm]."""
        ends = [p.ends for p in self.passes]
        ways = [dist((0.0, 0.0), ends[0][0])] if ends else []
        return fsum(ways + [dist(a[1], b[0]) for a, b in pairwise(ends)])

    @property
    def least_travel(self) -> float:
        """What no order of these cuts could travel less than [mm]."""
        passes = [[p.ends for p in cut.passes] for cut in self.cuts]
        return least_travel([cut.loop.nominal for cut in self.cuts], passes)


def plan(
    plates: Sequence[Lying], process: Cutting, way: Way, sheet: Iterable[Outline] = ()
) -> Plan:
    """Return how plates are cut.

    Args:
        plates: where they lie.
        process: lengths and clearances.
        way: what is asked for.
        sheet: the sheet's edge and openings, which leads keep off.

    Raises:
        PartgenError: features lost to the kerf, or no room for a lead: one line for each.
    """
    if way.leads and process.lead < process.kerf:
        raise PartgenError(
            f"cutting.lead = {process.lead:g} mm: must be at least the kerf, {process.kerf:g} mm"
        )
    found = loops(plates, way.kerf)
    others = Obstacles([loop.path.segments for loop in found])
    edge = tuple(sheet)
    edges = Obstacles([o.segments for o in edge]) if edge else None
    chosen: list[list[Start]] = []
    held: list[bool] = []
    problems: list[str] = []
    notes: list[str] = _rounded(found, way.kerf)
    for number, loop in enumerate(found):
        wanted = 0 if loop.inside else way.joints
        places = _starts(loop, number, others, edges, process, way, wanted)
        held.append(bool(wanted and places))
        if len(places) < wanted:
            notes.append(f"{loop.label}: room for {len(places)} of {wanted} micro-joints")
        if wanted and not places:
            places = _starts(loop, number, others, edges, process, way, 0)
        if not places:
            problems.append(
                f"{loop.label}: no place for a lead-in of {_least(process):g} to "
                f"{process.lead:g} mm in scrap; shorten cutting.lead or pierce_clearance, widen "
                "cutting.part_gap, or drill the hole"
            )
        chosen.append(places)
    if problems:
        raise PartgenError(list(dict.fromkeys(problems)))
    made = [
        _cut(loop, places, process, way, is_held=is_held)
        for loop, places, is_held in zip(found, chosen, held, strict=True)
    ]
    ends = [[p.ends for p in cut.passes] for cut in made]
    order = cut_order([loop.nominal for loop in found], ends, way.cool)
    cuts = tuple(made[k].begun(first) for k, first in order)
    marks = tuple(m for p in plates for m in p.marks)
    return Plan(way, marks, cuts, tuple(notes), _gap(process) if way.joints else 0.0)


def _gap(process: Cutting) -> float:
    """Return how much of its path a micro-joint leaves open: itself and half a kerf each side."""
    return process.micro_joint + process.kerf


def _rounded(found: Sequence[Loop], kerf: float) -> list[str]:
    counts = [(o, rounded_corners(o.nominal, kerf, inside=o.inside)) for o in found if kerf]
    return [
        f"{loop.label}: {count} inside {'corner keeps' if count == 1 else 'corners keep'} the "
        f"torch's radius of {kerf / 2:g} mm"
        for loop, count in counts
        if count
    ]


def _least(process: Cutting) -> float:
    return round(process.kerf, 2)


def _starts(
    loop: Loop,
    number: int,
    others: Obstacles,
    edges: Obstacles | None,
    process: Cutting,
    way: Way,
    wanted: int,
) -> list[Start]:
    """Return the places where the loop's passes begin, along the path; none if a lead has no room.

    One place, or as many as there are micro-joints ``wanted``, if there is room for them: at least
    half their even spacing apart, and two micro-joints.
    """
    if way.leads:
        places = starts(loop, number, others, edges, process)
    else:
        places = bare_starts(loop) if wanted else iter([Start(0, 0.0)])
    gap, around, chosen = _gap(process), loop.path.length, list[Start]()
    if wanted:
        places = (start for start in places if _has_metal(loop, start, gap, way.clockwise))
    least = max(around / max(wanted, 1) / 2, 2 * gap) - NEAR
    for tried, start in enumerate(places):
        here = _place(loop, start)
        apart = (abs(here - _place(loop, other)) for other in chosen)
        if all(min(d, around - d) >= least for d in apart):
            chosen.append(start)
        if len(chosen) == max(wanted, 1) or tried > MOST_PLACES:
            break
    return sorted(chosen, key=lambda start: _place(loop, start))


def _has_metal(loop: Loop, start: Start, gap: float, clockwise: bool) -> bool:
    """Tell whether the micro-joint ahead of a place lies on one line or arc."""
    segment = loop.path.segments[start.at]
    ahead = 1 - start.part if clockwise else start.part
    return ahead * segment.length > gap


def _place(loop: Loop, start: Start) -> float:
    """Return how far along the path a place is [mm]."""
    before = loop.path.segments[: start.at]
    return length(before) + start.part * loop.path.segments[start.at].length


def _cut(loop: Loop, places: list[Start], process: Cutting, way: Way, *, is_held: bool) -> Cut:
    clockwise = way.clockwise and not loop.inside
    first = places[0]
    turn = begun(loop.path, first.at, first.part)
    path = loop.path if loop.path.circle_of else closed(turn)
    if not is_held:
        run = backwards(turn) if clockwise else turn
        out = first.lead_out_back if clockwise else first.lead_out
        return Cut(loop, path, clockwise, (Pass(first.lead_in, run, out),))
    passes = _passes(loop, places, process, clockwise)
    return Cut(loop, path, clockwise, tuple(passes), is_held=True)


def _passes(loop: Loop, places: list[Start], process: Cutting, clockwise: bool) -> list[Pass]:
    """Return the passes between micro-joints; each ends a joint and a kerf short of the next."""
    gap = _gap(process)
    around, order = loop.path.length, places[::-1] if clockwise else places
    passes = []
    for k, start in enumerate(order):
        turn = begun(loop.path, start.at, start.part)
        run = backwards(turn) if clockwise else turn
        following = order[(k + 1) % len(order)]
        way = _place(loop, following) - _place(loop, start)
        ahead = (-way if clockwise else way) % around or around
        passes.append(Pass(start.lead_in, shortened(run, around - ahead + gap), ()))
    return passes
