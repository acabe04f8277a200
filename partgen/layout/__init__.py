"""Plates laid out on sheets: gap and margin kept on exact outlines, the leftover one rectangle."""

from partgen.layout.errors import LayoutError
from partgen.layout.laying import lay_out
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement, Used
from partgen.layout.sheet import Sheet
from partgen.layout.verify import verify

__all__ = ["Layout", "LayoutError", "Piece", "Placement", "Sheet", "Used", "lay_out", "verify"]
