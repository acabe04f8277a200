"""Loops that lie in one another, as the torch sees them: where it may begin, and what is how far.

Lengths are whole steps here, so that sums are the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist

import numpy as np

from partgen.geometry.containment import holders
from partgen.geometry.nearness import box_gaps
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.layout.steady import ticks, ticks_each

PER_MM = 1e4  # steps a mm
HOT = 10**13  # steps; what it counts to cut a loop hot: more than any travel
HOME: Point = (0.0, 0.0)
Ends = tuple[Point, Point]


@dataclass(frozen=True)
class Run:
    """A loop cut from one of the places where that can begin.

    Attributes:
        begin: where the torch pierces first [mm].
        end: where it ends [mm].
        between: its travel from pass to pass [steps].
    """

    begin: Point
    end: Point
    between: int = 0


def runs_of(passes: Sequence[Ends]) -> list[Run]:
    """Return the runs of a loop cut in ``passes`` one after the other, begun with each of them."""
    found = []
    for k, (begin, _) in enumerate(passes):
        turn = [*passes[k:], *passes[:k]]
        between = sum(hop(a[1], b[0]) for a, b in pairwise(turn))
        found.append(Run(begin, turn[-1][1], between))
    return found


def hop(a: Point, b: Point) -> int:
    """Return how far two points are apart [steps]."""
    return ticks(dist(a, b), PER_MM)


class Nested:
    """Loops and what lies in what.

    Args:
        outlines: the loops [mm].
        runs: for each, the ways to cut it.
        cool: loops whose boxes are nearer than this are hot, one right after the other [mm].
    """

    def __init__(
        self, outlines: Sequence[Outline], runs: Sequence[Sequence[Run]], cool: float
    ) -> None:
        around = holders(outlines) if outlines else []
        self.runs, self.cool = runs, cool
        self.inward = sorted(range(len(outlines)), key=lambda k: -len(around[k]))
        self.within: dict[int | None, list[int]] = {None: []}
        for k, found in enumerate(around):
            self.within.setdefault(found[0] if found else None, []).append(k)
        self._boxes = np.array([o.box for o in outlines]).reshape(-1, 4)

    def are_hot(self, last: int | None, loops: Sequence[int] | np.ndarray) -> np.ndarray:
        """Tell which of ``loops`` lie beside the loop just cut, if any."""
        if not self.cool or last is None:
            return np.zeros(len(loops), dtype=bool)
        (away,) = box_gaps(self._boxes[[last]], self._boxes[loops])
        return ticks_each(away, PER_MM) < ticks(self.cool, PER_MM)

    def cost(self, order: Sequence[int], begins: Sequence[int]) -> int:
        """Return what an order costs, each loop in its run of number ``begins``: heat, travel."""
        total, at = 0, HOME
        for last, k in zip([None, *order], order, strict=False):
            run = self.runs[k][begins[k]]
            total += hop(at, run.begin) + run.between + HOT * int(self.are_hot(last, [k])[0])
            at = run.end
        return total
