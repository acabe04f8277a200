"""Search over the order in which pieces are placed on one sheet."""

from __future__ import annotations

import random
from collections.abc import Sequence
from math import fsum

from partgen.layout.budget import Budget
from partgen.layout.placing import Filling, Spot
from partgen.layout.shape import Shape
from partgen.layout.stock import Board

PATIENCE = 40  # orders a piece may fail to help before the search gives up, times pieces
SAVED = 12  # at most this many unfinished fillings are kept to go on from


class Ordering:
    """The best order found so far, and the fillings that a changed order can start from.

    Args:
        board: the sheet.
        options: the ways each item may be turned, by item.
        spots: where the items are now, in the order they were placed.
    """

    def __init__(self, board: Board, options: Sequence[list[Shape]], spots: Sequence[Spot]) -> None:
        self._board, self._options = board, options
        self.spots = list(spots)
        self._order = [s.item for s in spots]
        self._saved: dict[int, Filling] = {0: Filling(board)}

    def improve(self, budget: Budget, chance: random.Random) -> None:
        """Try changed orders until the budget is used or nothing has helped for long."""
        idle, count = 0, len(self._order)
        while count > 1 and idle < PATIENCE * count and budget.step(items=count):
            a, b = sorted(chance.sample(range(count), 2))
            order = self._order.copy()
            if chance.random() < 0.5:
                order[a], order[b] = order[b], order[a]
            else:
                order.insert(a, order.pop(b))
            idle = 0 if self._try(order, a, budget) else idle + 1
            budget.report(max(s.end for s in self.spots))

    def _try(self, order: list[int], first: int, budget: Budget) -> bool:
        """Place ``order``, unchanged before ``first``; keep it if it is no worse."""
        start = max(k for k in self._saved if k <= first)
        filling = self._saved[start].copy()
        saved: dict[int, Filling] = {}
        limit = max(s.end for s in self.spots)
        every = max(1, len(order) // SAVED)
        for k in range(start, len(order)):
            if k % every == 0:
                saved[k] = filling.copy()
            spot = filling.place(order[k], self._options[order[k]])
            if spot is None or spot.end > limit or budget.is_over:
                return False
        if _cost(filling.spots) > _cost(self.spots):
            return False
        better = _cost(filling.spots) < _cost(self.spots)
        self.spots, self._order = filling.spots, order
        self._saved |= saved
        return better


def _cost(spots: Sequence[Spot]) -> tuple[float, float]:
    """Used length, and how far pieces reach in all [mm]."""
    return max(s.end for s in spots), fsum(s.end for s in spots)
