"""How little the torch could travel between given cuts, whatever their order.

A tour from (0, 0) through all cuts joins them all, so it is no shorter than the shortest tree that
does, each branch the shorter of the two ways from one cut's end to the other's beginning.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np

from partgen.geometry.segment import Point


def least_travel(cuts: Sequence[tuple[Point, Point]]) -> float:
    """Return a length that no order of cuts can travel less than, from (0, 0) on [mm].

    Args:
        cuts: where the torch begins and ends each of them, which stays as it is [mm].

    Examples:
        >>> least_travel([((3.0, 4.0), (3.0, 4.0)), ((3.0, 10.0), (3.0, 10.0))])
        11.0
    """
    begin = np.array([(0.0, 0.0), *(a for a, _ in cuts)])
    end = np.array([(0.0, 0.0), *(b for _, b in cuts)])
    away = np.hypot(*begin.T)  # from (0, 0), which nothing leads back to
    away[0] = inf
    waiting = np.ones(len(begin), dtype=bool)
    waiting[0] = False
    total = 0.0
    for _ in cuts:
        at = int(np.where(waiting, away, inf).argmin())
        total += float(away[at])
        waiting[at] = False
        onward = np.hypot(*(begin - end[at]).T)
        back = np.hypot(*(begin[at] - end).T)
        away = np.minimum(away, np.minimum(onward, back))
    return total
