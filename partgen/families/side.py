"""What one of a mount's two plates has that the other lacks."""

from __future__ import annotations

from pydantic import Field

from partgen.entries.stock import PlateStock
from partgen.families.openings import HoleEntry, WindowEntry
from partgen.fields import Entry


class Side(Entry):
    """What one of the two plates has that the other lacks.

    Attributes:
        plate: its own thickness and material.
        windows: openings in this plate only, in the rail's side view.
        holes: bolt holes in this plate only, in the rail's side view.
    """

    plate: PlateStock | None = None
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)
