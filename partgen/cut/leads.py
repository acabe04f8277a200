"""Where a cut begins: pierce in scrap, a straight lead-in square to the edge, a short lead-out.

Scrap is the inside of an opening and the outside of an outside edge. A lead never meets the arc
about a bolt hole on an outside edge (an ear): a pierce's notch there is where a crack starts.
Straight edges are taken before arcs, places far from bolt holes before near ones. In a round hole
the lead is no longer than its radius less the kerf. Lengths: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist, sqrt

from partgen.cut.loop import Loop
from partgen.cut.obstacles import Obstacles
from partgen.entries.cutting import Cutting
from partgen.geometry.chain import Chain
from partgen.geometry.segment import Point, Segment
from partgen.layout.steady import ticks

SHORTER = (1.0, 0.8, 0.6, 0.45)  # a lead without room is tried at these parts of its length
PARTS = (0.5, 0.3, 0.7, 0.15, 0.85)  # places tried on each segment
FAR = 60.0  # mm from a bolt hole; further is no better
PER_MM = 10  # steps in which that distance counts
SHORT = 3.0  # mm; no lead on a shorter line of an outside edge
EAR = 1.0  # mm; an arc with its centre this near a bolt hole is about it
NARROW = 0.6  # kerfs; in a narrow slot a pierce may be this near its own walls
NEAR = 1e-6  # mm; room this little short of what is asked is enough
CLOSE = 0.99  # of its own length, a lead's start stays from its own cut


@dataclass(frozen=True)
class Start:
    """A place on a loop where the torch may join it.

    Attributes:
        at: number of the segment of the loop's path.
        part: how far along it, 0 to 1 [-].
        lead_in: from the pierce to the loop; empty if none is wanted.
        lead_out: away from the loop, for a torch that runs anticlockwise; may be empty.
        lead_out_back: the same for a torch that runs clockwise.
    """

    at: int
    part: float
    lead_in: Chain = ()
    lead_out: Chain = ()
    lead_out_back: Chain = ()


def starts(
    loop: Loop, number: int, others: Obstacles, edges: Obstacles | None, process: Cutting
) -> Iterator[Start]:
    """Yield the places where a loop can begin with a lead, best first.

    Args:
        loop: what is cut.
        number: of the loop among ``others``.
        others: every cut on the sheet.
        edges: the sheet's edge and openings; None if there is no sheet.
        process: lengths and clearances.
    """
    places = sorted(_places(loop), key=lambda place: place[0])
    for own in (process.pierce_clearance, NARROW * process.kerf):
        for shorter in SHORTER:
            length = _longest(loop, process.lead * shorter, process.kerf)
            if length < process.kerf * CLOSE:
                break
            for _, at, part in places:
                start = _start(loop, at, part, length, process)
                if _has_room(start, loop, number, own, others, edges, process):
                    yield _with_lead_out(start, loop, number, others, process)


def bare_starts(loop: Loop) -> Iterator[Start]:
    """Yield the places where a loop can begin without a lead, best first."""
    for _, at, part in sorted(_places(loop), key=lambda place: place[0]):
        yield Start(at, part)


def _longest(loop: Loop, lead: float, kerf: float) -> float:
    """Return how long the lead may be: in a round hole no more than its radius less the kerf."""
    if not loop.inside or not loop.nominal.circle_of:
        return lead
    return min(lead, loop.nominal.circle_of[2] / 2 - kerf)


def _places(loop: Loop) -> Iterator[tuple[tuple[bool, int, int, int], int, float]]:
    """Yield rank, segment and part of every place that a lead may join."""
    for k, s in enumerate(loop.path.segments):
        if not loop.inside and is_ear(s, loop.ears):
            continue
        if not s.bulge and s.length < SHORT and not loop.inside:
            continue
        for rank, part in enumerate(_parts(loop)):
            near = min((dist(s.at(part), ear) for ear in loop.ears), default=FAR)
            away = 0 if loop.inside else -ticks(min(near, FAR), PER_MM)
            yield (bool(s.bulge), away, rank, k), k, part


def _parts(loop: Loop) -> tuple[float, ...]:
    if loop.path.circle_of:
        return (0.0, *PARTS)  # a circle begins at its first point
    return (*PARTS, 0.0, 1.0) if loop.inside else PARTS


def is_ear(s: Segment, holes: tuple[Point, ...]) -> bool:
    """Tell whether a segment is an arc about a bolt hole."""
    return bool(s.bulge) and any(dist(s.centre, hole) < EAR for hole in holes)


def _start(loop: Loop, at: int, part: float, length: float, process: Cutting) -> Start:
    segment = loop.path.segments[at]
    (x, y), (ux, uy) = segment.at(part), segment.direction(part)
    nx, ny = (-uy, ux) if loop.inside else (uy, -ux)  # into the scrap
    lead_in = Segment(x + length * nx, y + length * ny, x, y)
    out = process.lead_out / sqrt(2)
    if not out:
        return Start(at, part, (lead_in,))
    ahead = Segment(x, y, x + out * (nx + ux), y + out * (ny + uy))
    back = Segment(x, y, x + out * (nx - ux), y + out * (ny - uy))
    return Start(at, part, (lead_in,), (ahead,), (back,))


def _has_room(
    start: Start,
    loop: Loop,
    number: int,
    own: float,
    others: Obstacles,
    edges: Obstacles | None,
    process: Cutting,
) -> bool:
    lead = start.lead_in[0]
    room, kerf = process.pierce_clearance - NEAR, process.kerf - NEAR
    return (
        loop.path.distance(lead.start) >= min(CLOSE * lead.length, own)
        and loop.path.distance(lead.at(0.5)) >= CLOSE * min(lead.length / 2, own, process.kerf)
        and others.is_free(lead.start, max(room, kerf), but=number)
        and others.is_clear(lead, kerf, but=number)
        and (edges is None or edges.is_clear(lead, kerf))
    )


def _with_lead_out(
    start: Start, loop: Loop, number: int, others: Obstacles, process: Cutting
) -> Start:
    """Return the start with those lead-outs that have room."""
    kept = [
        chain
        if chain
        and loop.path.distance(chain[0].end) >= 0.6 * chain[0].length
        and others.is_clear(chain[0], process.kerf, but=number)
        else ()
        for chain in (start.lead_out, start.lead_out_back)
    ]
    return Start(start.at, start.part, start.lead_in, kept[0], kept[1])
