"""A sheet seen along its longer side: what may be placed where on the grid.

Plates that lie on a sheet already, because somebody said where, are a part of it like its openings.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import ceil, floor

import numpy as np
import shapely

from partgen.geometry.outline import Outline
from partgen.layout.columns import Columns, columns
from partgen.layout.mask import TOUCH, Grid, NoFit, bars, no_fit, no_fit_sheet
from partgen.layout.piece import Piece, rings_of, turned_rings
from partgen.layout.placement import Placement
from partgen.layout.shape import MASK_ERROR, Box, Shape, grown
from partgen.layout.sheet import Sheet
from partgen.layout.steady import steady


@dataclass(frozen=True)
class Fixed:
    """A plate that lies on a sheet already.

    Attributes:
        piece: the plate.
        placement: where it lies.
    """

    piece: Piece
    placement: Placement

    @cached_property
    def outlines(self) -> tuple[Outline, ...]:
        """Its outlines on the sheet, the outside edge last [mm]."""
        p = self.placement
        return self.piece.placed(p.x, p.y, p.turn)


@dataclass(frozen=True, eq=False)
class Stock:
    """One kind of sheet, laid so that its longer side runs along x from 0.

    Attributes:
        sheet: the sheet itself.
        margin: kept clear inside its edge and round its openings [mm].
        numbers: which of its copies, from 1.
        fixed: what lies on it already.
        gap: kept clear round that [mm].
    """

    sheet: Sheet
    margin: float
    numbers: tuple[int, ...] = (1,)
    fixed: tuple[Fixed, ...] = ()
    gap: float = 0.0

    @property
    def is_plain(self) -> bool:
        """Whether it is a rectangle with nothing on it and nothing cut out."""
        return self.sheet.is_rectangle and not self.fixed

    @cached_property
    def fixed_end(self) -> float:
        """Far side of what lies on it already, from the start of the usable length [mm]."""
        axis = 1 if self.sheet.upright else 0
        start = self.sheet.outline.box[axis] + self.margin
        ends = [f.outlines[-1].box[axis + 2] - start for f in self.fixed]
        return steady(max(ends, default=0.0))

    @property
    def quarter(self) -> float:
        """What is added to a turn on the grid to get the turn on the sheet [degrees]."""
        return 90.0 if self.sheet.upright else 0.0

    @property
    def usable(self) -> tuple[float, float]:
        """Length and width inside the margin [mm]."""
        return self.sheet.length - 2 * self.margin, self.sheet.width - 2 * self.margin

    @cached_property
    def fixed_windows(self) -> list[Box]:
        """Boxes of the openings in what lies on it already, laid along x [mm]."""
        boxes = [o.box for f in self.fixed for o in f.outlines[:-1]]
        return [self.laid(*box) for box in boxes]

    def laid(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        """Return a box on the sheet as it lies along x, from the usable box's corner [mm]."""
        left, low, right, _ = self.sheet.outline.box
        if self.sheet.upright:
            a, b, c, d = y0 - low, right - x1, y1 - low, right - x0
        else:
            a, b, c, d = x0 - left, y0 - low, x1 - left, y1 - low
        return tuple(steady(v - self.margin) for v in (a, b, c, d))  # type: ignore[return-value]

    def holds(self, shape: Shape) -> bool:
        """Tell whether the shape's box is no larger than what is usable."""
        length, width = self.usable
        return shape.length <= length + TOUCH and shape.width <= width + TOUCH

    def on_sheet(self, shape: Shape, x: float, y: float) -> tuple[float, float, float]:
        """Return shift x, y [mm] and turn [degrees] on the sheet of a shape's box corner."""
        x0, y0, x1, _ = self.sheet.outline.box
        x, y = x + shape.x + self.margin, y + shape.y + self.margin
        turn = (shape.turn + self.quarter) % 360.0
        return (x1 - y, y0 + x, turn) if self.sheet.upright else (x0 + x, y0 + y, turn)

    def blocked(self, grid: Grid) -> Columns | None:
        """Return the mask of what is blocked; None if a box says it all."""
        rings = self.blocked_rings()
        return None if rings is None else columns(rings, 0.0, grid.column_width)

    def blocked_rings(self) -> list[np.ndarray] | None:
        """Return rings round all that lies too near to edge, openings and what is fixed.

        Laid along x, the usable box's lower left corner at (0, 0) [mm]; None for a rectangle.
        """
        if self.is_plain:
            return None
        edge = self.sheet.outline.polygon("inside", MASK_ERROR)
        frame = shapely.box(*self.sheet.outline.box).buffer(self.margin + 1.0, join_style="mitre")
        metal = frame.difference(edge)
        holes = [o.polygon("outside", MASK_ERROR) for o in self.sheet.openings]
        plates = [Piece("", f.outlines).metal("outside", MASK_ERROR) for f in self.fixed]
        shut = grown(shapely.union_all([metal, *holes]), self.margin)
        rings = rings_of(shut.union(grown(shapely.union_all(plates), self.gap)))
        x0, y0, x1, _ = self.sheet.outline.box
        if self.sheet.upright:
            return turned_rings(rings, -90.0, -y0 - self.margin, x1 - self.margin)
        return turned_rings(rings, 0.0, -x0 - self.margin, -y0 - self.margin)


