"""Getting rid of a sheet: plates of the last sheet are moved to earlier ones.

The last sheet and an earlier one are laid end to end and shortened as one. That makes the last
sheet's used length shorter and, where it comes to nothing, saves the sheet.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from math import fsum

from partgen.layout.bound import Bound
from partgen.layout.budget import Budget
from partgen.layout.joined import Pair
from partgen.layout.placing import Filling
from partgen.layout.shop import Shop, Trial

MOST = 300  # plates on two sheets; with more, they are not moved one by one
STORE = 500_000_000  # bytes that fields of all shapes may take


def empty_last(
    shop: Shop,
    trial: Trial,
    gap: float,
    budget: Budget,
    chance: random.Random,
    take: Callable[[Trial], None],
) -> None:
    """Look for a trial with fewer sheets or a shorter last one, as long as the budget allows.

    No plate goes to a later sheet for one of lower priority; plates that are kept together go
    together. ``take`` is called with each trial that is better, also when an interrupt ends the
    search.
    """
    while len(trial.fillings) > 1:
        before, partners = trial, _partners(shop, trial)
        for tried, n in enumerate(partners):
            part = budget.part(1.0 / (len(partners) - tried))
            both = _Shortening(shop, trial, n, gap)
            try:
                both.improve(part, chance)
            finally:
                trial = both.trial
                take(trial)
            if budget.is_over or len(trial.fillings) < len(before.fillings):
                break
        if len(trial.fillings) == len(before.fillings):
            return


def _partners(shop: Shop, trial: Trial) -> list[int]:
    """Return the sheets that plates of the last one could move to, emptiest first."""
    k, _, last = trial.fillings[-1]
    if last.board.stock.fixed or not last.spots:
        return []
    least = min(shop.items[s.item][0].area for s in last.spots)
    found = []
    for n, (m, _, filling) in enumerate(trial.fillings[:-1]):
        items = [s.item for s in (*filling.spots, *last.spots)]
        free = filling.board.stock.sheet.outline.area - _metal(shop, filling)
        same = shop.boards[m].stock.quarter == shop.boards[k].stock.quarter
        if same and free >= least and len(items) <= MOST:
            found.append((-free, n))
    return [n for _, n in sorted(found)]


def _metal(shop: Shop, filling: Filling) -> float:
    fixed = fsum(f.piece.area for f in filling.board.stock.fixed)
    return fsum(shop.items[s.item][0].area for s in filling.spots) + fixed


class _Shortening:
    """One sheet and the last one, shortened as one.

    Args:
        shop: the pieces and sheets.
        before: the trial to start from.
        n: which of its sheets.
        gap: between plates [mm].
    """

    def __init__(self, shop: Shop, before: Trial, n: int, gap: float) -> None:
        (k, _, first), (_, _, last) = before.fillings[n], before.fillings[-1]
        self._before, self._n = before, n
        self._pair = Pair(first.board, last.board, gap)
        self._options, self._pieces = shop.options[k], [piece for piece, _ in shop.items]
        self._spots = self._pair.together(first, last)

    @property
    def trial(self) -> Trial:
        """The best trial so far."""
        rows = list(self._before.fillings)
        (k, number, first), (m, other, last) = rows[self._n], rows[-1]
        here, there = self._pair.apart(self._spots)
        rows[self._n] = k, number, Filling(first.board, here)
        rows[-1] = m, other, Filling(last.board, there)
        fillings = tuple(rows if there else rows[:-1])
        return Trial(fillings, self._before.left, self._before.left_area)

    def improve(self, budget: Budget, chance: random.Random) -> None:
        """Shorten both until the budget is used or the last one is empty."""
        shapes = {id(shape) for spot in self._spots for shape in self._options[spot.item]}
        board, second = self._pair.board, self._pair.second
        columns = board.stock.usable[0] / board.grid.cell
        if 4 * columns * board.grid.rows * len(shapes) > STORE:
            return
        separation = Bound(
            board, self._options, self._spots, chance, self._pieces, self._pair.column
        )
        try:
            separation.improve(budget.quiet().until(lambda length: length <= second))
        finally:
            self._spots = separation.best
