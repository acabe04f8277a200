"""Rounded corners: tangent arcs of the asked radius between lines and arcs."""

from contextlib import suppress
from math import degrees, dist, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.belt import belt as stretched
from partgen.geometry.belt import corners, rectangle
from partgen.geometry.crossing import turn_at
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.rounding import round_where, rounded, turns
from partgen.geometry.trim import less


def test_line_to_line_is_the_belts_own_blend():
    points = [(0, 0), (120, 10), (90, 80), (20, 50)]
    chain = stretched(corners(points)).segments
    mine = rounded([(s, 9.0) for s in chain])
    assert mine.is_same(stretched(corners(points, 9.0)))


def test_line_to_arc_by_hand():
    """A half disc of radius 50 on a line, corner rounded by 5: centre 5 above, 45 from the middle."""
    disc = Outline.of([Vertex(-50, 0), Vertex(50, 0, 1.0)])
    mine = round_where(disc, 5, lambda p, _: p[0] > 0)
    (arc,) = [s for s in mine.segments if s.bulge and s.radius < 6]
    assert arc.centre == pytest.approx((sqrt(45**2 - 25), 5))
    assert arc.start == pytest.approx((sqrt(2000), 0))
    assert [round(t) for t in turns(mine) if abs(t) > 0.001] == [90]


def test_arc_to_arc_inside_corner():
    """Two bites side by side leave a cusp; a bite beside a bite leaves an outside one."""
    plate = rectangle(200, 100)
    edge = less(plate, Outline.circle(-12, 50, 60)).outlines[0]
    edge = less(edge, Outline.circle(25, 52, 40)).outlines[0]
    sharp = [t for t in turns(edge) if t > 2]
    mine = round_where(edge, 4, lambda p, turn: p[1] < 50 - 1e-6 or turn > 2)
    assert len(mine.segments) == len(edge.segments) + len(sharp)
    fillets = [s for s in mine.segments if s.bulge and s.radius == pytest.approx(4)]
    assert len(fillets) == len(sharp)
    assert max(abs(t) for t in turns(mine)) < 1e-6


def test_a_ball_too_large_for_the_first_piece_rolls_on_to_the_next():
    """A corner with a short bevel: the ball of 30 touches the two long edges."""
    points = [(0, 0), (100, 0), (100, 100), (99, 103), (0, 140)]
    edge = stretched(corners(points))
    mine = round_where(edge, 30, lambda p, _: p == (100, 100))
    (arc,) = [s for s in mine.segments if s.bulge]
    assert arc.radius == pytest.approx(30)
    assert arc.centre[0] == pytest.approx(70)
    assert dist(arc.start, (100, 0)) < 103


def test_no_room_names_the_corner():
    with pytest.raises(GeometryError, match=r"edges at \(50, -30\) mm .* 70 mm"):
        round_where(rectangle(100, 60), 70, lambda p, _: p == (50.0, -30.0))


@given(st.floats(-70, 70), st.floats(15, 60), st.floats(1, 12), st.floats(0.15, 0.85))
def test_any_corner_between_line_and_arc_is_tangent_or_refused(lean, size, radius, bulge):
    edge = Outline.of(
        [Vertex(0, 0), Vertex(size, lean / 9), Vertex(size + 7, 60, bulge), Vertex(3, 55)]
    )
    mine = None
    with suppress(GeometryError):
        mine = round_where(edge, radius, lambda p, _: True)
    if mine is None:
        with pytest.raises(GeometryError, match=r"too short for the radii|crosses"):
            round_where(edge, radius, lambda p, _: True)
        return
    for a, b in zip(mine.segments, (*mine.segments[1:], mine.segments[0]), strict=True):
        assert abs(degrees(turn_at(a, b))) < 2
    assert mine.area < edge.area + 1e-9


def test_inside_corner_adds_metal_and_outside_corner_takes_it():
    """Right angles: each takes or gives (1 - pi/4) r2."""
    ell = stretched(corners([(0, 0), (90, 0), (90, 40), (35, 40), (35, 100), (0, 100)]))
    spare = (1 - pi / 4) * 49
    inside = round_where(ell, 7, lambda _, turn: turn < 0)
    outside = round_where(ell, 7, lambda _, turn: turn > 0)
    assert inside.area - ell.area == pytest.approx(spare)
    assert ell.area - outside.area == pytest.approx(5 * spare)
