"""The search for a better layout, from a first trial until a budget is used."""

from __future__ import annotations

import os
import random
import time
from collections.abc import Sequence
from math import fsum

from partgen.layout import strip
from partgen.layout.budget import Budget
from partgen.layout.compaction import Loose, loosened
from partgen.layout.emptying import empty_last
from partgen.layout.ordering import Ordering
from partgen.layout.placing import Filling, Spot
from partgen.layout.separation import MOST, Separation
from partgen.layout.shop import Shop, Trial, trial

TRIALS = 0.5  # of the budget goes into trials on all sheets, where there are several
EMPTYING = 0.6  # of the time left then goes into getting rid of the last sheet
ORDERS = 0.35  # of the rest goes into the order on the last sheet, what is left into separation
CORES = 4  # with fewer, the search here gives way to the library once that leads
LISTENING = 0.98  # of the time; the rest is for compaction and check
LOOK = 0.1  # s between two looks at what the library has
SEEDS = 1000  # apart, so that what one search goes through is none of the next one's
FEW = 300  # steps; with fewer, all go into the order


class Search:
    """The best trial found so far; whatever ends the search, it is whole.

    Args:
        shop: the pieces and sheets.
        first: the trial to start from.
        gap: between plates [mm].
        seed: another one, another way.
    """

    def __init__(self, shop: Shop, first: Trial, gap: float, seed: int = 0) -> None:
        self.best = first
        self.proposal: list[Loose] | None = None
        self.interrupted = False
        self._shop, self._gap, self._seed = shop, gap, seed
        self._chance = random.Random(len(shop.items) + SEEDS * seed)

    def run(self, budget: Budget) -> None:
        """Search until the budget is used, or an interrupt comes.

        Raises:
            KeyboardInterrupt: it came before every piece had a place.
        """
        try:
            if self.best.left or len(self.best.fillings) > 1:
                self._try_orders(budget.part(TRIALS), budget.seconds_spent)
            if budget.seconds_left > 0.0 and not self.best.left:
                part = budget.part(EMPTYING if len(self.best.fillings) > 1 else 0.0)
                empty_last(self._shop, self.best, self._gap, part, self._chance, self._take_trial)
            if self.best.fillings and self.best.fillings[-1][2].spots and not self.best.left:
                self._ask_and_shorten(budget)
        except KeyboardInterrupt:
            self.interrupted = True
            if self.best.left:
                raise

    def _ask_and_shorten(self, budget: Budget) -> None:
        """Shorten the last sheet here and, where there is time, by the library at the same time."""
        run = self._strip_run(int(LISTENING * budget.seconds_left))
        if run is None:
            self._shorten_last(budget)
            return
        budget.offset = fsum(self.best.ends) - self._last_end
        listening = budget.part(LISTENING)
        listening.report(self._last_end)
        crowded = (os.cpu_count() or 1) < CORES
        try:
            self._shorten_last(listening.until(lambda length: crowded and run.end < length))
            while listening.step() and not run.is_over(LOOK):
                listening.report(min(run.end, self._last_end))
        finally:
            self.proposal = run.answer()
            run.stop()

    @property
    def _last_end(self) -> float:
        """Far side of what is on the last sheet, from the start of the usable length [mm]."""
        return max(s.end for s in self.best.fillings[-1][2].spots)

    def _strip_run(self, seconds: int) -> strip.StripRun | None:
        k, _, filling = self.best.fillings[-1]
        stock = self._shop.boards[k].stock
        if seconds < 1 or not stock.is_plain or not strip.is_installed():
            return None
        riders = []
        for loose in loosened(filling):
            piece, _ = self._shop.items[loose.item]
            turns = tuple((t - stock.quarter) % 360.0 for t in piece.turns)
            riders.append(strip.Rider(loose, piece, turns))
        return strip.start(riders, stock, self._gap, seconds, 1 + SEEDS * self._seed)

    def _try_orders(self, budget: Budget, took: float) -> None:
        """Try changed orders on all sheets; one takes about as long as it ``took`` before [s]."""
        order = self._shop.rough_order
        while len(order) > 1 and budget.allows(took) and budget.step(items=len(order)):
            begin = time.monotonic()
            changed = order.copy()
            a, b = self._chance.sample(range(len(order)), 2)
            changed[a], changed[b] = changed[b], changed[a]
            changed = self._shop.by_priority(changed)
            found = trial(self._shop, changed)
            took = time.monotonic() - begin
            if found.cost <= self.best.cost:
                order, self.best = changed, found
            budget.report(fsum(self.best.ends))

    def _shorten_last(self, budget: Budget) -> None:
        """Make the last sheet's used length shorter: leftover is best as one rectangle."""
        k, _, filling = self.best.fillings[-1]
        board, options = filling.board, self._shop.options[k]
        budget.offset = fsum(self.best.ends[:-1]) + board.stock.margin
        ordering = Ordering(board, options, filling.spots)
        try:
            ordering.improve(budget.part(1.0 if budget.is_below(FEW) else ORDERS), self._chance)
        finally:
            self._take(ordering.spots)
        if len(filling.spots) > MOST:
            return
        separation = Separation(board, options, ordering.spots, self._chance)
        try:
            separation.improve(budget)
        finally:
            self._take(separation.best)

    def _take_trial(self, found: Trial) -> None:
        self.best = found

    def _take(self, spots: Sequence[Spot]) -> None:
        k, number, filling = self.best.fillings[-1]
        last = (k, number, Filling(filling.board, list(spots)))
        self.best = Trial((*self.best.fillings[:-1], last), self.best.left, self.best.left_area)
