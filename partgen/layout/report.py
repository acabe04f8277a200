"""From a trial on the grid to a layout on the sheets."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
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
    fixed: Sequence[Placement] = (),
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
    for way in sorted(ways, key=lambda w: ticks(_end(stock, w))):
        found = _layout(shop, [*filled[:-1], (stock, number, way)])
        faults = verify(found, pieces, sheets, gap=gap, margin=margin, fixed=fixed)
        if not faults:
            return replace(found, interrupted=search.interrupted)
    raise LayoutError(f"the layout fails its own check, please report it: {faults[0]}")


def _compacted(pieces: Sequence[Loose], stock: Stock) -> list[Loose]:
    """Return the pieces as far as they have come together, if an interrupt ends that."""
    tight = [replace(p) for p in pieces]
    with suppress(KeyboardInterrupt):
        compact(tight, stock)
    return tight


def _end(stock: Stock, pieces: Sequence[Loose]) -> float:
    return max([p.end for p in pieces] + [stock.fixed_end])


def _layout(shop: Shop, filled: Sequence[Filled]) -> Layout:
    placements: list[Placement] = []
    for stock, number, loose in filled:
        placements += [f.placement for f in stock.fixed]
        for p in loose:
            piece, copy = shop.items[p.item]
            x, y, turn = stock.on_sheet(p.shape, p.x, p.y)
            placements.append(Placement(piece.name, copy, stock.sheet.name, number, x, y, turn))
    return Layout(tuple(placements), tuple(_used(shop, *f) for f in filled))


def _used(shop: Shop, stock: Stock, number: int, loose: Sequence[Loose]) -> Used:
    sheet = stock.sheet
    length = stock.margin + _end(stock, loose)
    areas = [f.piece.area for f in stock.fixed]
    metal = fsum(areas + [shop.items[p.item][0].area for p in loose])
    return Used(
        sheet=sheet.name,
        number=number,
        along="y" if sheet.upright else "x",
        length=length,
        leftover=sheet.length - length,
        width=sheet.width,
        filled=metal / (length * sheet.width),
    )
