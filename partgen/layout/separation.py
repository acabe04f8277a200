"""Shortening a filling: give it less length, let pieces overlap, and move them apart again.

Each move puts a piece where it overlaps the others least, over all turns and grid positions. Pairs
that stay together weigh more and more until they part: guided local search, as published for
irregular strip packing (from memory).
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import floor

import numpy as np

from partgen.layout.budget import Budget
from partgen.layout.depth import Depth, depth
from partgen.layout.mask import TOUCH
from partgen.layout.placing import Spot
from partgen.layout.shape import Shape
from partgen.layout.stock import Board

MOST = 600  # plates on a sheet; with more, they are not moved apart one by one
SHRINK = 0.01  # of the used length, at first
LEAST_SHRINK = 0.0005
STALE = 60  # sweeps without less overlap before a length is given up
STORE = 400_000_000  # bytes of depths kept
NEVER = np.float32(2.0**20)  # cost of a position off the sheet


@dataclass(eq=False)
class _Field:
    """Unweighted depths of one shape against all pieces, up to entry ``seen`` of the log."""

    table: np.ndarray
    seen: int


class Separation:
    """Pieces on one sheet, free to overlap while they are being moved apart.

    Args:
        board: the sheet.
        options: the ways each item may be turned, by item.
        spots: a filling without overlap to start from.
        chance: decides the order of moves.
    """

    def __init__(
        self,
        board: Board,
        options: Sequence[list[Shape]],
        spots: Sequence[Spot],
        chance: random.Random,
    ) -> None:
        self.best = list(spots)
        self._board, self._chance = board, chance
        self._options = [[s for s in options[p.item] if board.stock.holds(s)] for p in spots]
        self._at = list(spots)
        count = len(spots)
        self._weight = np.ones((count, count), np.float32)
        self._overlap = np.zeros((count, count), np.float32)
        self._depths: dict[tuple[Shape, Shape], Depth] = {}
        self._stored = 0
        self._fields: dict[Shape, _Field] = {}
        self._log: list[tuple[float, Spot]] = []

    @property
    def length(self) -> float:
        """Used length of the best filling [mm]."""
        return max(s.end for s in self.best)

    def improve(self, budget: Budget) -> None:
        """Shorten the filling until the budget is used."""
        shrink, failed = SHRINK, False
        while len(self.best) > 1 and budget.step():
            limit = min(self.length * (1 - shrink), self.length - self._board.grid.cell)
            if not self._restart(budget, disturbed=failed):
                return
            failed = not self._shortened(limit, budget)
            if failed:
                shrink = max(0.7 * shrink, LEAST_SHRINK)
            else:
                self.best = self._at.copy()
                budget.report(self.length)

    def part(self, limit: float, budget: Budget) -> bool:
        """Move pieces that overlap apart, within ``limit`` [mm]; tell whether they all are."""
        done = self._restart(budget, disturbed=False) and self._shortened(limit, budget)
        if done:
            self.best = self._at.copy()
        return done

    def _restart(self, budget: Budget, *, disturbed: bool) -> bool:
        """Go back to the best filling; exchange two pieces if the last attempt came to nothing.

        Return whether there was time for it.
        """
        self._at = self.best.copy()
        if disturbed:
            a, b = self._chance.sample(range(len(self._at)), 2)
            p, q = self._at[a], self._at[b]
            self._at[a] = self._inside(a, replace(p, column=q.column, row=q.row))
            self._at[b] = self._inside(b, replace(q, column=p.column, row=p.row))
        self._weight[:] = 1
        self._fields.clear()
        self._log.clear()
        for k in range(len(self._at)):
            if budget.is_over:
                return False
            self._note(k)
        return True

    def _reach(self, k: int) -> int | None:
        """Return the last column where piece ``k`` may begin; None if any will do."""
        return None

    def _inside(self, k: int, spot: Spot) -> Spot:
        """Return ``spot`` of piece ``k`` moved inside the sheet's box, its end right."""
        column, row = self._board.last(spot.shape)
        reach = self._reach(k)
        column = min(spot.column, column if reach is None else min(column, reach))
        row = min(spot.row, row)
        return replace(spot, column=column, row=row, end=self._end(spot.shape, column))

    def _end(self, shape: Shape, column: int) -> float:
        return column * self._board.grid.cell + shape.length

    def _shortened(self, limit: float, budget: Budget) -> bool:
        """Move pieces until none overlaps within ``limit`` [mm]; tell whether that was reached."""
        for k, spot in enumerate(self._at):
            off = spot.end > limit + TOUCH or self._board.is_off(spot.shape, spot.column, spot.row)
            reach = self._reach(k)
            off |= reach is not None and spot.column > reach
            if off and (budget.is_over or not self._move(k, limit)):
                return False
        least, stale = float("inf"), 0
        while stale <= STALE:
            if not self._sweep(limit, budget):
                return False
            total = float(self._overlap.sum())
            if total == 0.0:
                return True
            stale = 0 if total < 0.98 * least else stale + 1
            least = min(least, total)
        return False

    def _sweep(self, limit: float, budget: Budget) -> bool:
        """Move every overlapping piece once; tell whether the budget allowed it."""
        order = np.flatnonzero(self._overlap.any(axis=1)).tolist()
        self._chance.shuffle(order)
        for k in order:
            if self._overlap[k].any():
                if not budget.step():
                    return False
                self._move(k, limit)
        most = self._overlap.max()
        if most > 0:
            heavier = self._weight * (1.2 + 0.8 * self._overlap / most)
            lighter = np.maximum(1.0, self._weight * 0.95)
            self._weight = np.where(self._overlap > 0, heavier, lighter).astype(np.float32)
        return True

    def _move(self, k: int, limit: float) -> bool:
        """Put piece ``k`` where it overlaps least; tell whether there is any position."""
        best: tuple[float, Shape, int, int] | None = None
        for shape in self._options[k]:
            field = self._field(k, shape, limit)
            if field is None:
                continue
            at = int(field.argmin())
            cost = float(field.flat[at])
            if cost < NEVER and (best is None or cost < best[0]):
                best = (cost, shape, *divmod(at, field.shape[1]))
        if best is None:
            return False
        old = self._at[k]
        _, shape, column, row = best
        if (shape, column, row) != (old.shape, old.column, old.row):
            self._at[k] = Spot(old.item, shape, column, row, self._end(shape, column))
            self._log += [(-1.0, old), (1.0, self._at[k])]
            self._note(k)
        return True

    def _field(self, k: int, shape: Shape, limit: float) -> np.ndarray | None:
        """Return the weighted depth of piece ``k`` as ``shape`` at every position, or None."""
        columns = floor((limit - shape.length + TOUCH) / self._board.grid.cell) + 1
        if (reach := self._reach(k)) is not None:
            columns = min(columns, reach + 1)
        if columns < 1:
            return None
        field = self._shared(shape)[:columns].copy()
        self._add(field, self._at[k], shape, -1.0)
        for j in np.flatnonzero(self._weight[k] > 1).tolist():
            if j != k:
                self._add(field, self._at[j], shape, float(self._weight[k, j]) - 1.0)
        return field

    def _shared(self, shape: Shape) -> np.ndarray:
        """Return the unweighted depths of ``shape`` against all pieces as they are now."""
        known = self._fields.get(shape)
        if known is None or len(self._log) - known.seen > len(self._at):
            table = self._empty(shape)
            for spot in self._at:
                self._add(table, spot, shape, 1.0)
            self._fields[shape] = _Field(table, len(self._log))
            return table
        for sign, spot in self._log[known.seen :]:
            self._add(known.table, spot, shape, sign)
        known.seen = len(self._log)
        return known.table

    def _empty(self, shape: Shape) -> np.ndarray:
        """Return the field of an empty sheet."""
        return np.where(self._board.base_table(shape), NEVER, np.float32(0))

    def _add(self, field: np.ndarray, spot: Spot, shape: Shape, weight: float) -> None:
        self._depth(spot.shape, shape).add_to(field, spot.column, spot.row, weight)

    def _depth(self, fixed: Shape, moving: Shape) -> Depth:
        known = self._depths.get((fixed, moving))
        if known is None:
            if self._stored > STORE:
                self._depths.clear()
                self._stored = 0
            mask = self._board.mask
            known = depth(mask(fixed), mask(moving), self._board.grid)
            self._depths[fixed, moving] = known
            self._stored += 2 * known.table.nbytes
            if fixed is not moving:
                self._depths[moving, fixed] = known.reversed()
        return known

    def _note(self, k: int) -> None:
        """Measure how piece ``k`` overlaps the others."""
        here = self._at[k]
        row = [
            0.0
            if j == k
            else self._depth(p.shape, here.shape).at(here.column - p.column, here.row - p.row)
            for j, p in enumerate(self._at)
        ]
        self._overlap[k, :] = row
        self._overlap[:, k] = row
