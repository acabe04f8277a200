"""Slides against distances known by arithmetic, and against shapely."""

import pytest
import shapely

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Piece, Sheet
from partgen.layout.compaction import Loose, compact
from partgen.layout.shape import shapes
from partgen.layout.stock import Stock

GAP = 8.0
STOCK = Stock(Sheet("s", rectangle(3000, 900, 0, (1500, 450))), 10.0)


def loose(outline, x, y, openings=(), turn=0.0):
    return Loose(0, shapes(Piece("p", (*openings, outline)), [turn], GAP)[0], x, y)


def test_a_lone_piece_slides_to_the_corner():
    piece = loose(rectangle(100, 50), 432.1, 123.4)
    compact([piece], STOCK)
    assert (piece.x, piece.y) == (0, 0)


def test_two_rectangles_end_one_gap_apart():
    a, b = loose(rectangle(100, 60), 0, 0), loose(rectangle(70, 50), 300, 7)
    compact([a, b], Stock(Sheet("s", rectangle(3000, 80, 0, (1500, 40))), 10.0))
    assert (b.x, b.y) == pytest.approx((100 + GAP, 0), abs=1e-6)


def test_a_slope_stops_a_piece_at_the_exact_distance():
    """An edge at 45 degrees: along the sheet the gap measures gap times root 2."""
    wedge = loose(belt(corners([(0, 0), (300, 0), (0, 300)])), 0, 0)
    other = loose(belt(corners([(300, 300), (0, 300), (300, 0)])), 900, 0)
    compact([wedge, other], Stock(Sheet("s", rectangle(3000, 320, 0, (1500, 160))), 10.0))
    assert other.x == pytest.approx(GAP * 2**0.5, abs=1e-5)
    assert other.y == pytest.approx(0, abs=1e-9)


def test_shaking_lifts_a_piece_over_what_blocks_it():
    block, bar = loose(rectangle(300, 60), 0, 0), loose(rectangle(200, 40), 400, 0)
    compact([block, bar], Stock(Sheet("s", rectangle(2000, 140, 0, (1000, 70))), 10.0))
    assert max(block.end, bar.end) == pytest.approx(300, abs=1e-6)


def test_a_disc_in_a_window_stays_in_it():
    frame = loose(rectangle(400, 380), 500, 200, [rectangle(300, 280)])
    disc = loose(Outline.circle(0, 0, 100), 700, 300)
    compact([frame, disc], STOCK)
    assert (frame.x, frame.y) == pytest.approx((0, 0), abs=1e-6)
    assert (disc.x, disc.y) == pytest.approx((50 + GAP, 50 + GAP), abs=0.1)


def test_pieces_that_touch_slide_past_each_other():
    """The bar lies exactly one gap above the block and still slides to the start."""
    block, bar = loose(rectangle(100, 60), 40, 0), loose(rectangle(80, 30), 200, 60 + GAP)
    compact([block, bar], STOCK)
    assert block.x == bar.x == 0


def test_an_offcut_stops_a_slide():
    """A disc of 100, margin 10, against the slope from (0, 124) to (100, 0)."""
    sheet = Sheet("s", belt(corners([(100, 0), (2000, 0), (2000, 124), (0, 124)])))
    disc = loose(Outline.circle(0, 0, 100), 900, 1.5)
    compact([disc], Stock(sheet, 10.0))
    x, y = disc.x + 60, disc.y + 60
    away = (124 * (x - 100) + 100 * y) / (124**2 + 100**2) ** 0.5
    assert away == pytest.approx(60, abs=0.05)
    assert y > 61


@pytest.mark.parametrize("seed", range(4))
def test_nothing_overlaps_after_many_slides(seed, some_pieces, metal_of):
    pieces = some_pieces(12, seed + 60)
    here = []
    for k, piece in enumerate(pieces):
        (shape,) = shapes(piece, [90.0 * (k % 4)], GAP)
        here.append(Loose(k, shape, 310.0 * (k // 3) + 13 * k, 299.0 * (k % 3)))
    before = max(p.end for p in here)
    compact(here, STOCK)
    assert max(p.end for p in here) < before
    placed = [
        metal_of(pieces[p.item], p.x + p.shape.x, p.y + p.shape.y, p.shape.turn) for p in here
    ]
    for k, a in enumerate(placed):
        assert a.bounds[0] > -0.002
        assert a.bounds[1] > -0.002
        assert shapely.distance(a, placed[:k]).min(initial=99) > GAP - 0.002
