"""Corners of the geometry kernel that whole plates do not show."""

from math import pi

import pytest

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners
from partgen.geometry.outline import Outline, Vertex

KITE = (Vertex(3, 1), Vertex(40, 7, 0.3), Vertex(22, 31, -0.1), Vertex(5, 19))


@pytest.mark.parametrize(
    ("angle", "expected"),
    [(0, (3, 1)), (90, (-1, 3)), (180, (-3, -1)), (270, (1, -3)), (-90, (1, -3)), (450, (-1, 3))],
)
def test_quarter_turns_are_exact(angle, expected):
    first = Outline(KITE).turned(angle).vertices[0]
    assert (first.x, first.y) == expected


def test_a_turn_is_about_the_origin_unless_told():
    assert Outline(KITE).turned(37.5) == Outline(KITE).turned(37.5, (0.0, 0.0))
    assert Outline(KITE).turned(37.5) != Outline(KITE).turned(37.5, (1.0, 0.0))


def test_a_half_disc_is_no_circle():
    assert Outline((Vertex(5, 2, 1.0), Vertex(-7, 2))).circle_of is None
    assert Outline((Vertex(5, 2), Vertex(-7, 2, 1.0))).circle_of is None


def test_outlines_of_different_length_are_not_the_same():
    assert not Outline(KITE).is_same(Outline(KITE[:3]))
    assert not Outline(KITE[:3]).is_same(Outline(KITE))


def test_doubled_points_off_the_axes_are_dropped():
    doubled = [Vertex(0, 30), Vertex(0, 30, 0.2), Vertex(60, 35), Vertex(60, 35), Vertex(20, 80)]
    assert len(Outline.of(doubled).vertices) == 3


def test_a_crossing_of_a_twentieth_of_a_mm_is_seen():
    """An arc bulges 10.05 mm down from y = 10 onto an edge at y = 0."""
    sag = -10.05 / 40
    points = [
        Vertex(0, 0),
        Vertex(200, 0),
        Vertex(200, 10),
        Vertex(140, 10, sag),
        Vertex(60, 10),
        Vertex(0, 10),
    ]
    with pytest.raises(GeometryError, match="crosses itself"):
        Outline.of(points)
    clear = Vertex(140, 10, -9.95 / 40)
    assert Outline.of([*points[:3], clear, *points[4:]]).area > 0


def test_a_bow_across_a_gap_by_a_twentieth_of_a_mm_is_seen():
    """A fork's lower prong bows by 7.55 mm over 80 into a gap of 7.5; two chords would hide it."""
    ends = [(20, 20), (20, 27.5), (100, 27.5), (100, 50), (0, 50)]
    for sag, crosses in ((7.55, True), (7.45, False)):
        bowed = [Vertex(0, 0), Vertex(100, 0), Vertex(100, 20, sag / 40)]
        points = [*bowed, *(Vertex(*p) for p in ends)]
        if crosses:
            with pytest.raises(GeometryError, match="crosses itself"):
                Outline.of(points)
        else:
            assert Outline.of(points).area > 0


def test_an_outline_may_be_smaller_than_a_square_mm():
    assert Outline.of([Vertex(3, 1), Vertex(4, 1), Vertex(3, 1.8)]).area == pytest.approx(0.4)


def test_a_belt_goes_round_pins_of_less_than_a_mm():
    """A triangle of 30, 40 and 50 about pins of 0.8: as long as it is, and once round a pin."""
    outline = belt([Pin(5, 2, 0.8), Pin(45, 2, 0.8), Pin(5, 32, 0.8)])
    assert outline.length == pytest.approx(120 + 1.6 * pi)


def test_a_slot_lies_along_x_unless_turned():
    x0, y0, x1, y1 = Outline.slot(11, 7, 30, 0.8).box
    assert (x0, y0, x1, y1) == pytest.approx((-4, 6.6, 26, 7.4))


def test_a_plain_pin_is_a_sharp_corner():
    sharp = belt([Pin(0, 0), Pin(50, 4), Pin(33, 40)])
    assert [(v.x, v.y, v.bulge) for v in sharp.vertices] == [(0, 0, 0), (50, 4, 0), (33, 40, 0)]


def test_an_edge_too_short_names_both_its_ends():
    with pytest.raises(GeometryError) as error:
        belt([*corners([(0, 0), (90, 3)]), Pin(95, 30, 0, 60), Pin(70, 41, 0, 4), Pin(1, 37)])
    assert "from (90, 3) to (95, 30) mm" in str(error.value)
