"""Where a part's pieces lie in an assembly that is put together by numbers: a box, a truss."""

from __future__ import annotations

from typing import Literal

from partgen.fields import Angle, Entry, Length, Name
from partgen.geometry.outline import cos_sin
from partgen.plates.solid import LYING, Frame, Solid, Vector


class Spot(Entry):
    """One piece in an assembly; for its picture only.

    Attributes:
        assembly: its name; parts that give the same one are shown together.
        at: of the drawing's (0, 0): x forward, y left, z up [mm].
        lies: "flat-across" (seen from above, x to the right), "flat-along" (seen from above, x
            forward), "face" (seen from behind) or "side" (seen from the right); default as its
            family is drawn.
        turn: in the plane it lies in, anticlockwise as seen [degrees].
    """

    assembly: Name
    at: tuple[Length, Length, Length]
    lies: Literal["flat-across", "flat-along", "face", "side"] | None = None
    turn: Angle = 0.0

    def placed(self, solids: list[Solid], drawn: str) -> list[Solid]:
        """Return solids of a part, drawn as ``drawn`` says, where they lie in the assembly."""
        u, v = LYING[self.lies or drawn]
        turning, (c, s) = Frame((0.0, 0.0, 0.0), u, v), cos_sin(self.turn)
        there = Frame(self.at, turning.direction((c, s, 0.0)), turning.direction((-s, c, 0.0)))
        back = _from_drawing(drawn)
        return [solid.within(back).within(there) for solid in solids]


def _from_drawing(drawn: str) -> Frame:
    """Return space in the axes of a drawing: x, y, and out of it towards its reader."""
    u, v = LYING[drawn]
    n = Frame((0.0, 0.0, 0.0), u, v).normal
    x: Vector = (u[0], v[0], n[0])
    y: Vector = (u[1], v[1], n[1])
    return Frame((0.0, 0.0, 0.0), x, y)
