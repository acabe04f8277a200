"""From a trial on the grid to a layout on the sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import fsum

from partgen.layout.compaction import Loose, compact, loosened
from partgen.layout.errors import LayoutError
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement, Used
from partgen.layout.search import Search
from partgen.layout.sheet import Sheet
from partgen.layout.shop import Shop
from partgen.layout.steady import ticks
from partgen.layout.stock import Stock
from partgen.layout.verify import verify

Filled = tuple[Stock, int, list[Loose]]


def layout_of(
    shop: Shop,
    search: Search,
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    gap: float,
    margin: float,
) -> Layout:
    """Return the layout a search has found, its last sheet compacted.

    Of several ways to lay the last sheet the shortest is taken that passes the check.

    Raises:
        LayoutError: none does, which is a fault of this program.
    """
    filled = [(f.board.stock, number, loosened(f)) for _, number, f in search.best.fillings]
    if not filled:
        return Layout((), ())
    stock, number, last = filled[-1]
    ways = [last, _compacted(last, stock)]
    if search.proposal is not None:
        ways += [search.proposal, _compacted(search.proposal, stock)]
    for way in sorted(ways, key=lambda w: ticks(max(p.end for p in w))):
        found = _layout(shop, [*filled[:-1], (stock, number, way)])
        if not (faults := verify(found, pieces, sheets, gap=gap, margin=margin)):
            return found
    raise LayoutError(f"the layout fails its own check, please report it: {faults[0]}")


def _compacted(pieces: Sequence[Loose], stock: Stock) -> list[Loose]:
    tight = [replace(p) for p in pieces]
    compact(tight, stock)
    return tight


def _layout(shop: Shop, filled: Sequence[Filled]) -> Layout:
    placements: list[Placement] = []
    for stock, number, loose in filled:
        for p in loose:
            piece, copy = shop.items[p.item]
            x, y, turn = stock.on_sheet(p.shape, p.x, p.y)
            placements.append(Placement(piece.name, copy, stock.sheet.name, number, x, y, turn))
    return Layout(tuple(placements), tuple(_used(shop, *f) for f in filled))


def _used(shop: Shop, stock: Stock, number: int, loose: Sequence[Loose]) -> Used:
    sheet = stock.sheet
    length = stock.margin + max(p.end for p in loose)
    metal = fsum(shop.items[p.item][0].area for p in loose)
    return Used(
        sheet=sheet.name,
        number=number,
        along="y" if sheet.upright else "x",
        length=length,
        leftover=sheet.length - length,
        width=sheet.width,
        filled=metal / (length * sheet.width),
    )
