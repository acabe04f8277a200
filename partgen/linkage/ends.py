"""Both ends of every link over the travel: greatest misalignment, limits, better bolt axes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from partgen.linkage.axle import Vec
from partgen.linkage.misalignment import Better, Limits, Tightest, best_turn, limits
from partgen.linkage.plate_edge import Edge
from partgen.linkage.points import End, Layout, Link
from partgen.linkage.travel import LinkState, State

PLATE_EDGE = "link on plate edge"


@dataclass(frozen=True)
class EndStudy:
    """One end of a link over the travel.

    Attributes:
        link: the link.
        which: "frame" or "axle".
        worst: the most its joint has to give [degrees].
        case: where.
        lean: the most between link and the plane square to its bolt [degrees].
        limits: what the end allows.
        turn: the turn of its bolt, anticlockwise from above, that evens it.
        tilt: the tilt of its bolt, left end up, that evens it.
        both: the one turn for the bolts at both ends that evens both.
        edge: where it comes nearest to touching its plates' edge, if their shape is known.
    """

    link: Link
    which: str
    worst: float
    case: str
    lean: float
    limits: Limits
    turn: Better
    tilt: Better
    both: Better
    edge: Edge | None = None

    @property
    def tightest(self) -> Tightest | None:
        """The limit that leaves the least, or None where nothing is known."""
        least = self.limits.tightest(self.worst, self.lean)
        if self.edge is None:
            return least
        edge = Tightest(self.edge.limit, self.edge.lean, PLATE_EDGE)
        known = [edge] if least is None else [least, edge]
        return min(known, key=lambda t: t.limit - t.demand)


def end_studies(points: Layout, states: Sequence[State]) -> list[EndStudy]:
    """Return both ends of every link over the travel."""
    found = []
    for link in points.links:
        mine = [state.link(link.label) for state in states]
        found.append(_end(link, "frame", link.frame, mine, states))
        if not link.fixed:
            found.append(_end(link, "axle", link.axle, mine, states))
    return found


def with_edges(found: Sequence[EndStudy], edges: Mapping[tuple[str, str], Edge]) -> list[EndStudy]:
    """Return ends with where a link comes nearest to touching its plates' edge put in.

    Args:
        found: the ends.
        edges: that place, by the link's label and the end.
    """
    return [replace(end, edge=edges.get((end.link.label, end.which))) for end in found]


def _end(
    link: Link, which: str, end: End, mine: Sequence[LinkState], states: Sequence[State]
) -> EndStudy:
    angles = [s.frame_misalignment if which == "frame" else s.axle_misalignment for s in mine]
    k = int(np.argmax(angles))
    bolts = {"frame": link.frame.bolt, "axle": link.axle.bolt}
    ways = {name: (np.array([_seen(s, name) for s in mine]), b) for name, b in bolts.items()}
    as_it_is = Better(0.0, angles[k])
    x, _, z = np.eye(3)
    return EndStudy(
        link=link,
        which=which,
        worst=angles[k],
        case=states[k].case.name,
        lean=max(s.frame_lean for s in mine) if which == "frame" else angles[k],
        limits=limits(link, end),
        turn=as_it_is if link.fixed else best_turn([ways[which]], z),
        tilt=as_it_is if link.fixed else best_turn([ways[which]], x),
        both=as_it_is if link.fixed else best_turn(list(ways.values()), z),
    )


def _seen(state: LinkState, which: str) -> Vec:
    """Return the link's direction as the bolt's carrier sees it (3,)."""
    turn = state.frame_turn if which == "frame" else state.axle_turn
    seen: Vec = turn.T @ state.way
    return seen
