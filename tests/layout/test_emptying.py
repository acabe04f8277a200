"""Plates moved from the last sheet to earlier ones, where time is given."""

import random

import pytest

from partgen.geometry.belt import belt, corners, rectangle
from partgen.layout import Piece, Placement, Sheet, lay_out, strip, verify
from partgen.layout.budget import Budget
from partgen.layout.emptying import empty_last
from partgen.layout.joined import Pair
from partgen.layout.shop import prepare, trial
from partgen.layout.stock import Fixed

GAP, MARGIN, CELL = 5.0, 8.0, 4.0


def a_trial(pieces, sheets, fixed=()):
    lying = [Fixed(next(p for p in pieces if p.name == f.piece), f) for f in fixed]
    shop = prepare(pieces, sheets, GAP, MARGIN, CELL, lying)
    return shop, trial(shop, shop.rough_order)


def emptied(shop, first, budget=None):
    found = [first]
    empty_last(shop, first, GAP, budget or Budget(20_000), random.Random(1), found.append)
    return found[-1]


def items(fillings):
    return sorted(s.item for _, _, f in fillings for s in f.spots)


def faults(shop, found, pieces, sheets, fixed=()):
    from partgen.layout.compaction import loosened
    from partgen.layout.report import _layout

    filled = [(f.board.stock, n, loosened(f)) for _, n, f in found.fillings]
    layout = _layout(shop, filled)
    return verify(layout, pieces, sheets, gap=GAP, margin=MARGIN, fixed=fixed), layout


def triangles(count=8, **kw):
    """Two of them and the gap make a rectangle; first fit pairs them late."""
    return Piece("t", (belt(corners([(0, 0), (300, 0), (0, 120)])),), count, turns=(0, 180), **kw)


def test_a_sheet_is_saved(plain_sheet, independent_faults):
    """Eight right triangles in pairs fill one sheet; placed one by one they take two."""
    pieces, sheets = [triangles()], [plain_sheet(16 + 325, 16 + 4 * 131, 3)]
    shop, first = a_trial(pieces, sheets)
    assert len(first.fillings) == 2
    found = emptied(shop, first)
    assert len(found.fillings) == 1
    assert items(found.fillings) == items(first.fillings)
    wrong, layout = faults(shop, found, pieces, sheets)
    assert wrong == []
    assert independent_faults(layout, pieces, sheets, GAP, MARGIN) == []


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ([triangles(14, together="set"), Piece("o", (rectangle(290, 110),), 2)], "together"),
        ([triangles(14, priority=1), Piece("o", (rectangle(290, 110),), 2)], "priority"),
    ],
)
def test_what_is_kept_together_or_goes_first_stays_where_it_is(pieces, words, plain_sheet):
    shop, first = a_trial(pieces, [plain_sheet(16 + 650, 16 + 4 * 131, 3)])
    assert len(first.fillings) > 1
    assert emptied(shop, first) is first


def test_an_interrupt_keeps_what_was_moved(plain_sheet, some_pieces, monkeypatch):
    pieces, sheets = some_pieces(10, 2, 3), [plain_sheet(1000, 600, 9)]
    shop, first = a_trial(pieces, sheets)
    steps = iter(range(2500))
    step = Budget.step

    def counted(self, items=1):
        if next(steps, None) is None:
            raise KeyboardInterrupt
        return step(self, items)

    monkeypatch.setattr(Budget, "step", counted)
    found = [first]
    with pytest.raises(KeyboardInterrupt):
        empty_last(shop, first, GAP, Budget(99_999), random.Random(1), found.append)
    assert len(found) > 1
    assert (len(found[-1].fillings), found[-1].ends[-1]) < (len(first.fillings), first.ends[-1])
    assert faults(shop, found[-1], pieces, sheets)[0] == []


def test_sheets_of_other_shape_and_with_something_on_them(some_pieces, independent_faults):
    """A slope, a narrower sheet with a keep-out, a plate that lies there already."""
    slope = Sheet("slope", belt(corners([(0, 0), (900, 0), (900, 600), (300, 600), (0, 250)])))
    hole = (rectangle(120, 90, 0, (400, 200)),)
    narrow = Sheet("narrow", rectangle(900, 480, 0, (450, 240)), 4, hole)
    pieces, sheets = some_pieces(7, 14, 3), [slope, narrow]
    fixed = [Placement("p3", 1, "slope", 1, 640.0, 300.0, 21.0)]
    shop, first = a_trial(pieces, sheets, fixed)
    assert len(first.fillings) > 1
    assert not first.left
    found = emptied(shop, first, Budget(3000))
    wrong, layout = faults(shop, found, pieces, sheets, fixed)
    assert wrong == []
    assert independent_faults(layout, pieces, sheets, GAP, MARGIN) == []
    assert (len(found.fillings), found.ends[-1]) < (len(first.fillings), first.ends[-1])


def test_a_pair_blocks_what_either_sheet_blocks_and_the_wall(some_pieces):
    """Every position of the joined board against those of its two sheets."""
    slope = Sheet("slope", belt(corners([(0, 0), (700, 0), (700, 500), (300, 500), (0, 250)])))
    hole = (rectangle(120, 90, 0, (400, 200)),)
    narrow = Sheet("narrow", rectangle(600, 400, 0, (300, 200)), 1, hole)
    shop, _ = a_trial(some_pieces(2, 14), [slope, narrow])
    a, b = shop.boards
    pair = Pair(a, b, GAP)
    shape = shop.options[0][1][1]
    table = pair.board.base_table(shape)
    start = round(pair.second / CELL)
    for column in range(1, table.shape[0]):  # at column 0 a mask rounded outward says no too often
        for row in range(0, table.shape[1], 5):
            free = False
            for board, at in ((a, column), (b, column - start)):
                last = board.last(shape)
                if 0 <= at <= last[0] and row <= last[1]:
                    free |= not board.is_off(shape, at, row)
            assert bool(table[column, row]) is not bool(free)


def test_time_is_used_to_save_a_sheet(monkeypatch, plain_sheet, some_pieces):
    """Ended by the first word after the sheet is saved, so that no clock decides."""

    def stop(length):
        raise KeyboardInterrupt

    monkeypatch.setattr(strip, "is_installed", lambda: False)
    monkeypatch.setattr("partgen.layout.search.TRIALS", 0.0)
    pieces, sheets = some_pieces(10, 2, 3), [plain_sheet(1000, 600, 9)]
    asked = {"gap": GAP, "margin": MARGIN}
    assert len(lay_out(pieces, sheets, steps=0, **asked).used) == 2
    layout = lay_out(pieces, sheets, seconds=600, progress=stop, **asked)
    assert len(layout.used) == 1
    assert layout.interrupted
