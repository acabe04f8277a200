"""A layout made earlier taken up again: back onto the grid, so that a search can go on from it.

Plates that came off the grid by compaction or from the library go to the nearest grid positions,
where they overlap a little, and are moved apart again.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

from partgen.layout.budget import Budget
from partgen.layout.placement import Layout, Placement, Used
from partgen.layout.placing import Filling, Spot
from partgen.layout.separation import MOST, Separation
from partgen.layout.shape import Shape, are_same
from partgen.layout.shop import Shop, Trial
from partgen.layout.stock import Board

ROOM = (1, 2, 4, 8, 16)  # cells the last sheet may be longer than it was


def resumed(shop: Shop, layout: Layout, budget: Budget) -> Trial | None:
    """Return a layout of the shop's items as a trial; None if it does not go onto the grid.

    Args:
        shop: the pieces and sheets.
        layout: where each of them lies.
        budget: of time for it.
    """
    items = {(piece.name, copy): k for k, (piece, copy) in enumerate(shop.items)}
    rows: list[tuple[int, int, Filling]] = []
    for used in layout.used:
        here = [p for p in layout.placements if (p.sheet, p.number) == (used.sheet, used.number)]
        k = _board(shop, used)
        last = used is layout.used[-1]
        found = None if k is None else _filling(shop, k, here, items, budget, is_last=last)
        if k is None or found is None:
            return None
        rows.append((k, used.number, found))
    placed = sum(len(filling.spots) for _, _, filling in rows)
    return Trial(tuple(rows), (), 0.0) if placed == len(shop.items) else None


def _board(shop: Shop, used: Used) -> int | None:
    for k, board in enumerate(shop.boards):
        if board.stock.sheet.name == used.sheet and used.number in board.stock.numbers:
            return k
    return None


def _filling(
    shop: Shop,
    k: int,
    placements: list[Placement],
    items: Mapping[tuple[str, int], int],
    budget: Budget,
    *,
    is_last: bool,
) -> Filling | None:
    board, spots = shop.boards[k], list[Spot]()
    for p in placements:
        item = items.get((p.piece, p.copy))
        if item is None:
            continue  # fixed
        spot = _spot(shop, k, item, p)
        if spot is None:
            return None
        spots.append(spot)
    if not spots or len(spots) > MOST:
        return Filling(board) if not spots else None
    spots.sort(key=lambda s: (s.column, s.row, s.item))
    separation = Separation(board, shop.options[k], spots, random.Random(1))
    long = board.stock.usable[0]
    end = max(max(s.end for s in spots), board.stock.fixed_end)
    for limit in [end + n * board.grid.cell for n in ROOM] if is_last else [long]:
        if separation.part(min(limit, long), budget):
            return Filling(board, separation.best)
    return None


def _spot(shop: Shop, k: int, item: int, placement: Placement) -> Spot | None:
    """Return where a plate lies, on the nearest grid position; None if it may not lie so."""
    board, piece = shop.boards[k], shop.items[item][0]
    outlines = piece.placed(placement.x, placement.y, placement.turn)
    x, y, _, _ = board.stock.laid(*outlines[-1].box)
    for shape in shop.options[k][item]:
        place = board.stock.on_sheet(shape, x, y)
        if are_same(piece.placed(*place), outlines):
            return _on_grid(board, item, shape, x, y)
    return None


def _on_grid(board: Board, item: int, shape: Shape, x: float, y: float) -> Spot:
    cell, (columns, rows) = board.grid.cell, board.last(shape)
    column, row = (min(max(0, round(v / cell)), n) for v, n in ((x, columns), (y, rows)))
    return Spot(item, shape, column, row, column * cell + shape.length)
