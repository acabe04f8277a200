"""Plates laid out on sheets: gap and margin kept on exact outlines, the leftover one rectangle."""

from partgen.layout.errors import LayoutError
from partgen.layout.laying import STEPS, lay_out
from partgen.layout.offcut import offcut
from partgen.layout.piece import Piece, turns_every
from partgen.layout.placement import Layout, Placement, Used
from partgen.layout.sheet import Sheet
from partgen.layout.tipping import Tip, tip_ups
from partgen.layout.verify import verify

__all__ = [
    "STEPS",
    "Layout",
    "LayoutError",
    "Piece",
    "Placement",
    "Sheet",
    "Tip",
    "Used",
    "lay_out",
    "offcut",
    "tip_ups",
    "turns_every",
    "verify",
]
