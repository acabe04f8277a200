"""A layout made earlier taken up again: where plates lay, and a search that goes on from there."""

from dataclasses import replace

import pytest

from partgen.geometry.belt import rectangle
from partgen.layout import Layout, Sheet, lay_out, strip, verify
from partgen.layout.budget import Budget
from partgen.layout.compaction import loosened
from partgen.layout.placement import Placement
from partgen.layout.report import _layout
from partgen.layout.resuming import resumed
from partgen.layout.shop import prepare, trial
from partgen.layout.stock import Fixed

GAP, MARGIN, CELL = 5.0, 8.0, 4.0
KEEP = {"gap": GAP, "margin": MARGIN}


@pytest.fixture(autouse=True)
def core_alone(monkeypatch):
    monkeypatch.setattr(strip, "is_installed", lambda: False)


def taken_up(pieces, sheets, layout, fixed=()):
    kinds = {p.name: p for p in pieces}
    shop = prepare(pieces, sheets, GAP, MARGIN, CELL, [Fixed(kinds[f.piece], f) for f in fixed])
    return shop, resumed(shop, layout, Budget(10_000))


def places(shop, found):
    """Where each copy lies, off a trial."""
    rows = {}
    for k, number, filling in found.fillings:
        board = shop.boards[k]
        for s in filling.spots:
            piece, copy = shop.items[s.item]
            at = board.stock.on_sheet(s.shape, s.column * CELL, s.row * CELL)
            rows[piece.name, copy] = (board.stock.sheet.name, number, *at)
    return rows


@pytest.mark.parametrize("upright", [False, True])
def test_plates_on_the_grid_lie_where_they_lay(some_pieces, upright):
    """On two sheets, one plate fixed: read off a trial's layout, the same places again."""
    size = (600, 900) if upright else (900, 600)
    sheet = Sheet("whole", rectangle(*size, 0, (size[0] / 2, size[1] / 2)), 4)
    pieces = some_pieces(7, 14, 3)
    fixed = [Placement("p3", 1, "whole", 1, 340.0, 300.0, 21.0)]
    lying = [Fixed(next(p for p in pieces if p.name == "p3"), fixed[0])]
    shop = prepare(pieces, [sheet], GAP, MARGIN, CELL, lying)
    first = trial(shop, shop.rough_order)
    assert len(first.fillings) == 2
    filled = [(f.board.stock, n, loosened(f)) for _, n, f in first.fillings]
    shop, found = taken_up(pieces, [sheet], _layout(shop, filled), fixed)
    assert places(shop, found) == places(shop, first)


def test_plates_off_the_grid_stay_on_their_sheets(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(7, 14, 3), [plain_sheet(900, 600, 4)]
    layout = lay_out(pieces, sheets, steps=100, **KEEP)
    assert len(layout.used) > 1
    shop, found = taken_up(pieces, sheets, layout)
    rows = places(shop, found)
    assert len(rows) == 21
    assert all(rows[p.piece, p.copy][:2] == (p.sheet, p.number) for p in layout.placements)
    end = layout.used[-1].length
    assert found.ends[-1] <= end + 17 * CELL


def test_a_plate_turned_as_no_longer_allowed_is_not_taken_up(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(5, 3), [plain_sheet(1500, 500)]
    layout = lay_out(pieces, sheets, **KEEP)
    assert taken_up(pieces, sheets, layout)[1] is not None
    crooked = [replace(p, turns=(17.0,)) for p in pieces]
    assert taken_up(crooked, sheets, layout)[1] is None
    elsewhere = replace(layout, placements=layout.placements[1:])
    assert taken_up(pieces, sheets, elsewhere)[1] is None


def test_a_search_goes_on_from_it(some_pieces, plain_sheet):
    """Ended by its first word, it is nearer to what it began with than to a first layout."""
    pieces, sheets = some_pieces(9, 8, 2), [plain_sheet(2500, 400)]
    start = lay_out(pieces, sheets, steps=900, **KEEP)
    tight = start.used_length
    first = lay_out(pieces, sheets, steps=0, **KEEP).used_length

    def stop(length):
        raise KeyboardInterrupt

    on = lay_out(pieces, sheets, seconds=60, progress=stop, start=start, **KEEP)
    assert verify(on, pieces, sheets, **KEEP) == []
    assert on.used_length < tight + 0.3 * (first - tight)


def test_a_layout_of_something_else_is_no_start(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(5, 3), [plain_sheet(1500, 500)]
    other = lay_out(some_pieces(3, 9), sheets, **KEEP)
    plain = lay_out(pieces, sheets, steps=0, **KEEP)
    assert lay_out(pieces, sheets, steps=0, start=other, **KEEP) == plain
    assert lay_out(pieces, sheets, steps=0, start=Layout((), ()), **KEEP) == plain


def test_another_seed_goes_another_way(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(9, 8), [plain_sheet(1500, 400)]
    one, two = (lay_out(pieces, sheets, steps=150, seed=seed, **KEEP) for seed in (0, 1))
    assert one == lay_out(pieces, sheets, steps=150, **KEEP)
    assert one != two
