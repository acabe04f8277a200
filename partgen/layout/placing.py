"""Placing pieces on one sheet in a given order: each at the first free position.

A small piece goes into an opening of one already placed where it fits; else the turn and position
that reach least far along the sheet are taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, floor

from partgen.layout.mask import TOUCH, lowest_free
from partgen.layout.shape import Box, Shape
from partgen.layout.stock import Board


@dataclass(frozen=True, eq=False)
class Spot:
    """A shape on the grid.

    Attributes:
        item: index of what was to be placed.
        shape: the way it is turned.
        column: of its box's lower left corner [-].
        row: the same, across [-].
        end: far side of its box from the start of the usable length [mm].
    """

    item: int
    shape: Shape
    column: int
    row: int
    end: float


@dataclass(eq=False)
class Filling:
    """A sheet being filled.

    Attributes:
        board: its grid and maps.
        spots: what is placed, in order.
    """

    board: Board
    spots: list[Spot] = field(default_factory=list)
    _maps: dict[Shape, tuple[int, int]] = field(default_factory=dict)
    _windows: list[tuple[int, int, Box]] = field(default_factory=list)
    _free: dict[Shape, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Begin with the windows of what lies on the sheet already."""
        if not self._windows:
            self._windows = [(0, 0, box) for box in self.board.stock.fixed_windows]

    @property
    def end(self) -> float:
        """Far side of all that lies on the sheet, from the start of the usable length [mm]."""
        return max([s.end for s in self.spots] + [self.board.stock.fixed_end])

    def copy(self) -> Filling:
        """Return a filling that can go on without changing this one."""
        return Filling(
            self.board,
            self.spots.copy(),
            self._maps.copy(),
            self._windows.copy(),
            self._free.copy(),
        )

    def place(self, item: int, shapes: Sequence[Shape]) -> Spot | None:
        """Place ``item`` as one of ``shapes``; return where, or None if there is no room."""
        fitting = [s for s in shapes if self.board.stock.holds(s)]
        spot = self._in_window(item, fitting) or self._first(item, fitting)
        if spot is not None:
            self.spots.append(spot)
            here = (spot.column, spot.row)
            self._windows += [(*here, box) for box in self.board.windows(spot.shape)]
        return spot

    def _first(self, item: int, shapes: Sequence[Shape]) -> Spot | None:
        best: Spot | None = None
        rows, cell = self.board.grid.rows, self.board.grid.cell
        for shape in shapes:
            column, row = divmod(self._lowest(shape), rows)
            if column > self.board.last(shape)[0]:
                continue
            spot = Spot(item, shape, column, row, column * cell + shape.length)
            if best is None or (spot.end, column, row) < (best.end, best.column, best.row):
                best = spot
        return best

    def _lowest(self, shape: Shape) -> int:
        """Return the first free position; it never comes back toward the start."""
        at = self._free[shape] = lowest_free(self.taken(shape), self._free.get(shape, 0))
        return at

    def _in_window(self, item: int, shapes: Sequence[Shape]) -> Spot | None:
        cell = self.board.grid.cell
        for column, row, (x0, y0, x1, y1) in self._windows:
            for shape in shapes:
                columns = _inside(x0, x1, shape.length, cell)
                rows = _inside(y0, y1, shape.width, cell)
                if not (columns and rows):
                    continue
                columns = columns[0] + column, columns[1] + column
                rows = rows[0] + row, rows[1] + row
                if at := self._free_in(shape, columns, rows):
                    return Spot(item, shape, *at, at[0] * cell + shape.length)
        return None

    def _free_in(
        self, shape: Shape, columns: tuple[int, int], rows: tuple[int, int]
    ) -> tuple[int, int] | None:
        """Return the first free column and row in a range."""
        stride = self.board.grid.rows
        start = columns[0] * stride + rows[0]
        bits = self.taken(shape) >> start
        run = (1 << (rows[1] - rows[0] + 1)) - 1
        for column in range(columns[1] - columns[0] + 1):
            part = (bits >> (column * stride)) & run
            if part != run:
                return columns[0] + column, rows[0] + lowest_free(part)
        return None

    def taken(self, shape: Shape) -> int:
        """Return the map of positions where ``shape`` cannot go now."""
        bits, seen = self._maps.get(shape) or (self.board.base(shape), 0)
        rows = self.board.grid.rows
        for spot in self.spots[seen:]:
            bits |= self.board.pair(spot.shape, shape).at(spot.column * rows + spot.row)
        self._maps[shape] = bits, len(self.spots)
        return bits


def _inside(low: float, high: float, size: float, cell: float) -> tuple[int, int] | None:
    """Return first and last grid step at which a box of ``size`` lies between two bounds."""
    first, last = ceil((low - TOUCH) / cell), floor((high - size + TOUCH) / cell)
    return (first, last) if first <= last else None
