"""Tipping against small cases worked by hand."""

from math import pi, sqrt

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Layout, Piece, Placement, Tip, Used, tip_ups


def layout_of(*spots, along="x"):
    placed = tuple(Placement(name, k, "s", 1, x, y, 0.0) for k, (name, x, y) in enumerate(spots, 1))
    return Layout(placed, (Used("s", 1, along, 0.0, 0.0, 0.0, 0.0),))


def tips(layout):
    return [Tip(p, falls=False) for p in layout.placements]


def test_tipping_is_a_matter_of_the_centre_of_gravity():
    """A right triangle 300 x 90: its centre is 100 mm from the upright edge, 30 mm from the base."""
    wedge = Piece("wedge", (belt(corners([(0, 0), (300, 0), (0, 90)])),))
    flat, upright = layout_of(("wedge", 40, 7)), layout_of(("wedge", 40, 7), along="y")
    assert tip_ups(flat, [wedge], 99.9) == []
    assert tip_ups(flat, [wedge], 100.1) == tips(flat)
    assert tip_ups(upright, [wedge], 29.9) == []
    assert tip_ups(upright, [wedge], 30.1) == tips(upright)


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
    assert tip_ups(layout, [bar], centre + 0.01) == tips(layout)


def test_a_plate_narrower_than_the_spacing_may_fall():
    """A disc of 60 mm and a bar of 60 x 200: slats 60 mm apart just catch both, 61 mm do not."""
    disc, bar = Piece("disc", (Outline.circle(0, 0, 60),)), Piece("bar", (rectangle(60, 200),))
    layout = layout_of(("disc", 100, 50), ("bar", 200, 110))
    assert [tip.falls for tip in tip_ups(layout, [disc, bar], 60)] == [False, False]
    assert [tip.falls for tip in tip_ups(layout, [disc, bar], 61)] == [True, True]
    upright = layout_of(("disc", 100, 50), ("bar", 200, 110), along="y")
    assert [(t.placement.piece, t.falls) for t in tip_ups(upright, [disc, bar], 61)] == [
        ("disc", True)
    ]
    assert tip_ups(layout, [disc, bar], 30) == []
