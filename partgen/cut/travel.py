"""How little the torch could travel between given cuts, whatever their order.

Counted are orders that cut each plate whole, what lies inside first. On each level the way joins
all loops side by side, and at last the loop they lie in or, of the plates, (0, 0) at first. So it
is no shorter than the shortest tree that joins them, each branch the shortest from where one may
end to where the other may begin. A cut held by micro-joints is several passes that follow one
another; between them lie all ways from pass to pass but one, which is where it is begun.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, fsum, inf

import numpy as np

from partgen.cut.nested import HOME, Ends, Nested, runs_of
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point


@dataclass(frozen=True)
class _Stop:
    """Where the torch may begin and end something; nowhere if it is where the way ends or begins.

    Attributes:
        begins: points [mm].
        ends: points [mm].
    """

    begins: Sequence[Point]
    ends: Sequence[Point]


def least_travel(outlines: Sequence[Outline], passes: Sequence[Sequence[Ends]]) -> float:
    """Return a length that no order of cuts can travel less than, from (0, 0) on [mm].

    Args:
        outlines: closed cuts [mm].
        passes: where the torch begins and ends each pass of each of them, one after the other [mm].
    """
    nested = Nested(outlines, [runs_of(p) for p in passes], 0.0)
    stops: dict[int, _Stop] = {}
    ways = [_between(cut) for cut in passes]
    for k in nested.inward:
        begins, ends = ([run.begin for run in nested.runs[k]], [run.end for run in nested.runs[k]])
        inside = [stops.pop(c) for c in nested.within.get(k, [])]
        if inside:
            ways.append(_shortest_tree([_Stop(begins, []), *inside]))
            begins = [at for stop in inside for at in stop.begins]
        stops[k] = _Stop(begins, ends)
    plates = [stops[k] for k in nested.within[None]]
    return fsum([*ways, _shortest_tree([_Stop([], [HOME]), *plates])])


def _between(cut: Sequence[Ends]) -> float:
    """Return the travel from pass to pass of a cut, wherever it is begun [mm]."""
    ways = [dist(a[1], b[0]) for a, b in zip(cut, [*cut[1:], cut[0]], strict=True)]
    return fsum(ways) - max(ways)


def _shortest_tree(stops: Sequence[_Stop]) -> float:
    """Return the length of the shortest tree that joins all stops [mm]."""
    begins, ends = ([list(s.begins) for s in stops], [list(s.ends) for s in stops])
    to_begin, to_end = _Nearest(begins), _Nearest(ends)
    away = np.full(len(stops), inf)
    waiting = np.ones(len(stops), dtype=bool)
    total, k = 0.0, 0
    for _ in stops[1:]:
        waiting[k] = False
        away = np.minimum(away, to_begin.distances(ends[k]))
        away = np.minimum(away, to_end.distances(begins[k]))
        k = int(np.where(waiting, away, inf).argmin())
        total += float(away[k])
    return total


class _Nearest:
    """Points in groups, asked how near each group is; one without points is nowhere."""

    def __init__(self, groups: Sequence[Sequence[Point]]) -> None:
        self._filled = [k for k, group in enumerate(groups) if group]
        self._points = np.array([at for group in groups for at in group]).reshape(-1, 2)
        counts = [len(groups[k]) for k in self._filled]
        self._at = np.cumsum([0, *counts])[:-1]
        self._count = len(groups)

    def distances(self, points: Sequence[Point]) -> np.ndarray:
        """Return how far the nearest of each group is from the nearest of ``points`` [mm]."""
        found = np.full(self._count, inf)
        for point in points:
            away = np.minimum.reduceat(np.hypot(*(self._points - point).T), self._at)
            found[self._filled] = np.minimum(found[self._filled], away)
        return found
