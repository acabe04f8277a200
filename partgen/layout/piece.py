"""What is laid out: a plate's outlines, how often it is wanted and how it may be turned."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil, fsum, isfinite

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from partgen.geometry.outline import Outline, Side, cos_sin
from partgen.layout.errors import LayoutError
from partgen.layout.steady import steady, steady_points

QUARTERS = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True)
class Piece:
    """A plate as the layout sees it.

    Attributes:
        name: unique in a layout.
        outlines: openings first, the outside edge last; anywhere in the plane [mm].
        count: how many to place.
        turns: allowed rotations, anticlockwise; one for a fixed direction [degrees].
        priority: those with a higher one are placed first, on the first sheets [-].
        together: pieces that share this word go on one sheet; "" is alone.
    """

    name: str
    outlines: tuple[Outline, ...]
    count: int = 1
    turns: tuple[float, ...] = QUARTERS
    priority: int = 0
    together: str = ""

    def __post_init__(self) -> None:
        """Refuse a piece that is nothing.

        Raises:
            LayoutError: no outline, a count below zero, no turn, or a number that is not finite.
        """
        if not self.outlines:
            raise LayoutError(f"plate '{self.name}' has no outline; give it an outside edge")
        if self.count < 0:
            raise LayoutError(f"plate '{self.name}': count {self.count}; it cannot be below 0")
        if not self.turns or not all(isfinite(t) for t in self.turns):
            raise LayoutError(f"plate '{self.name}' has no allowed turn; give at least one, as 0")
        if not all(isfinite(v) for v in self.edge.box):
            raise LayoutError(f"plate '{self.name}' has a size that is no finite number")

    @property
    def edge(self) -> Outline:
        """The outside edge [mm]."""
        return self.outlines[-1]

    @property
    def openings(self) -> tuple[Outline, ...]:
        """The holes, slots and windows [mm]."""
        return self.outlines[:-1]

    @property
    def size(self) -> tuple[float, float]:
        """Length and width of the box, unturned [mm]."""
        x0, y0, x1, y1 = self.edge.box
        return steady(x1 - x0), steady(y1 - y0)

    def placed(self, x: float, y: float, turn: float) -> tuple[Outline, ...]:
        """Return the outlines turned by ``turn`` [degrees], then moved by (x, y) [mm]."""
        return tuple(o.turned(turn).moved(x, y) for o in self.outlines)

    @cached_property
    def area(self) -> float:
        """Exact area of metal [mm2]."""
        return self.edge.area - fsum(o.area for o in self.openings)

    def metal(self, side: Side, chord_error: float) -> shapely.Polygon:
        """Return the metal as a polygon that lies inside, or outside, the exact one."""
        other: Side = "inside" if side == "outside" else "outside"
        shell = self.edge.polygon(side, chord_error).exterior
        return shapely.Polygon(
            shell, [o.polygon(other, chord_error).exterior for o in self.openings]
        )


def turns_every(step: float) -> tuple[float, ...]:
    """Return all turns of a full circle by ``step`` [degrees], for a piece that may lie anyhow.

    Raises:
        LayoutError: the step is not between 1 and 360 degrees.

    Examples:
        >>> turns_every(120)
        (0.0, 120.0, 240.0)
    """
    if not 1 <= step <= 360:
        raise LayoutError(f"turn step {step:g} degrees: it must be from 1 to 360; try 15")
    return tuple(k * float(step) for k in range(ceil(360 / step - 1e-9)))


def turned_rings(
    rings: list[np.ndarray], turn: float, x: float = 0.0, y: float = 0.0
) -> list[np.ndarray]:
    """Return point rings turned by ``turn`` [degrees], then moved by (x, y) [mm], rounded."""
    c, s = cos_sin(turn)
    xy = [(ring[:, 0], ring[:, 1]) for ring in rings]
    return [steady_points(np.column_stack((p * c - q * s + x, p * s + q * c + y))) for p, q in xy]


def rings_of(shape: shapely.Geometry) -> list[np.ndarray]:
    """Return every ring of one or more polygons, metal on the left, first point not repeated."""
    parts = [orient(part) for part in shapely.get_parts(shape) if not part.is_empty]
    return [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_rings(parts)]
