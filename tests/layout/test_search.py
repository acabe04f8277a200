"""The search: budgets, interrupts, priorities, and parts of it against brute force."""

import random
import time
from dataclasses import replace

import numpy as np
import pytest

from partgen.geometry.belt import belt, corners, rectangle
from partgen.layout import LayoutError, Piece, Sheet, lay_out, turns_every, verify
from partgen.layout.budget import Budget
from partgen.layout.depth import depth
from partgen.layout.mask import Grid, no_fit
from partgen.layout.ordering import Ordering
from partgen.layout.placing import Filling
from partgen.layout.separation import Separation
from partgen.layout.shape import shapes
from partgen.layout.shop import prepare, trial


def test_more_steps_are_never_worse(some_pieces, plain_sheet, independent_faults):
    pieces, sheets = some_pieces(9, 8), [plain_sheet(1500, 400)]
    lengths = []
    for steps in (0, 40, 600):
        layout = lay_out(pieces, sheets, gap=5, margin=8, steps=steps)
        assert verify(layout, pieces, sheets, gap=5, margin=8) == []
        assert independent_faults(layout, pieces, sheets, 5, 8) == []
        lengths.append(layout.used_length)
    assert lengths[2] <= lengths[1] <= lengths[0] + 1e-6
    assert lengths[2] < lengths[0]


def test_separation_finds_a_tight_fit_that_placing_in_order_misses(plain_sheet):
    """Four equal right triangles make two rectangles 300 x 120 when paired with a gap between."""
    triangle = Piece("t", (belt(corners([(0, 0), (300, 0), (0, 120)])),), 4, turns=(0, 180))
    sheets = [plain_sheet(1000, 300)]
    layout = lay_out([triangle], sheets, gap=4, margin=5, steps=3000)
    assert verify(layout, [triangle], sheets, gap=4, margin=5) == []
    assert layout.used_length < 5 + 300 + 20


CELL = 4.0


def a_filling(pieces, sheet):
    shop = prepare(pieces, [sheet], 5.0, 8.0, CELL)
    return shop, trial(shop, shop.rough_order).fillings[0][2]


@pytest.mark.parametrize("seed", [31, 32])
def test_a_separation_never_returns_an_overlap(seed, some_pieces, plain_sheet, metal_of):
    shop, first = a_filling(some_pieces(9, seed), plain_sheet(1500, 400))
    separation = Separation(first.board, shop.options[0], first.spots, random.Random(1))
    before = separation.length
    separation.improve(Budget(1500))
    assert separation.length < before
    assert sorted(s.item for s in separation.best) == list(range(9))
    placed = [
        metal_of(
            shop.items[s.item][0],
            s.column * CELL + s.shape.x,
            s.row * CELL + s.shape.y,
            s.shape.turn,
        )
        for s in separation.best
    ]
    for k, a in enumerate(placed):
        assert all(a.distance(b) > 5 - 0.002 for b in placed[:k])


def test_a_separation_keeps_to_an_offcut(some_pieces):
    slope = Sheet("slope", belt(corners([(0, 0), (1500, 0), (1500, 700), (400, 650), (0, 200)])))
    shop, first = a_filling(some_pieces(9, 5), slope)
    separation = Separation(first.board, shop.options[0], first.spots, random.Random(3))
    before = separation.length
    separation.improve(Budget(1500))
    assert separation.length < before
    assert not any(first.board.is_off(s.shape, s.column, s.row) for s in separation.best)
    spot = first.spots[0]
    astray = replace(spot, column=0, row=first.board.last(spot.shape)[1])
    assert first.board.is_off(astray.shape, astray.column, astray.row)
    separation._restart(Budget(0), disturbed=False)
    separation._at[0] = astray
    separation._note(0)
    assert separation._shortened(before + 300, Budget(2000))
    assert not any(first.board.is_off(s.shape, s.column, s.row) for s in separation._at)


def test_the_field_of_a_piece_is_the_weighted_sum_of_depths(some_pieces, plain_sheet):
    """After many moves, every entry against a sum made anew."""
    shop, first = a_filling(some_pieces(7, 12, 2), plain_sheet(1500, 400))
    separation = Separation(first.board, shop.options[0], first.spots, random.Random(1))
    limit = separation.length * 0.9
    separation._restart(Budget(0), disturbed=True)
    chance = random.Random(5)
    for _ in range(60):
        k, j = chance.sample(range(14), 2)
        separation._weight[k, j] = separation._weight[j, k] = chance.choice([1.0, 1.7, 3.0])
        separation._move(k, limit)
    for k in (0, 5, 13):
        for shape in separation._options[k]:
            field = separation._field(k, shape, limit)
            total = np.zeros_like(field)
            for j, spot in enumerate(separation._at):
                if j != k:
                    one = depth(
                        first.board.mask(spot.shape), first.board.mask(shape), first.board.grid
                    )
                    weight = separation._weight[k, j]
                    for c in range(field.shape[0]):
                        for r in range(0, field.shape[1], 7):
                            total[c, r] += weight * one.at(c - spot.column, r - spot.row)
            assert field[:, ::7] == pytest.approx(total[:, ::7], abs=1e-3)


