"""Lay out pieces on sheets: the one way in."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from partgen.layout.budget import Budget, Progress
from partgen.layout.checks import check_fixed, check_input, check_search, no_room, too_large
from partgen.layout.errors import LayoutError
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement
from partgen.layout.report import layout_of
from partgen.layout.resuming import resumed
from partgen.layout.search import Search
from partgen.layout.sheet import Sheet
from partgen.layout.shop import Placing, Shop, Trial, prepare, trial
from partgen.layout.steady import steady
from partgen.layout.stock import Fixed

STEPS = 60
ROWS = 250  # positions across the widest sheet
MOST_ROWS = 800  # the same where pieces are small
ACROSS = 12  # positions across the shorter side of an average piece
RESUMING = 0.2  # of the time may go into taking up an earlier layout again
FINER = (1, 2, 4)  # times finer grids if pieces are left


def lay_out(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    *,
    gap: float,
    margin: float,
    steps: int = STEPS,
    seconds: float | None = None,
    progress: Progress | None = None,
    fixed: Sequence[Placement] = (),
    placing: Placing | None = None,
    start: Layout | None = None,
    seed: int = 0,
) -> Layout:
    """Place every piece on the fewest sheets, as near their x = 0 end as can be.

    Of a sheet taller than long the y = 0 end: plates are placed along the longer side, from its
    lower end, so that what is left is one rectangle at the far end. Same input, same layout, unless
    ``seconds`` is given. An interrupt (Ctrl-C) ends the search and keeps the best layout so far.

    Args:
        pieces: what to place.
        sheets: the stock; of the sheets that will do the largest are used first, the last one is
            the smallest that holds what is left.
        gap: clear distance between the cuts of two plates [mm].
        margin: clear distance to the sheet's edge and its openings [mm].
        steps: how many changes are tried after the first layout.
        seconds: search this long instead of so many steps [s].
        progress: called with the used length of all sheets whenever it changes [mm].
        fixed: what lies somewhere already; these copies are not placed.
        placing: called while the first layout is made, with how many of how many pieces lie.
        start: a layout of the same to go on from, where that can be.
        seed: searches with another one go other ways.

    Raises:
        LayoutError: a distance or name is wrong, a piece fits no sheet, the sheets are full, or
            what is fixed cannot lie there.
    """
    check_input(pieces, sheets, gap, margin)
    check_fixed(fixed, pieces, sheets, gap, margin)
    check_search(steps, seconds)
    budget = Budget(steps, seconds, progress)
    cell = _cell(pieces, sheets)
    kinds = {p.name: p for p in pieces}
    lying = [Fixed(kinds[p.piece], p) for p in fixed]
    for finer in FINER:
        shop = prepare(pieces, sheets, steady(gap), steady(margin), cell / finer, lying)
        if lines := too_large(shop):
            raise LayoutError(lines)
        first = None if start is None else resumed(shop, start, budget.part(RESUMING).quiet())
        first, start = first or trial(shop, shop.rough_order, placing), None
        search = Search(shop, first, gap, seed)
        search.run(budget)
        if not search.best.left:
            return layout_of(shop, search, pieces, sheets, gap, margin, fixed)
        if not _worth_refining(shop, search.best):
            break
    raise LayoutError(no_room(shop, search.best))


def _cell(pieces: Sequence[Piece], sheets: Sequence[Sheet]) -> float:
    """Return the cell of the first grid [mm]."""
    width = max((s.width for s in sheets if s.count), default=1.0)
    sides = sorted(min(p.size) for p in pieces for _ in range(p.count))
    small = sides[len(sides) // 2] / ACROSS if sides else width
    return min(width / ROWS, max(small, width / MOST_ROWS))


def _worth_refining(shop: Shop, best: Trial) -> bool:
    """Tell whether a finer grid may place what is left: unless the sheets are simply full."""
    if any(not shop.fits(k) for k in best.left):
        return True
    have = fsum(b.stock.sheet.outline.area * len(b.stock.numbers) for b in shop.boards)
    return len(shop.items) <= 100 and fsum(p.area for p, _ in shop.items) < have
