"""Cut order, travel and tipping against small cases worked by hand."""

from math import pi, sqrt

import pytest

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Layout, Piece, Placement, Used, cut_order, lay_out, tip_ups


def layout_of(*spots, along="x"):
    placed = tuple(Placement(name, k, "s", 1, x, y, 0.0) for k, (name, x, y) in enumerate(spots, 1))
    return Layout(placed, (Used("s", 1, along, 0.0, 0.0, 0.0, 0.0),))


FRAME = Piece("frame", (Outline.circle(-120, -100, 30), rectangle(150, 130), rectangle(300, 280)))
RING = Piece("ring", (Outline.circle(0, 0, 40), Outline.circle(0, 0, 90)))
DOT = Piece("dot", (Outline.circle(0, 0, 20),))


def test_inside_before_outside_and_guests_before_their_window():
    layout = layout_of(("frame", 200, 200), ("ring", 200, 200), ("dot", 200, 200), ("dot", 500, 90))
    order = cut_order(layout, [FRAME, RING, DOT], "s", 1)
    at = {(c.placement, c.outline): k for k, c in enumerate(order.cuts)}
    assert len(at) == len(order.cuts) == 3 + 2 + 1 + 1
    assert at[2, 0] < at[1, 0] < at[1, 1] < at[0, 1] < at[0, 2]
    assert at[0, 0] < at[0, 2]


def test_nearest_next_and_its_travel():
    """Squares of 10 in a row at x = 20, 60, 100, asked for in another order."""
    square = Piece("sq", (rectangle(10, 10, 0, (5, 5)),))
    layout = layout_of(("sq", 100, 0), ("sq", 20, 0), ("sq", 60, 0))
    order = cut_order(layout, [square], "s", 1)
    assert [c.placement for c in order.cuts] == [1, 2, 0]
    assert order.travel == pytest.approx(20 + 40 + 40)
    assert order.bound == pytest.approx(20 + 30 + 30)


def test_a_neighbour_waits_while_it_is_hot():
    square = Piece("sq", (rectangle(10, 10, 0, (5, 5)),))
    layout = layout_of(("sq", 0, 0), ("sq", 15, 0), ("sq", 30, 0), ("sq", 45, 0))
    order = cut_order(layout, [square], "s", 1, cool=6.0)
    assert [c.placement for c in order.cuts] == [0, 2, 1, 3]
    hot = cut_order(layout, [square], "s", 1)
    assert [c.placement for c in hot.cuts] == [0, 1, 2, 3]


def test_no_order_travels_less_than_the_bound(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(14, 2), [plain_sheet(2000, 700)]
    layout = lay_out(pieces, sheets, gap=5, margin=8, steps=10)
    order = cut_order(layout, pieces, "sheet", 1)
    assert len(order.cuts) == sum(len(p.outlines) for p in pieces)
    assert order.bound <= order.travel
    assert order.travel < cut_order(layout, pieces, "sheet", 1, cool=400).travel


def test_only_the_sheet_asked_for(plain_sheet, rectangle_piece):
    pieces = [rectangle_piece("a", 200, 200, 9)]
    layout = lay_out(pieces, [plain_sheet(640, 430, 2)], gap=5, margin=10)
    assert [len(cut_order(layout, pieces, "sheet", n).cuts) for n in (1, 2)] == [6, 3]


def test_tipping_is_a_matter_of_the_centre_of_gravity():
    """A right triangle 300 x 90: its centre is 100 mm from the upright edge, 30 mm from the base."""
    wedge = Piece("wedge", (belt(corners([(0, 0), (300, 0), (0, 90)])),))
    flat, upright = layout_of(("wedge", 40, 7)), layout_of(("wedge", 40, 7), along="y")
    assert tip_ups(flat, [wedge], 99.9) == []
    assert tip_ups(flat, [wedge], 100.1) == list(flat.placements)
    assert tip_ups(upright, [wedge], 29.9) == []
    assert tip_ups(upright, [wedge], 30.1) == list(upright.placements)


def test_openings_move_the_centre_of_gravity():
    """A bar of 12000 mm2 about x = 100 with a hole of 2500 mm2 about x = 150."""
    bar = Piece(
        "bar",
        (
            Outline.circle(150, 25, 2 * sqrt(2500 / pi)),
            rectangle(200, 60, 0, (100, 25)),
        ),
    )
    centre = (100 * 12000 - 150 * 2500) / 9500
    layout = layout_of(("bar", 0, 0))
    assert tip_ups(layout, [bar], centre - 0.01) == []
    assert tip_ups(layout, [bar], centre + 0.01) == list(layout.placements)
