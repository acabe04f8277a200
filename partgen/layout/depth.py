"""How deep one shape would lie in another, position by position: what separation makes small."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from partgen.layout.columns import Columns
from partgen.layout.mask import Grid, bands


@dataclass(frozen=True, eq=False)
class Depth:
    """Depth of overlap by displacement.

    Attributes:
        table: cells to the nearest free displacement along an axis, zero where free [-].
        column: displacement of the table's first entry [-].
        row: the same, across [-].
    """

    table: np.ndarray
    column: int
    row: int

    def reversed(self) -> Depth:
        """Return the depths for the two shapes exchanged."""
        columns, rows = self.table.shape
        table = np.ascontiguousarray(self.table[::-1, ::-1])
        return Depth(table, 1 - self.column - columns, 1 - self.row - rows)

    def at(self, column: int, row: int) -> float:
        """Return the depth at a displacement."""
        column, row = column - self.column, row - self.row
        columns, rows = self.table.shape
        if 0 <= column < columns and 0 <= row < rows:
            return float(self.table[column, row])
        return 0.0

    def add_to(self, field: np.ndarray, column: int, row: int, weight: float) -> None:
        """Add the depths, weighted, to ``field`` for a fixed shape at ``column`` and ``row``."""
        a, b = column + self.column, row + self.row
        columns, rows = self.table.shape
        a0, a1 = max(a, 0), min(a + columns, field.shape[0])
        b0, b1 = max(b, 0), min(b + rows, field.shape[1])
        if a0 >= a1 or b0 >= b1:
            return
        part = field[a0:a1, b0:b1]
        table = self.table[a0 - a : a1 - a, b0 - b : b1 - b]
        if weight == 1.0:
            part += table
        elif weight == -1.0:
            part -= table
        else:
            part += table * np.float32(weight)


def depth(fixed: Columns, moving: Columns, grid: Grid) -> Depth:
    """Return how deep ``moving`` would lie in ``fixed``."""
    column, first, last = bands(fixed, moving, grid)
    if not len(column):
        return Depth(np.zeros((1, 1), np.float32), 0, 0)
    left, low = int(column.min()) - 1, int(first.min()) - 1
    columns, wide = int(column.max()) - left + 2, int(last.max()) - low + 3
    size = columns * wide
    begin = np.bincount((column - left) * wide + first - low, minlength=size)
    begin -= np.bincount((column - left) * wide + last + 1 - low, minlength=size)
    taken = np.cumsum(begin.reshape(columns, wide), axis=1) > 0
    cells = np.minimum(_to_free(taken), _to_free(taken.T).T)
    return Depth(np.ascontiguousarray(cells[1:-1, 1:-1], dtype=np.float32), left + 1, low + 1)


def _to_free(taken: np.ndarray) -> np.ndarray:
    """Return, along each row, how many cells it is to the nearest that is free."""
    index = np.arange(taken.shape[1], dtype=np.int32)
    before = np.maximum.accumulate(np.where(taken, 0, index), axis=1)
    far = np.where(taken, taken.shape[1], index)
    after = np.minimum.accumulate(far[:, ::-1], axis=1)[:, ::-1]
    return np.minimum(index - before, after - index)
