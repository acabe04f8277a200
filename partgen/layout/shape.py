"""A piece turned one way, ready to be placed: its size and its masks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from partgen.geometry.outline import Outline
from partgen.layout.columns import Columns, columns
from partgen.layout.mask import Grid
from partgen.layout.piece import Piece, rings_of, turned_rings
from partgen.layout.steady import steady, steady_points

MASK_ERROR = 0.02  # mm; chord error of masks, always outward
SAME = 1e-6  # mm
Box = tuple[float, float, float, float]


@dataclass(frozen=True, eq=False)
class Body:
    """The metal of one kind of piece, as points, untouched and with half the gap round it.

    Attributes:
        bare: rings of the metal [mm].
        clear: rings of the metal and half the gap round it [mm].
        windows: boxes of the openings [mm].
    """

    bare: list[np.ndarray]
    clear: list[np.ndarray]
    windows: list[np.ndarray]


@dataclass(frozen=True, eq=False)
class Shape:
    """A body turned one way, its box's lower left corner at (0, 0).

    Attributes:
        body: what is turned.
        turn: anticlockwise, on the grid [degrees].
        x: what to add after turning so that the box begins at 0 [mm].
        y: the same, across [mm].
        length: of the box along x [mm].
        width: of the box along y [mm].
        half_gap: kept clear round the metal [mm].
    """

    body: Body
    turn: float
    x: float
    y: float
    length: float
    width: float
    half_gap: float

    def clear(self, grid: Grid) -> Columns:
        """Return the mask of the metal and half the gap round it."""
        rings = turned_rings(self.body.clear, self.turn, self.x, self.y)
        return columns(rings, -self.half_gap, grid.column_width)

    def bare(self, grid: Grid) -> Columns:
        """Return the mask of the metal alone."""
        rings = turned_rings(self.body.bare, self.turn, self.x, self.y)
        return columns(rings, 0.0, grid.column_width)

    @cached_property
    def windows(self) -> list[Box]:
        """Boxes of the openings: least x, least y, greatest x, greatest y [mm]."""
        rings = turned_rings(self.body.windows, self.turn, self.x, self.y)
        return [(*ring.min(axis=0), *ring.max(axis=0)) for ring in rings]


def grown(shape: shapely.Geometry, by: float) -> shapely.Geometry:
    """Return ``shape`` with ``by`` [mm] more all round, corners bevelled just outside the round."""
    return shape.buffer(by, join_style="mitre", mitre_limit=1.0) if by > 0 else shape


def shapes(piece: Piece, turns: Sequence[float], gap: float) -> list[Shape]:
    """Return ``piece`` in each of ``turns`` [degrees] that looks different from those before."""
    metal = shapely.transform(piece.metal("outside", MASK_ERROR), steady_points)
    windows = [rings_of(o.polygon("inside", 1.0))[0] for o in piece.openings]
    body = Body(rings_of(metal), rings_of(grown(metal, gap / 2)), windows)
    found: list[Shape] = []
    seen: list[tuple[Outline, ...]] = []
    for turn in turns:
        shape = turned_shape(piece, body, turn, gap / 2)
        outlines = piece.placed(shape.x, shape.y, turn)
        if not any(are_same(outlines, other) for other in seen):
            seen.append(outlines)
            found.append(shape)
    return found


def turned_shape(piece: Piece, body: Body, turn: float, half_gap: float) -> Shape:
    """Return ``body``, made from ``piece``, turned by ``turn`` [degrees]."""
    x0, y0, x1, y1 = (steady(v) for v in piece.edge.turned(turn).box)
    return Shape(body, turn, -x0, -y0, steady(x1 - x0), steady(y1 - y0), half_gap)


def are_same(a: tuple[Outline, ...], b: tuple[Outline, ...]) -> bool:
    """Tell whether two pieces are the same metal, openings in any order."""
    if not a[-1].is_same(b[-1], SAME):
        return False
    return all(any(o.is_same(p, SAME) for p in b[:-1]) for o in a[:-1])
