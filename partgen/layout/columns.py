"""A shape cut into narrow columns: for each, the y-intervals that any metal in it reaches.

This is the occupancy mask of the layout, exact in y and rounded outward to one column in x; windows
are simply gaps between intervals.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

Intervals = tuple[np.ndarray, np.ndarray, np.ndarray]
FLAT = 1e-9  # mm; overlaps narrower than this are none


@dataclass(frozen=True)
class Columns:
    """Intervals by column.

    Attributes:
        column: index of the column of each interval, ascending [-].
        low: lower ends [mm].
        high: upper ends [mm].
    """

    column: np.ndarray
    low: np.ndarray
    high: np.ndarray

    def by_rest(self, fine: int) -> list[Intervals]:
        """Return the intervals of columns 0, ``fine``, 2 ``fine``..., then of 1, ``fine`` + 1...

        Columns are divided by ``fine``, rounded down.
        """
        if fine not in self._split:
            column, rest = np.divmod(self.column, fine)
            masks = [rest == k for k in range(fine)]
            self._split[fine] = [(column[m], self.low[m], self.high[m]) for m in masks]
        return self._split[fine]

    @cached_property
    def _split(self) -> dict[int, list[Intervals]]:
        return {}


def columns(rings: list[np.ndarray], left: float, width: float) -> Columns:
    """Return the columns of the area between ``rings`` (even-odd).

    Args:
        rings: points of closed rings, first not repeated [mm].
        left: where column 0 begins [mm].
        width: of a column [mm].

    Returns:
        Disjoint intervals, ascending in each column.
    """
    starts = np.concatenate(rings)
    ends = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    swap = starts[:, 0] > ends[:, 0]
    starts[swap], ends[swap] = ends[swap], starts[swap].copy()
    x0, x1 = (starts[:, 0] - left) / width, (ends[:, 0] - left) / width
    edge = _edges(x0, x1, starts[:, 1], ends[:, 1], width)
    inner = _slices(x0, x1, starts[:, 1], ends[:, 1])
    return _merged(*(np.concatenate(pair) for pair in zip(edge, inner, strict=True)))


def _edges(x0: np.ndarray, x1: np.ndarray, y0: np.ndarray, y1: np.ndarray, w: float) -> Intervals:
    """Return the y-extent of every edge in every column it enters."""
    flat = FLAT / w
    first = np.floor(x0 + flat).astype(np.int64)
    last = np.maximum(np.ceil(x1 - flat).astype(np.int64) - 1, first)
    which, column = _spread(first, last - first + 1)
    run = np.maximum(x1 - x0, flat)[which]
    upright = (x1 - x0 <= flat)[which]
    a = np.clip((column - x0[which]) / run, 0.0, 1.0)
    b = np.clip((column + 1 - x0[which]) / run, 0.0, 1.0)
    rise = (y1 - y0)[which]
    ya = np.where(upright, y0[which], y0[which] + a * rise)
    yb = np.where(upright, y1[which], y0[which] + b * rise)
    # An upright edge on a column's border belongs to neither side: the slices show its metal.
    keep = ~(upright & (np.abs(x0[which] - np.round(x0[which])) <= flat))
    return column[keep], np.minimum(ya, yb)[keep], np.maximum(ya, yb)[keep]


def _slices(x0: np.ndarray, x1: np.ndarray, y0: np.ndarray, y1: np.ndarray) -> Intervals:
    """Return the inside along the middle line of every column."""
    first = np.ceil(x0 - 0.5).astype(np.int64)
    last = np.ceil(x1 - 0.5).astype(np.int64)
    which, column = _spread(first, last - first)
    part = (column + 0.5 - x0[which]) / (x1 - x0)[which]
    y = y0[which] + part * (y1 - y0)[which]
    order = np.lexsort((y, column))
    column, y = column[order], y[order]
    return column[::2], y[::2], y[1::2]


def _spread(first: np.ndarray, count: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return, for each edge, its index repeated ``count`` times and the columns from ``first``."""
    which = np.repeat(np.arange(len(first)), count)
    offset = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    return which, first[which] + offset


def _merged(column: np.ndarray, low: np.ndarray, high: np.ndarray) -> Columns:
    """Return the union of the intervals, column by column."""
    order = np.lexsort((low, column))
    column, low, high = column[order], low[order], high[order]
    lift = (high.max() - low.min() + 1.0) * column
    reach = np.maximum.accumulate(high + lift)
    begins = np.ones(len(column), dtype=bool)
    begins[1:] = low[1:] + lift[1:] > reach[:-1] + FLAT
    at = np.flatnonzero(begins)
    last = np.append(at[1:], len(column)) - 1
    return Columns(column[at], low[at], (reach - lift)[last])
