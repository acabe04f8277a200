"""Both ends of every link over the travel: greatest misalignment, limits, better bolt axes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from partgen.linkage.axle import Vec
from partgen.linkage.misalignment import Limits, best_turn, limits
from partgen.linkage.points import End, Layout, Link
from partgen.linkage.travel import LinkState, State


@dataclass(frozen=True)
class EndStudy:
    """One end of a link over the travel.

    Attributes:
        link: the link.
        which: "frame" or "axle".
        worst: greatest misalignment [degrees].
        case: where.
        limits: what the end allows.
        turn: turn of the bolt, seen from above, that evens it [degrees].
        turned: misalignment left then [degrees].
        tilt: tilt of the bolt, left end up, that evens it [degrees].
        tilted: misalignment left then [degrees].
    """

    link: Link
    which: str
    worst: float
    case: str
    limits: Limits
    turn: float
    turned: float
    tilt: float
    tilted: float


def end_studies(points: Layout, states: Sequence[State]) -> list[EndStudy]:
    """Return both ends of every link over the travel."""
    found = []
    for link in points.links:
        mine = [state.link(link.label) for state in states]
        found.append(_end(link, "frame", link.frame, mine, states))
        if not link.fixed:
            found.append(_end(link, "axle", link.axle, mine, states))
    return found


def _end(
    link: Link, which: str, end: End, mine: Sequence[LinkState], states: Sequence[State]
) -> EndStudy:
    angles = [s.frame_misalignment if which == "frame" else s.axle_misalignment for s in mine]
    k = int(np.argmax(angles))
    ways = np.array([_seen(s, which) for s in mine])
    x, _, z = np.eye(3)
    return EndStudy(
        link,
        which,
        angles[k],
        states[k].case.name,
        limits(link, end),
        *best_turn(ways, end.bolt, z),
        *best_turn(ways, end.bolt, x),
    )


def _seen(state: LinkState, which: str) -> Vec:
    """Return the link's direction as the bolt's carrier sees it (3,)."""
    turn = state.frame_turn if which == "frame" else state.axle_turn
    seen: Vec = turn.T @ state.way
    return seen
