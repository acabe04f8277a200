"""Leftovers: rectangles by arithmetic, other outlines against shapely."""

import pytest
import shapely

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Sheet, Used, lay_out, offcut, verify
from partgen.layout.offcut import beyond


def used(length, along="x"):
    return Used("s", 2, along, length, 0.0, 0.0, 0.0)


def test_a_rectangle_leaves_a_rectangle(plain_sheet, rectangle_piece):
    sheet, piece = plain_sheet(2000, 500), rectangle_piece("a", 300, 400, 2, turns=(0,))
    layout = lay_out([piece], [sheet], gap=6, margin=10)
    left = offcut(sheet, layout.used[0], gap=6)
    assert left.name == "sheet offcut 1"
    assert left.outline.box == pytest.approx((0, 0, 2000 - layout.used_length - 6, 500))
    assert left.is_rectangle
    again = lay_out([piece], [left], gap=6, margin=10)
    assert verify(again, [piece], [left], gap=6, margin=10) == []


def test_an_upright_sheet_is_cut_across_y():
    sheet = Sheet("s", rectangle(500, 2000, 0, (250, 1000)))
    left = offcut(sheet, used(700, "y"), gap=10)
    assert left.outline.box == pytest.approx((0, 0, 500, 1290))


def test_scrap_is_no_offcut():
    sheet = Sheet("s", rectangle(2000, 500, 0, (1000, 250)))
    assert offcut(sheet, used(1946), gap=6) is None
    assert offcut(sheet, used(1940), gap=6).outline.box[2] == pytest.approx(54)
    assert offcut(sheet, used(1940), gap=6, least=60) is None


@pytest.mark.parametrize("x", [-200, 3, 77.7, 151, 301, 333, 480])
def test_parts_beyond_a_line_agree_with_shapely(x, points_of):
    shapes = [
        Outline.circle(150, 40, 400),
        belt([Pin(0, 0, 30), Pin(400, -20, 70), Pin(210, 190, -60), Pin(120, 350, 45)]),
        belt(
            corners([(0, 0), (500, 0), (500, 80), (90, 120), (480, 200), (510, 400), (0, 380)], 12)
        ),
    ]
    turned = [
        Outline(o.vertices[k:] + o.vertices[:k]) for o in shapes for k in range(len(o.vertices))
    ]
    for outline in turned:
        whole = shapely.Polygon(points_of(outline))
        expected = whole.intersection(shapely.box(x, -9000, 9000, 9000))
        parts = [p for p in shapely.get_parts(expected) if p.area > 1e-6]
        found = beyond(outline, x)
        assert len(found) == len(parts)
        views = shapely.union_all([shapely.Polygon(points_of(o)) for o in found])
        assert views.symmetric_difference(expected).area < 0.5
        assert sum(o.area for o in found) == pytest.approx(expected.area, abs=0.5)


def test_a_cut_that_touches_an_arc_pinches_nothing():
    """The notch of radius 60 about (210, 190) reaches back exactly to x = 150."""
    notched = belt([Pin(0, 0, 30), Pin(400, -20, 70), Pin(210, 190, -60), Pin(120, 350, 45)])
    below, above = sorted(beyond(notched, 150.0), key=lambda o: o.box[1])
    assert below.box[3] < 190 < above.box[1] + 0.2
    assert above.box[1] - below.box[3] < 0.2


def test_keep_outs_go_with_the_offcut():
    holes = (Outline.circle(300, 100, 50), Outline.circle(1500, 200, 60))
    left = offcut(Sheet("s", rectangle(2000, 500, 0, (1000, 250)), 1, holes), used(990), gap=10)
    (hole,) = left.openings
    assert hole.circle_of == pytest.approx((500, 200, 60))
