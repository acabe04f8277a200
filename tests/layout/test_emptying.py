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


def on_sheets(shop, found):
    """On which sheet each copy lies, from 0."""
    return {
        (shop.items[s.item][0].name, shop.items[s.item][1]): n
        for n, (_, _, filling) in enumerate(found.fillings)
        for s in filling.spots
    }


def split(shop, found):
    """Words whose plates lie on more than one sheet."""
    rows = {}
    for (name, _), n in on_sheets(shop, found).items():
        word = next(p.together for p, _ in shop.items if p.name == name)
        rows.setdefault(word, set()).add(n)
    return [word for word, sheets in rows.items() if word and len(sheets) > 1]


def some(name, count, **kw):
    return Piece(name, triangles().outlines, count, turns=(0, 180), **kw)


@pytest.mark.parametrize(
    "pieces",
    [
        [some("a", 6), some("b", 2, together="pair")],
        [some("a", 3), some("b", 2, together="pair"), some("c", 3, together="set")],
        [some("a", 5, priority=2), some("b", 3)],
        [some("a", 2), some("b", 3, priority=1), some("c", 3, priority=-4, together="set")],
    ],
)
def test_a_sheet_is_saved_whatever_is_together_or_first(pieces, plain_sheet, independent_faults):
    """Eight triangles as above, some kept together, some first."""
    sheets = [plain_sheet(16 + 325, 16 + 4 * 131, 3)]
    shop, first = a_trial(pieces, sheets)
    assert len(first.fillings) == 2
    found = emptied(shop, first)
    assert len(found.fillings) == 1
    wrong, layout = faults(shop, found, pieces, sheets)
    assert wrong == []
    assert independent_faults(layout, pieces, sheets, GAP, MARGIN) == []


def bars(name, count, length, **kw):
    return Piece(name, (rectangle(length, 110),), count, turns=(0,), **kw)


@pytest.mark.parametrize("seed", [0, 2, 3, 4, 5])
def test_no_bond_is_broken(seed, some_pieces, plain_sheet):
    """Plates of all kinds, priorities and words: none goes back for a lower one, none is parted."""
    chance = random.Random(seed)
    words, heights = ["", "", "left", "right"], [0, 0, 1, 3]
    pieces = [
        Piece(p.name, p.outlines, p.count, p.turns, chance.choice(heights), chance.choice(words))
        for p in some_pieces(9, seed, 2)
    ]
    sheets = [plain_sheet(760, 520, 9)]
    shop, first = a_trial(pieces, sheets)
    assert len(first.fillings) > 1
    seen = []
    for part in (300, 900, 2500):
        empty_last(shop, first, GAP, Budget(part), random.Random(seed), seen.append)
    before = on_sheets(shop, first)
    rank = {p.name: p.priority for p in pieces}
    moved = False
    for found in seen:
        assert split(shop, found) == []
        assert faults(shop, found, pieces, sheets)[0] == []
        after = on_sheets(shop, found)
        back = [rank[key[0]] for key in before if after[key] > before[key]]
        assert max(back, default=-9) <= min(rank.values())
        moved |= after != before
    assert moved or first.ends[-1] == seen[-1].ends[-1]


def test_those_together_go_together_or_not_at_all(plain_sheet):
    """Room on the first sheet for one bar of the pair: it stays with the other."""
    pieces = [bars("long", 4, 500), bars("pair", 2, 140, together="pair")]
    sheets = [plain_sheet(16 + 650, 16 + 4 * 115, 3)]  # beside each long bar room for one of 140
    shop, first = a_trial(pieces, sheets)
    assert len(first.fillings) == 1
    crowded = [bars("long", 4, 500), bars("mid", 3, 140), bars("pair", 2, 140, together="pair")]
    shop, first = a_trial(crowded, sheets)
    assert len(first.fillings) == 2
    found = emptied(shop, first, Budget(4000))
    assert split(shop, found) == []
    assert len(found.fillings) == 2


def test_a_plate_that_goes_first_stays_on_the_first_sheet(plain_sheet):
    """To shorten the last sheet a long one would change places with two short ones."""
    pieces = [bars("first", 4, 400, priority=5), bars("later", 4, 630)]
    sheets = [plain_sheet(16 + 650, 16 + 4 * 115, 3)]
    shop, first = a_trial(pieces, sheets)
    assert len(first.fillings) == 2
    found = emptied(shop, first, Budget(3000))
    after = on_sheets(shop, found)
    assert {n for (name, _), n in after.items() if name == "first"} == {0}


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