def test_an_order_goes_on_from_fillings_that_belong_to_it(some_pieces, plain_sheet):
    shop, first = a_filling(some_pieces(8, 15, 2), plain_sheet(1500, 400))
    ordering = Ordering(first.board, shop.options[0], first.spots)
    before = max(s.end for s in first.spots)
    ordering.improve(Budget(250), random.Random(2))
    assert max(s.end for s in ordering.spots) < before
    assert sorted(s.item for s in ordering.spots) == list(range(16))
    again = Filling(first.board)
    for item in ordering._order:
        again.place(item, shop.options[0][item])
    found = [(s.item, s.shape, s.column, s.row) for s in ordering.spots]
    assert found == [(s.item, s.shape, s.column, s.row) for s in again.spots]


@pytest.mark.parametrize("seed", range(4))
def test_depth_is_the_way_to_the_nearest_free_cell(seed, some_pieces):
    """Every entry against a search outward along both axes in the no-fit map."""
    grid = Grid(14.0, 120, 2)
    a, b = some_pieces(2, seed + 90)
    p, q = shapes(a, [90.0], 6.0)[0].clear(grid), shapes(b, [0.0], 6.0)[0].clear(grid)
    found, nofit = depth(p, q, grid), no_fit(p, q, grid)
    bits = nofit.at(50 * 120 + 60)
    taken = np.array(
        [[bits >> ((50 + c) * 120 + 60 + r) & 1 for r in range(-45, 46)] for c in range(-45, 46)]
    )
    for c in range(-22, 23):
        for r in range(-22, 23):
            ways = [taken[c + 45 :, r + 45], taken[c + 45 :: -1, r + 45]]
            ways += [taken[c + 45, r + 45 :], taken[c + 45, r + 45 :: -1]]
            assert found.at(c, r) == min(int(np.argmin(way)) for way in ways)
            assert found.reversed().at(-c, -r) == found.at(c, r)


def test_seconds_end_the_search_and_progress_is_told(some_pieces, plain_sheet):
    told = []
    pieces, sheets = some_pieces(10, 4), [plain_sheet(1500, 500)]
    before = time.monotonic()
    layout = lay_out(pieces, sheets, gap=5, margin=8, seconds=0.6, progress=told.append)
    assert time.monotonic() - before < 30
    assert told == sorted(told, reverse=True)
    assert layout.used_length <= told[-1] + 1e-6
    assert verify(layout, pieces, sheets, gap=5, margin=8) == []


def test_an_interrupt_keeps_the_best_so_far(some_pieces, plain_sheet):
    def stop(length):
        raise KeyboardInterrupt

    pieces, sheets = some_pieces(10, 4, 3), [plain_sheet(1500, 500, 4)]
    layout = lay_out(pieces, sheets, gap=5, margin=8, seconds=60, progress=stop)
    assert len(layout.placements) == 30
    assert verify(layout, pieces, sheets, gap=5, margin=8) == []


def test_priority_comes_first(plain_sheet, rectangle_piece):
    big = rectangle_piece("big", 200, 200, 4)
    small = Piece("small", (rectangle(150, 150),), 2, priority=1)
    layout = lay_out([big, small], [plain_sheet(640, 230, 3)], gap=5, margin=10)
    assert {p.number for p in layout.placements if p.piece == "small"} == {1}


def test_pieces_kept_together_share_a_sheet(plain_sheet, rectangle_piece):
    """Largest first would put 3 of the 4 on the first sheet."""
    pair = Piece("pair", (rectangle(200, 200),), 4, together="left side")
    other = rectangle_piece("other", 210, 205, 3)
    sheets = [plain_sheet(880, 225, 3)]
    layout = lay_out([pair, other], sheets, gap=5, margin=8, steps=0)
    assert len({p.number for p in layout.placements if p.piece == "pair"}) == 1
    assert verify(layout, [pair, other], sheets, gap=5, margin=8) == []
    alone = [Piece("pair", pair.outlines, 4), other]
    apart = lay_out(alone, sheets, gap=5, margin=8, steps=0)
    assert (
        "'left side' should be together" in verify(apart, [pair, other], sheets, gap=5, margin=8)[0]
    )


def test_pieces_that_cannot_be_together_are_named(plain_sheet):
    many = Piece("many", (rectangle(200, 200),), 5, together="all of it")
    with pytest.raises(LayoutError, match="or do not keep all of it together"):
        lay_out([many], [plain_sheet(640, 230, 3)], gap=5, margin=10)


def test_free_rotation_fits_a_bar_across_the_corner(plain_sheet):
    bar = (rectangle(520, 20),)
    sheets = [plain_sheet(450, 400)]
    with pytest.raises(LayoutError, match="allow more turns"):
        lay_out([Piece("bar", bar)], sheets, gap=5, margin=10)
    free = [Piece("bar", bar, turns=turns_every(7.5))]
    layout = lay_out(free, sheets, gap=5, margin=10)
    assert verify(layout, free, sheets, gap=5, margin=10) == []


@pytest.mark.parametrize("step", [0, -90, 400, float("nan")])
def test_turn_steps_that_make_no_sense(step):
    with pytest.raises(LayoutError, match="turn step"):
        turns_every(step)


def test_budgets():
    assert [Budget(2).step() for _ in range(1)] == [True]
    budget = Budget(10)
    part = budget.part(0.3)
    assert sum(part.step() for _ in range(20)) == 3
    assert sum(budget.step() for _ in range(20)) == 7
    assert not Budget(4).step(items=100)
    assert Budget(5).step(items=100)
    assert not Budget(9, seconds=0.0).step()
