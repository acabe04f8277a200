"""Which loop is cut before which: what lies inside a loop goes first, then by short ways.

A plate's openings come before its outside edge, and a plate that lies in another's window comes,
whole, before that window: once a loop is through, what is in it may drop or shift.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import dist

import numpy as np
import shapely

from partgen.outline import Outline
from partgen.segment import Point

VIEW_ERROR = 0.05  # mm; loops are kerfs apart, so a rough view tells what lies in what


def holders(outlines: Sequence[Outline]) -> list[list[int]]:
    """Return for each outline the numbers of those it lies in, the smallest first."""
    views = [o.polygon("inside", VIEW_ERROR) for o in outlines]
    firsts = shapely.points(np.array([o.segments[0].at(0.5) for o in outlines]))
    small, large = shapely.STRtree(views).query(firsts, predicate="within")
    around: list[list[int]] = [[] for _ in outlines]
    for k, j in zip(small.tolist(), large.tolist(), strict=True):
        if k != j and outlines[j].area > outlines[k].area:
            around[k].append(j)
    for found in around:
        found.sort(key=lambda j: (outlines[j].area, j))
    return around


def deepest_first(outlines: Sequence[Outline]) -> list[int]:
    """Return the numbers of the outlines, those inside most others first, else as they stand."""
    around = holders(outlines) if outlines else []
    return sorted(range(len(outlines)), key=lambda k: -len(around[k]))


def short_ways(outlines: Sequence[Outline], at: Callable[[int], Point]) -> list[int]:
    """Return the numbers of the outlines in a cutting order with short ways between.

    Each outline follows everything that lies in it; among those that lie side by side the torch
    goes to the nearest next one, from (0, 0).

    Args:
        outlines: closed cuts.
        at: where the torch begins on each of them.
    """
    around = holders(outlines) if outlines else []
    within: dict[int | None, list[int]] = {}
    for k, found in enumerate(around):
        within.setdefault(found[0] if found else None, []).append(k)
    order: list[int] = []
    torch: Point = (0.0, 0.0)
    stack: list[tuple[int | None, list[int]]] = [(None, list(within.get(None, [])))]
    while stack:
        owner, waiting = stack[-1]
        if waiting:
            here = torch
            following = min(waiting, key=lambda k: (round(dist(here, at(k)), 6), k))
            waiting.remove(following)
            stack.append((following, list(within.get(following, []))))
            continue
        stack.pop()
        if owner is not None:
            order.append(owner)
            torch = at(owner)
    return order
