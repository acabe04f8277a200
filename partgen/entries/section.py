"""Tube sections: rectangular tube for rails, round tube for links, axles and cross tubes."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from partgen.fields import Entry, Margin, Size, Text


class Section(Entry):
    """``[section.NAME]`` of a library: a tube, rectangular or round.

    Attributes:
        width: outside width of a rectangular tube, across the vehicle [mm].
        depth: outside height of a rectangular tube [mm].
        corner_radius: outside corner radius of a rectangular tube [mm].
        diameter: outside diameter of a round tube [mm].
        wall: thickness of the wall [mm].
        note: anything to remember of it.
    """

    width: Size | None = None
    depth: Size | None = None
    corner_radius: Margin | None = None
    diameter: Size | None = None
    wall: Size
    note: Text | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        flat = (self.width, self.depth)
        if self.diameter is None and None in flat:
            raise ValueError("give width and depth, or the diameter of a round tube")
        if self.diameter is not None and flat != (None, None):
            raise ValueError("give width and depth, or a diameter, not both")
        least = min(size for size in (*flat, self.diameter) if size is not None)
        if self.wall > least / 2:
            raise ValueError(f"wall = {self.wall:g} mm is more than half of {least:g} mm")
        return self

    @property
    def is_round(self) -> bool:
        """Tell whether it is a round tube."""
        return self.diameter is not None
