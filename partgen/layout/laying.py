"""Lay out pieces on sheets: the one way in."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from math import isfinite

from partgen.layout.errors import LayoutError
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement, Used
from partgen.layout.placing import Filling
from partgen.layout.sheet import Sheet
from partgen.layout.shop import Shop, Trial, prepare, trial

STEPS = 20
ROWS = (250, 500, 1000)  # positions across the widest sheet; the finer ones if pieces are left


def lay_out(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    *,
    gap: float,
    margin: float,
    steps: int = STEPS,
) -> Layout:
    """Place every piece on the fewest sheets, as near their x = 0 end as can be.

    Of a sheet taller than long the y = 0 end: plates are placed along the longer side, from its
    lower end, so that what is left is one rectangle at the far end. Same input, same layout.

    Args:
        pieces: what to place.
        sheets: the stock; of the sheets that will do the largest are used first, the last one is
            the smallest that holds what is left.
        gap: clear distance between the cuts of two plates [mm].
        margin: clear distance to the sheet's edge and its openings [mm].
        steps: orders tried after the first.

    Raises:
        LayoutError: a distance or name is wrong, a piece fits no sheet, or the sheets are full.
    """
    _check_input(pieces, sheets, gap, margin)
    width = max((s.width for s in sheets if s.count), default=1.0)
    for rows in ROWS:
        shop = prepare(pieces, sheets, gap, margin, width / rows)
        if too_large := _too_large(shop):
            raise LayoutError(too_large)
        best = _search(shop, steps)
        if not best.left:
            return _layout(shop, best)
        if not _worth_refining(shop, best):
            break
    raise LayoutError(_no_room(shop, best))


def _worth_refining(shop: Shop, best: Trial) -> bool:
    """Tell whether a finer grid may place what is left: unless the sheets are simply full."""
    if any(not shop.fits(k) for k in best.left):
        return True
    have = sum(b.stock.sheet.outline.area * b.stock.sheet.count for b in shop.boards)
    return len(shop.items) <= 100 and sum(p.area for p, _ in shop.items) < have


def _search(shop: Shop, steps: int) -> Trial:
    """Return the best trial of ``steps`` small changes of the order."""
    order = shop.rough_order
    best = trial(shop, order)
    chance = random.Random(len(order))
    for _ in range(steps if len(order) > 1 else 0):
        changed = order.copy()
        a, b = chance.sample(range(len(order)), 2)
        changed[a], changed[b] = changed[b], changed[a]
        found = trial(shop, changed)
        if found.cost <= best.cost:
            order, best = changed, found
    return best


def _check_input(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], gap: float, margin: float
) -> None:
    problems = []
    if not (isfinite(gap) and gap > 0):
        problems.append(f"gap {gap:g} mm between plates: it must be more than 0; try 5")
    if not (isfinite(margin) and margin >= 0):
        problems.append(f"margin {margin:g} mm at the sheet's edge: it cannot be below 0")
    for word, names in (("plate", [p.name for p in pieces]), ("sheet", [s.name for s in sheets])):
        problems += [
            f"{word} '{name}' is given {n} times; raise its count or rename one"
            for name, n in Counter(names).items()
            if n > 1
        ]
    if any(p.count for p in pieces) and not any(s.count for s in sheets):
        problems.append("no sheet to lay the plates on; add one")
    if problems:
        raise LayoutError(problems)


def _too_large(shop: Shop) -> list[str]:
    """Return a line for each piece whose box is larger than every sheet."""
    return [
        _no_fit_line(shop, k)
        for k, (_, copy) in enumerate(shop.items)
        if copy == 1 and not any(shop.box_fits(k))
    ]


def _no_fit_line(shop: Shop, item: int) -> str:
    piece, _ = shop.items[item]
    stock = max((b.stock for b in shop.boards), key=lambda s: s.usable[0] * s.usable[1])
    length, width = (max(0.0, side) for side in stock.usable)
    x0, y0, x1, y1 = piece.edge.box
    return (
        f"plate '{piece.name}' is {x1 - x0:.6g} x {y1 - y0:.6g} mm and fits no sheet: the largest, "
        f"'{stock.sheet.name}', has {length:.6g} x {width:.6g} mm inside its margin of "
        f"{stock.margin:g} mm; add a larger sheet, allow more turns or split the plate"
    )


def _no_room(shop: Shop, best: Trial) -> list[str]:
    """Return a line for each piece that fits no sheet, and one that counts the others left."""
    counts = Counter(shop.items[k][0].name for k in best.left if shop.fits(k))
    misfits = {shop.items[k][0].name: k for k in best.left if not shop.fits(k)}
    lines = [_no_fit_line(shop, k) for k in misfits.values()]
    if counts:
        names = ", ".join(f"{n} x '{name}'" for name, n in sorted(counts.items()))
        left = counts.total()
        have = ", ".join(f"{b.stock.sheet.count} x '{b.stock.sheet.name}'" for b in shop.boards)
        lines.append(
            f"the sheets are full ({have}) and {left} plates are left: {names}; add sheets"
        )
    return lines


def _layout(shop: Shop, best: Trial) -> Layout:
    placements: list[Placement] = []
    used: list[Used] = []
    for k, number, filling in best.fillings:
        placements += _placements(shop, number, filling)
        used.append(_used(shop, k, number, filling))
    return Layout(tuple(placements), tuple(used))


def _placements(shop: Shop, number: int, filling: Filling) -> list[Placement]:
    stock, cell = filling.board.stock, filling.board.grid.cell
    found = []
    for spot in filling.spots:
        piece, copy = shop.items[spot.item]
        x, y, turn = stock.on_sheet(spot.shape, spot.column * cell, spot.row * cell)
        found.append(Placement(piece.name, copy, stock.sheet.name, number, x, y, turn))
    return found


def _used(shop: Shop, k: int, number: int, filling: Filling) -> Used:
    stock = shop.boards[k].stock
    sheet = stock.sheet
    length = stock.margin + max(s.end for s in filling.spots)
    metal = sum(shop.items[s.item][0].area for s in filling.spots)
    along = "y" if sheet.upright else "x"
    return Used(
        sheet.name,
        number,
        along,
        length,
        sheet.length - length,
        sheet.width,
        metal / (length * sheet.width),
    )
