"""Stock to cut from: a whole sheet or an offcut of any outline, with places to keep out of."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from partgen.geometry.outline import Outline
from partgen.layout.errors import LayoutError
from partgen.layout.steady import steady, ticks

STRAIGHT = 1e-9  # mm; a corner nearer than this to its box's corner is the box's corner


@dataclass(frozen=True)
class Sheet:
    """Stock of one kind.

    Attributes:
        name: unique in a layout.
        outline: its edge, lower left at or near (0, 0) [mm].
        count: how many there are.
        openings: keep-outs: old holes, rust [mm].
    """

    name: str
    outline: Outline
    count: int = 1
    openings: tuple[Outline, ...] = ()

    def __post_init__(self) -> None:
        """Refuse stock that is nothing or whose edge crosses itself.

        Raises:
            LayoutError: a count below zero.
            GeometryError: the outline has no area or crosses itself.
        """
        if self.count < 0:
            raise LayoutError(f"sheet '{self.name}': count {self.count}; it cannot be below 0")
        Outline.of(self.outline.vertices)

    @cached_property
    def length(self) -> float:
        """Longer side of the box: plates are placed along it, from its lower end [mm]."""
        x0, y0, x1, y1 = self.outline.box
        return steady(max(x1 - x0, y1 - y0))

    @cached_property
    def width(self) -> float:
        """Shorter side of the box [mm]."""
        x0, y0, x1, y1 = self.outline.box
        return steady(min(x1 - x0, y1 - y0))

    @cached_property
    def upright(self) -> bool:
        """Whether the longer side runs along y."""
        x0, y0, x1, y1 = self.outline.box
        return ticks(y1 - y0) > ticks(x1 - x0)

    @cached_property
    def is_rectangle(self) -> bool:
        """Whether the outline is its own box and nothing is kept out of."""
        if self.openings or len(self.outline.vertices) != 4:
            return False
        x0, y0, x1, y1 = self.outline.box
        return all(
            v.bulge == 0.0
            and min(abs(v.x - x0), abs(v.x - x1)) <= STRAIGHT
            and min(abs(v.y - y0), abs(v.y - y1)) <= STRAIGHT
            for v in self.outline.vertices
        )
