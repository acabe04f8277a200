"""Seam: an edge of a plate that is welded to something, as the plate's family knows it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot
from typing import Literal

from partgen.geometry.chain import Chain
from partgen.geometry.segment import Point, Segment
from partgen.plates.feature import Slot
from partgen.plates.plate import Plate

STOP = 6.0  # mm a weld stops short of an edge's end; common practice, no source
KEEP_OUT = 19.0  # mm from a rail's upper and lower edge (flange); common practice, no source
ON = 0.01  # mm
Kind = Literal["fillet", "flush", "slot"]


@dataclass(frozen=True, kw_only=True)
class Seam:
    """One mating edge of a plate, drawn for the left.

    Attributes:
        edge: which edge, in words.
        mate: what it is welded to.
        path: the edge in the plate's drawing; of a slot its middle line [mm].
        kind: "fillet"; "flush", where there is no corner for a fillet; "slot", filled.
        sides: fillets along the edge, 1 or 2.
        lap: the fillet lies along the plate's own edge, whose thickness limits its leg.
        leg: asked; None for the usual one [mm].
        beside: thickness of what it is welded to; None where it is not known [mm].
        count: pieces of one side that have this seam; None for every one.
        stops: by which the weld stops short at the edge's beginning and end [mm].
        share: length on the mate over length of the edge as drawn.
        gap: by which the edge stands off its mate [mm].
        rail: name of the rail it is on.
        depth: how far a point of the edge lies inside a rail's flange edges [mm].
        piece: what has the edge, where it is not the plate itself, such as a sleeve.
        first: welded before all others, because what comes later covers it.
        note: what else to heed.
        hollow: the rail or tube it is on, whose wall is ``beside``, in words.
        guessed: whether the family only guesses what the mate is, so that a job may name it.
    """

    edge: str
    mate: str
    path: Chain
    kind: Kind = "fillet"
    sides: int = 2
    lap: bool = False
    leg: float | None = None
    beside: float | None = None
    count: int | None = None
    stops: tuple[float, float] = (STOP, STOP)
    share: float = 1.0
    gap: float = 0.0
    rail: str = ""
    depth: Callable[[Point], float] | None = None
    piece: str = ""
    first: bool = False
    note: str = ""
    hollow: str = ""
    guessed: bool = False

    def shares(self, path: Chain) -> bool:
        """Tell whether a chain runs along the same edge, or along a piece of it."""
        return _lies_on(path, self.path) or _lies_on(self.path, path)


def _lies_on(chain: Chain, other: Chain) -> bool:
    """Tell whether any of a chain's lines and arcs lies on another chain."""
    return any(min(t.distance(s.at(0.5)) for t in other) <= ON for s in chain)


def slot_seam(name: str, slot: Slot, plate: Plate) -> Seam:
    """Return the weld that fills a plug-weld slot: along its middle line, over its whole length.

    Widths and lengths by AISC 360-16 J2.3b, from memory: at least thickness + 8 mm wide, at most
    10 times as long as the weld is thick; plate to 16 mm is filled to the top.
    """
    (x0, y0), (x1, y1) = slot.ends
    long, wide = max(slot.size), min(slot.size)
    least, most = plate.thickness + 8.0, 10 * plate.thickness
    notes = ["fill to the top" if plate.thickness <= 16 else "fill at least 16 mm and half deep"]
    if wide < least - 1e-6:
        notes.append(f"{wide:g} mm wide, should be at least {least:g} mm (AISC J2.3b, from memory)")
    if long > most + 1e-6:
        notes.append(f"{long:g} mm long, should be at most {most:g} mm (AISC J2.3b, from memory)")
    return Seam(
        edge=f"{name}, plug weld",
        mate="what lies behind it",
        path=(Segment(x0, y0, x1, y1),),
        kind="slot",
        sides=1,
        stops=(0.0, 0.0),
        note="; ".join(notes),
    )


def which_side(path: Chain) -> str:
    """Return which way an edge faces, in words; the metal is on its left."""
    (x0, y0), (x1, y1) = path[0].start, path[-1].end
    dx, dy = x1 - x0, y1 - y0
    if hypot(dx, dy) < 1e-6:
        return "all round"
    flat, upright = "lower" if dx > 0 else "upper", "front" if dy > 0 else "rear"
    side = flat if abs(dx) > abs(dy) else upright
    return f"{side} at x = {(x0 + x1) / 2:.1f} mm"
