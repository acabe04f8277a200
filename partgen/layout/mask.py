"""No-fit maps: at which grid positions one shape would come too near another.

A map is one long Python integer, bit ``column * rows + row``: placing is a shift and an OR, and the
first free position, least x then least y, is the lowest zero bit. Positions are of a shape's lower
left box corner, counted in cells. A row below 0 lands among the top rows of the column before: no
position is valid there, so nothing has to be clipped.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from partgen.layout.columns import Columns

CHUNK = 1 << 15  # bits looked at together
TOUCH = 1e-7  # mm; two shapes may come this much nearer than asked


@dataclass(frozen=True)
class Grid:
    """Positions on a sheet.

    Attributes:
        cell: distance between positions [mm].
        rows: positions across the sheet, valid ones and head room [-].
        fine: mask columns a cell [-].
    """

    cell: float
    rows: int
    fine: int

    @property
    def column_width(self) -> float:
        """Width of a mask column [mm]."""
        return self.cell / self.fine


@dataclass(frozen=True)
class NoFit:
    """Where one shape cannot go, relative to another.

    Attributes:
        bits: the map.
        shift: bit of the map that belongs to displacement (0, 0) is ``-shift`` [-].
    """

    bits: int
    shift: int

    def at(self, position: int) -> int:
        """Return the map for the other shape at bit ``position``."""
        by = position + self.shift
        return self.bits << by if by >= 0 else self.bits >> -by


def no_fit(fixed: Columns, moving: Columns, grid: Grid) -> NoFit:
    """Return the displacements of ``moving`` at which it would overlap ``fixed``."""
    columns, first, last = bands(fixed, moving, grid)
    if not len(columns):
        return NoFit(0, 0)
    least = int(columns.min()) - 1
    table = _table(columns - least, first, last, grid.rows)
    return NoFit(_packed(table), least * grid.rows)


def no_fit_sheet(blocked: Columns, moving: Columns, grid: Grid, columns: int) -> int:
    """Return the positions on a sheet at which ``moving`` would overlap what is blocked.

    Args:
        blocked: columns outside the sheet, in its openings or too near either.
        moving: columns of the shape itself.
        grid: the positions.
        columns: how many columns of positions the sheet has.
    """
    column, first, last = bands(blocked, moving, grid)
    first, last = np.maximum(first, 0), np.minimum(last, grid.rows - 1)
    keep = (column >= 0) & (column < columns) & (first <= last)
    if not keep.any():
        return 0
    return _packed(_table(column[keep], first[keep], last[keep], grid.rows))


def bars(first: int, last: int, rows: int, columns: int) -> int:
    """Return a map with rows ``first`` to ``last`` set in each of ``columns`` columns."""
    if last < first or columns <= 0:
        return 0
    bits, have = ((1 << (last - first + 1)) - 1) << first, 1
    while have < columns:
        step = min(have, columns - have)
        bits |= bits << (step * rows)
        have += step
    return bits


def lowest_free(bits: int, start: int = 0) -> int:
    """Return the position of the lowest zero bit from ``start`` on.

    Examples:
        >>> lowest_free(0b10111)
        3
        >>> lowest_free(0b10111, 4)
        5
    """
    rest, full = bits >> start, (1 << CHUNK) - 1
    while rest & full == full:
        rest >>= CHUNK
        start += CHUNK
    low = rest & full
    return start + (~low & (low + 1)).bit_length() - 1


def bands(fixed: Columns, moving: Columns, grid: Grid) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return column and first and last row of every run of forbidden displacements."""
    found = []
    pairs = zip(fixed.by_rest(grid.fine), moving.by_rest(grid.fine), strict=True)
    for (a, a_low, a_high), (b, b_low, b_high) in pairs:
        first = np.floor((a_low[:, None] - b_high + TOUCH) / grid.cell).astype(np.int32) + 1
        last = np.ceil((a_high[:, None] - b_low - TOUCH) / grid.cell).astype(np.int32) - 1
        keep = first <= last  # here and not at the end: there may be tens of millions
        found.append(((a[:, None] - b).astype(np.int32)[keep], first[keep], last[keep]))
    column, low, high = (np.concatenate(parts) for parts in zip(*found, strict=True))
    return column, low, high


def _table(column: np.ndarray, first: np.ndarray, last: np.ndarray, rows: int) -> np.ndarray:
    """Return booleans (column, row); rows below 0 wrap into the column before."""
    low = min(0, int(first.min()))
    wide = int(last.max()) + 2 - low
    count = int(column.max()) + 1
    size = count * wide
    begin = np.bincount(_at(column, first - low, wide), minlength=size)
    begin -= np.bincount(_at(column, last + 1 - low, wide), minlength=size)
    covered = np.cumsum(begin.reshape(count, wide), axis=1) > 0
    table = np.zeros((count, rows), dtype=bool)
    above = covered[:, -low : -low + rows]
    table[:, : above.shape[1]] = above
    below = covered[:, max(0, -low - rows) : -low]
    if below.shape[1]:
        table[:-1, rows - below.shape[1] :] |= below[1:]
    return table


def _at(column: np.ndarray, row: np.ndarray, wide: int) -> np.ndarray:
    place = column.astype(np.int64)
    place *= wide
    place += row
    return place


def _packed(table: np.ndarray) -> int:
    return int.from_bytes(np.packbits(table, bitorder="little").tobytes(), "little")
