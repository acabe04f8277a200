"""verify() finds every kind of fault planted in a good layout."""

from dataclasses import replace

import pytest
import shapely

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Layout, Piece, Placement, Sheet, lay_out, verify
from partgen.layout.inside import is_inside

GAP, MARGIN = 6.0, 9.0


@pytest.fixture
def good(some_pieces, plain_sheet):
    pieces, sheets = some_pieces(10, 3, 2), [plain_sheet(1500, 900, 2)]
    layout = lay_out(pieces, sheets, gap=GAP, margin=MARGIN)
    assert verify(layout, pieces, sheets, gap=GAP, margin=MARGIN) == []
    return layout, pieces, sheets


def changed(layout, k, **kw):
    placements = list(layout.placements)
    placements[k] = replace(placements[k], **kw)
    return Layout(tuple(placements), layout.used)


@pytest.mark.parametrize("k", [0, 7, 19])
def test_planted_faults(good, k):
    layout, pieces, sheets = good
    p, q = layout.placements[k], layout.placements[k - 3]
    plants = {
        "missing": Layout(layout.placements[:k] + layout.placements[k + 1 :], layout.used),
        "placed 2 times": Layout((*layout.placements, p), layout.used),
        "not asked for": changed(layout, k, copy=3),
        "is unknown": changed(layout, k, piece="stranger"),
        "which there is not": changed(layout, k, number=3),
        "not allowed": changed(layout, k, turn=p.turn + 1),
        "not finite": changed(layout, k, x=float("nan")),
        "off the sheet": changed(layout, k, x=p.x + 5000),
        "mm": changed(layout, k, x=q.x + 3, y=q.y + 2),
    }
    for words, plant in plants.items():
        faults = verify(plant, pieces, sheets, gap=GAP, margin=MARGIN)
        assert any(words in f and (p.piece in f or "stranger" in f) for f in faults), words


def two(first, second, dx, dy, margin=0.5, turn=0.0):
    pieces = [Piece("a", first), Piece("b", second, turns=(turn,))]
    sheets = [Sheet("s", rectangle(900, 700, 0, (450, 350)))]
    at = (
        Placement("a", 1, "s", 1, 300, 300, 0.0),
        Placement("b", 1, "s", 1, 300 + dx, 300 + dy, turn),
    )
    return verify(Layout(at, ()), pieces, sheets, gap=GAP, margin=margin)


@pytest.mark.parametrize("degrees", [(0.6, 0.8), (5 / 13, -12 / 13), (-1, 0), (0, 1)])
def test_a_gap_a_hundredth_short_between_arcs(degrees):
    """Circles of 40 and 70: centres 55 + 6 apart are just right, whatever the direction."""
    a, b = (Outline.circle(0, 0, 40),), (Outline.circle(0, 0, 70),)
    ux, uy = degrees
    assert two(a, b, 61 * ux, 61 * uy) == []
    (fault,) = two(a, b, 60.99 * ux, 60.99 * uy)
    assert "5.990000 mm between cuts, 6 asked" in fault
    assert "'a' 1" in fault
    assert "'b' 1" in fault


def test_a_gap_a_hundredth_short_inside_a_window():
    """Disc of 80 in a round window of 100 about (3, 0), gap 6: 4 mm off its middle at most."""
    a = (Outline.circle(3, 0, 100), rectangle(160, 150))
    b = (Outline.circle(0, 0, 80),)
    assert two(a, b, 3 - 2.4, 3.2) == []
    assert "5.990000 mm between cuts" in two(a, b, 3 - 2.406, 3.208)[0]


def test_a_plate_wholly_on_another_overlaps():
    big, small = (rectangle(200, 160),), (rectangle(50, 40),)
    assert "overlap" in two(big, small, 10, 20)[0]
    assert "overlap" in two(small, big, 10, 20)[0]


def test_a_turned_corner_near_an_edge():
    """A square of 100 turned by 45 degrees reaches 70.711 mm."""
    a, b = (rectangle(100, 100),), (rectangle(100, 100),)
    reach = 50 + 100 / 2**0.5 + GAP
    assert two(a, b, reach + 1e-9, 7, turn=45.0) == []
    assert "5.990000" in two(a, b, reach - 0.01, 7, turn=45.0)[0]


def one(outlines, sheet, x, y, margin=MARGIN):
    at = (Placement("a", 1, "s", 1, x, y, 0.0),)
    return verify(Layout(at, ()), [Piece("a", outlines)], [sheet], gap=GAP, margin=margin)


def test_a_margin_a_hundredth_short_to_a_round_sheet():
    """A disc of 100 in a disc of 500 with 9 mm margin: 191 mm off its middle at most."""
    sheet = Sheet("s", Outline.circle(250, 250, 500))
    disc = (Outline.circle(0, 0, 100),)
    assert one(disc, sheet, 250 + 191 * 0.6, 250 - 191 * 0.8) == []
    assert (
        "8.990000 mm to the sheet's edge"
        in one(disc, sheet, 250 + 191.01 * 0.6, 250 - 191.01 * 0.8)[0]
    )
    assert "off the sheet" in one(disc, sheet, 250 + 400, 250)[0]


def test_keep_outs():
    sheet = Sheet("s", rectangle(600, 500, 0, (300, 250)), 1, (Outline.circle(300, 250, 60),))
    disc, small = (Outline.circle(0, 0, 100),), (Outline.circle(0, 0, 20),)
    assert one(disc, sheet, 300 + 89, 250) == []
    assert "8.990000 mm to an opening" in one(disc, sheet, 300 + 88.99, 250)[0]
    assert "lies over an opening" in one(disc, sheet, 300, 250, margin=0.5)[0]
    assert "lies over an opening" in one(small, sheet, 301, 250, margin=0.5)[0]


def test_a_margin_of_zero_may_touch_but_not_cross():
    sheet = Sheet("s", rectangle(600, 500, 0, (300, 250)), 1, (rectangle(100, 100, 0, (300, 250)),))
    square = (rectangle(100, 100),)
    assert one(square, sheet, 50, 50, margin=0) == []
    assert one(square, sheet, 200, 250, margin=0) == []
    assert "over the sheet's edge" in one(square, sheet, 49.99, 50, margin=0)[0]
    assert "into an opening" in one(square, sheet, 200.01, 250, margin=0)[0]


def test_inside_agrees_with_shapely(some_pieces, points_of):
    """Points on a grid that meets corners, arc tops and centres; those very near are skipped."""
    for piece in some_pieces(8, 21):
        for outline in piece.outlines:
            view = shapely.Polygon(points_of(outline))
            x0, y0, x1, y1 = view.bounds
            ys = [v.y for v in outline.vertices] + [s.centre[1] for s in outline.segments]
            ys += [y0 + (y1 - y0) * k / 9 for k in range(-1, 11)]
            for y in ys:
                for k in range(-2, 40):
                    at = shapely.Point(x0 + (x1 - x0) * k / 37, y)
                    if view.boundary.distance(at) > 0.01:
                        assert is_inside((at.x, at.y), outline) == view.contains(at)
