"""A short order of loops, level by level: first of what lies in each loop, at last of the plates.

A loop and all that lies in it is a block: the torch may begin it in several ways and ends where
the loop itself ends. So what it costs to go on from one block to the next is known before the
order of blocks is, and each level is a search of its own. A loop that can be cut in several runs
makes as many blocks, of which one is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from partgen.cut.nested import HOME, HOT, PER_MM, Nested, Run, hop
from partgen.cut.route import every_order, improved
from partgen.geometry.segment import Point
from partgen.layout.steady import ticks, ticks_each

FEW = 6  # loops side by side; no more are tried in every order
FEW_RUNS = 24  # runs of them
MOST = 1000  # loops side by side; more are left in the order they have
SIDES = ((-1, 0), (1, 0), (0, -1), (0, 1))


@dataclass(frozen=True)
class _Way:
    """One way through a block.

    Attributes:
        begin: where the torch begins [mm].
        cost: from there to the block's end [steps].
        loops: in their order.
    """

    begin: Point
    cost: int
    loops: tuple[int, ...]


@dataclass(frozen=True)
class _Block:
    """A loop in one of its runs, and what lies in it.

    Attributes:
        loop: the loop, cut last.
        end: where the torch ends [mm].
        ways: how it can be cut.
    """

    loop: int
    end: Point
    ways: list[_Way]


class _Level:
    """Loops side by side.

    Args:
        groups: for each loop its blocks, one for each run.
        nested: all loops.
    """

    def __init__(self, groups: Sequence[Sequence[_Block]], nested: Nested) -> None:
        self._nested = nested
        self.blocks = [block for group in groups for block in group]
        self.groups = [k for k, group in enumerate(groups) for _ in group]
        ways = [way for block in self.blocks for way in block.ways]
        self._begin = np.array([way.begin for way in ways])
        self._cost = np.array([way.cost for way in ways], dtype=np.int64)
        self._first = np.array([way.loops[0] for way in ways])
        self._at = np.cumsum([0, *(len(block.ways) for block in self.blocks)])

    @property
    def is_small(self) -> bool:
        """Tell whether every order can be tried."""
        return self.groups[-1] < FEW and len(self.groups) <= FEW_RUNS

    def into(self, at: Point, last: int | None) -> list[int]:
        """Return what it costs to go from ``at`` through each block, after loop ``last``."""
        found: list[int] = np.minimum.reduceat(self._each(at, last), self._at[:-1]).tolist()
        return found

    @cached_property
    def onward(self) -> list[list[int]]:
        """What it costs to go on from each block through each."""
        return [self.into(block.end, block.loop) for block in self.blocks]

    def through(self, order: Sequence[int], at: Point, last: int | None) -> tuple[int, ...]:
        """Return the loops of blocks cut in ``order``, each the cheapest way."""
        loops: list[int] = []
        for k in order:
            block = self.blocks[k]
            each = self._each(at, last)[self._at[k] : self._at[k + 1]]
            loops += block.ways[int(each.argmin())].loops
            at, last = block.end, block.loop
        return tuple(loops)

    def _each(self, at: Point, last: int | None) -> np.ndarray:
        away = ticks_each(np.hypot(*(self._begin - at).T), PER_MM) + self._cost
        return np.asarray(away + HOT * self._nested.are_hot(last, self._first))

    @cached_property
    def between(self) -> list[list[int]]:
        """What it costs to go on from loop to loop, as if each could end in any of its runs."""
        costs = np.array(self.onward)
        firsts = [self.groups.index(k) for k in range(self.groups[-1] + 1)]
        found: list[list[int]] = np.minimum.reduceat(
            np.minimum.reduceat(costs, firsts, axis=0), firsts, axis=1
        ).tolist()
        return found

    def least(self, costs: Sequence[int]) -> list[int]:
        """Return the least of costs by block for each loop."""
        return [
            min(c for c, g in zip(costs, self.groups, strict=True) if g == k)
            for k in range(self.groups[-1] + 1)
        ]


def searched(nested: Nested, begins: Sequence[int] | None, order: Sequence[int]) -> list[int]:
    """Return a short order of the loops.

    Args:
        nested: the loops.
        begins: which of its runs each is cut in; None for any.
        order: of all loops, to start from.
    """
    place = {k: at for at, k in enumerate(order)}
    blocks: dict[int, list[_Block]] = {}
    for k in nested.inward:
        runs = nested.runs[k] if begins is None else [nested.runs[k][begins[k]]]
        inside = sorted(nested.within.get(k, []), key=place.__getitem__)
        level = _Level([blocks.pop(c) for c in inside], nested) if inside else None
        blocks[k] = [_Block(k, run.end, _ways(k, run, level)) for run in runs]
    plates = sorted(nested.within[None], key=place.__getitem__)
    level = _Level([blocks[k] for k in plates], nested)
    return list(level.through(_plates_order(level), HOME, None))


def _plates_order(level: _Level) -> list[int]:
    count, first = level.groups[-1] + 1, level.into(HOME, None)
    if level.is_small:
        ends = every_order(level.onward, [0] * len(first), level.groups)
        return min((first[order[0]] + cost, order) for cost, order in ends)[1]
    found = list(range(count))
    if count <= MOST:
        ring = [[0, *level.least(first)], *([0, *row] for row in level.between)]
        found = [k - 1 for k in improved(ring, range(count + 1))[1:]]
    return [level.groups.index(k) for k in found]


def _ways(k: int, run: Run, level: _Level | None) -> list[_Way]:
    """Return the ways to cut loop ``k`` and before it what lies in it."""
    if level is None:
        return [_Way(run.begin, run.between, (k,))]
    found = []
    for cost, order in _orders_inside(level, run.begin):
        first, rest = level.blocks[order[0]], order[1:]
        loops = level.through(rest, first.end, first.loop)
        found += [
            _Way(way.begin, way.cost + cost + run.between, (*way.loops, *loops, k))
            for way in first.ways
        ]
    return found


def _orders_inside(level: _Level, goal: Point) -> list[tuple[int, list[int]]]:
    """Return good orders that end at ``goal``, begun with different blocks, and their costs."""
    last = [hop(block.end, goal) for block in level.blocks]
    if level.is_small:
        return every_order(level.onward, last, level.groups)
    found, least = [], level.least(last)
    for first in _outermost(level):
        closed = [
            [least[a] if b == first else cost for b, cost in enumerate(row)]
            for a, row in enumerate(level.between)
        ]
        order = [first, *(b for b in range(len(least)) if b != first)]
        order = improved(closed, order, kicks=0) if len(order) <= MOST else order
        cost = sum(level.between[a][b] for a, b in pairwise(order)) + least[order[-1]]
        found.append((cost, [level.groups.index(k) for k in order]))
    return found


def _outermost(level: _Level) -> list[int]:
    """Return the first of the loops, and those that end farthest to each side."""
    sides = [[ticks(x * b.end[0] + y * b.end[1]) for b in level.blocks] for x, y in SIDES]
    return list(dict.fromkeys([0, *(level.groups[side.index(max(side))] for side in sides)]))
