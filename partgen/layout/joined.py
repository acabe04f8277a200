"""Two sheets laid end to end with a wall between, so that plates can move from one to the other."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import floor

import numpy as np
import shapely

from partgen.layout.piece import rings_of
from partgen.layout.placing import Filling, Spot
from partgen.layout.shape import Shape
from partgen.layout.stock import Board, Stock, grid_for

OVER = 1.0  # mm; walls reach this far beyond the sheets


@dataclass(frozen=True, eq=False)
class Joined(Stock):
    """Two stocks as one; the second begins at a column of the grid.

    Attributes:
        parts: the two.
        second: where the second begins, from the start of the first one's usable length [mm].
    """

    parts: tuple[Stock, ...] = ()
    second: float = 0.0

    @property
    def is_plain(self) -> bool:
        """Never: there is a wall."""
        return False

    @property
    def usable(self) -> tuple[float, float]:
        """Length of both and the wall, width of the wider [mm]."""
        (_, w0), (length, w1) = (part.usable for part in self.parts)
        return self.second + length, max(w0, w1)

    def holds(self, shape: Shape) -> bool:
        """Tell whether either holds the shape's box."""
        return any(part.holds(shape) for part in self.parts)

    def blocked_rings(self) -> list[np.ndarray] | None:
        """Return rings round the wall, what is blocked on either, and what only one is wide for."""
        (length, _), width = self.parts[0].usable, self.usable[1]
        shut = [shapely.box(length, -OVER, self.second, width + OVER)]
        for part, start in zip(self.parts, (0.0, self.second), strict=True):
            long, wide = part.usable
            if wide < width:
                shut.append(shapely.box(start, wide, start + long, width + OVER))
            own = [
                shapely.LinearRing(r + np.array([start, 0.0])) for r in part.blocked_rings() or []
            ]
            here = shapely.box(start, -OVER, start + long, width + OVER)
            shut.append(shapely.build_area(shapely.GeometryCollection(own)).intersection(here))
        return rings_of(shapely.union_all(shut))


class Pair:
    """The board of two sheets whose grids have the same cell.

    Args:
        first: the board of the one.
        second: of the other.
        gap: between plates [mm].

    Attributes:
        board: of both.
        column: where the second begins [-].
        second: the same [mm].
    """

    def __init__(self, first: Board, second: Board, gap: float) -> None:
        grid, parts = first.grid, (first.stock, second.stock)
        self.column = floor((first.stock.usable[0] + gap) / grid.cell) + 1
        self.second = self.column * grid.cell
        stock = Joined(first.stock.sheet, first.stock.margin, parts=parts, second=self.second)
        self.board = Board(stock, grid_for(stock, grid.cell, grid.fine, gap), first.least)

    def together(self, first: Filling, second: Filling) -> list[Spot]:
        """Return what lies on two sheets as it lies on the board of both."""
        return [*first.spots, *(self._moved(spot, self.column) for spot in second.spots)]

    def apart(self, spots: list[Spot]) -> tuple[list[Spot], list[Spot]]:
        """Return what lies on either sheet."""
        here = [s for s in spots if s.column < self.column]
        there = [s for s in spots if s.column >= self.column]
        return here, [self._moved(s, -self.column) for s in there]

    def _moved(self, spot: Spot, columns: int) -> Spot:
        column = spot.column + columns
        return replace(spot, column=column, end=column * self.board.grid.cell + spot.shape.length)
