"""What a layout says: where every plate goes, and what is left of each sheet."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import fsum


@dataclass(frozen=True)
class Placement:
    """One plate on one sheet: its outlines turned about (0, 0), then moved.

    Attributes:
        piece: name of the piece.
        copy: which of its copies, from 1.
        sheet: name of the stock.
        number: which of the stock's copies, from 1.
        x: shift after turning [mm].
        y: shift after turning [mm].
        turn: anticlockwise [degrees].
    """

    piece: str
    copy: int
    sheet: str
    number: int
    x: float
    y: float
    turn: float


@dataclass(frozen=True)
class Used:
    """What a layout takes of one sheet, measured along the sheet's longer side.

    Attributes:
        sheet: name of the stock.
        number: which of the stock's copies, from 1.
        along: the axis of the longer side, "x" or "y".
        length: from the sheet's end to the far side of the last plate [mm].
        leftover: from there to the far end, gap and margin still to come off [mm].
        width: of the sheet, across [mm].
        filled: metal placed, of length times width, 0 to 1 [-].
    """

    sheet: str
    number: int
    along: str
    length: float
    leftover: float
    width: float
    filled: float


@dataclass(frozen=True)
class Layout:
    """Every plate placed.

    Attributes:
        placements: by sheet, then as placed.
        used: one entry a sheet that carries plates, in the order of ``placements``.
        interrupted: whether somebody ended the search for it.
    """

    placements: tuple[Placement, ...]
    used: tuple[Used, ...]
    interrupted: bool = field(default=False, compare=False)

    @property
    def used_length(self) -> float:
        """Used length of all sheets together [mm]."""
        return fsum(u.length for u in self.used)