@dataclass(eq=False)
class Board:
    """The grid of one kind of sheet, with the maps that placing needs, made when first asked for.

    Attributes:
        stock: the kind of sheet.
        grid: the positions.
        least: no piece to be placed has a box side shorter than this [mm].
    """

    stock: Stock
    grid: Grid
    least: float
    _clear: dict[Shape, Columns] = field(default_factory=dict)
    _pairs: dict[tuple[Shape, Shape], NoFit] = field(default_factory=dict)
    _bases: dict[Shape, int] = field(default_factory=dict)
    _blocked: list[Columns | None] = field(default_factory=list)

    def last(self, shape: Shape) -> tuple[int, int]:
        """Return the last column and row at which the shape's box is inside the margin."""
        length, width = self.stock.usable
        return (
            floor((length - shape.length + TOUCH) / self.grid.cell),
            floor((width - shape.width + TOUCH) / self.grid.cell),
        )

    def windows(self, shape: Shape) -> list[Box]:
        """Return the boxes of the openings that could hold the smallest piece."""
        return [b for b in shape.windows if min(b[2] - b[0], b[3] - b[1]) >= self.least]

    def base(self, shape: Shape) -> int:
        """Return the map of positions off the empty sheet."""
        if shape not in self._bases:
            column, row = self.last(shape)
            bits = bars(row + 1, self.grid.rows - 1, self.grid.rows, column + 1)
            if not self._blocked:
                self._blocked.append(self.stock.blocked(self.grid))
            if (blocked := self._blocked[0]) is not None:
                bits |= no_fit_sheet(blocked, shape.bare(self.grid), self.grid, column + 1)
            self._bases[shape] = bits
        return self._bases[shape]

    def pair(self, fixed: Shape, moving: Shape) -> NoFit:
        """Return where ``moving`` cannot go, relative to ``fixed``."""
        if (fixed, moving) not in self._pairs:
            self._pairs[fixed, moving] = no_fit(self.mask(fixed), self.mask(moving), self.grid)
        return self._pairs[fixed, moving]

    def is_off(self, shape: Shape, column: int, row: int) -> bool:
        """Tell whether a position is off the empty sheet."""
        return bool(self.base(shape) >> (column * self.grid.rows + row) & 1)

    def base_table(self, shape: Shape) -> np.ndarray:
        """Return the base map as booleans, column by row, within the shape's last position."""
        column, row = self.last(shape)
        count = (column + 1) * self.grid.rows
        bits = self.base(shape) & ((1 << count) - 1)
        raw = np.frombuffer(bits.to_bytes((count + 7) // 8, "little"), np.uint8)
        table = np.unpackbits(raw, bitorder="little", count=count).astype(bool)
        return table.reshape(column + 1, self.grid.rows)[:, : row + 1]

    def mask(self, shape: Shape) -> Columns:
        """Return the mask of a shape with half the gap round it."""
        if shape not in self._clear:
            self._clear[shape] = shape.clear(self.grid)
        return self._clear[shape]


def grid_for(stock: Stock, cell: float, fine: int, gap: float) -> Grid:
    """Return the grid of a sheet; its rows leave head room for half gaps."""
    return Grid(cell, floor(stock.usable[1] / cell) + ceil(gap / cell) + 4, fine)
