"""Lines and arcs: closed forms by hand, and shapely on fine chords for pairs at random.

The chords of the reference are within :func:`chord_error` of their arcs.
"""

from __future__ import annotations

import random
from itertools import pairwise
from math import atan2, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
import shapely

from partgen.geometry.segment import Segment, closest

STEPS = 1000
PAIRS = 3000


def arc(x, y, r, start, sweep):
    """Return the arc about (x, y) from ``start`` over ``sweep`` degrees, by its definition."""
    a, b = radians(start), radians(start + sweep)
    return Segment(
        x + r * cos(a), y + r * sin(a), x + r * cos(b), y + r * sin(b), tan(radians(sweep) / 4)
    )


def fine(s):
    """Return the segment as a shapely line; arcs from a sum of their own (centre by bisector)."""
    if not s.bulge:
        return shapely.LineString([s.start, s.end])
    (x0, y0), (x1, y1) = s.start, s.end
    sweep = 4 * np.arctan(s.bulge)
    apothem = (hypot(x1 - x0, y1 - y0) / 2) / tan(sweep / 2)
    nx, ny = -(y1 - y0) / hypot(x1 - x0, y1 - y0), (x1 - x0) / hypot(x1 - x0, y1 - y0)
    cx, cy = (x0 + x1) / 2 + nx * apothem, (y0 + y1) / 2 + ny * apothem
    angles = atan2(y0 - cy, x0 - cx) + np.linspace(0, sweep, STEPS)
    r = hypot(x0 - cx, y0 - cy)
    return shapely.LineString(np.column_stack([cx + r * np.cos(angles), cy + r * np.sin(angles)]))


def chord_error(s):
    return s.radius * (1 - cos(s.sweep / (STEPS - 1) / 2)) if s.bulge else 0.0


def some(draw):
    """Return a line or an arc at random, arcs up to 350 degrees and either way round."""
    x, y = draw.uniform(-40, 40), draw.uniform(-40, 40)
    if draw.random() < 0.35:
        return Segment(x, y, draw.uniform(-40, 40), draw.uniform(-40, 40))
    sweep = draw.choice([-1, 1]) * draw.uniform(5, 350)
    return arc(x, y, draw.uniform(0.5, 45), draw.uniform(0, 360), sweep)


def agrees(a, b):
    """Compare :func:`closest` with shapely; return the distance."""
    found, p, q = closest(a, b)
    slack = chord_error(a) + chord_error(b) + 1e-9
    assert found == pytest.approx(shapely.distance(fine(a), fine(b)), abs=slack)
    assert hypot(p[0] - q[0], p[1] - q[1]) == pytest.approx(found, abs=1e-9)
    assert shapely.distance(fine(a), shapely.Point(p)) <= slack
    assert shapely.distance(fine(b), shapely.Point(q)) <= slack
    return found


def test_closest_agrees_with_shapely_on_pairs_at_random():
    draw = random.Random(20)
    found = [agrees(some(draw), some(draw)) for _ in range(PAIRS)]
    assert 300 < sum(d == 0 for d in found) < PAIRS - 300  # both kinds are many


def test_closest_does_not_mind_the_order_or_the_direction():
    draw = random.Random(21)
    for _ in range(500):
        a, b = some(draw), some(draw)
        want = closest(a, b)[0]
        for c, d in ((b, a), (a.reversed(), b), (a, b.reversed())):
            assert closest(c, d)[0] == pytest.approx(want, abs=1e-9)


def test_concentric_arcs():
    draw = random.Random(22)
    for _ in range(150):
        x, y = draw.uniform(-9, 9), draw.uniform(-9, 9)
        a, b = (
            arc(x, y, r, draw.uniform(0, 360), draw.choice([-1, 1]) * draw.uniform(5, 355))
            for r in (7.25, draw.choice([3.5, 7.25, 11.125]))
        )
        agrees(a, b)


def test_tangent_circles_touch_and_parted_ones_are_apart_by_the_gap():
    """Two half circles whose common normal lies inside both; distance = centres - radii."""
    for gap in (0.0, 1e-6, 0.37, 12.0):
        for turn in (0, 33, 90, 171):
            away = 8 + 5.5 + gap
            a = arc(3, -2, 8, turn - 80, 170)
            x, y = 3 + away * cos(radians(turn)), -2 + away * sin(radians(turn))
            b = arc(x, y, 5.5, turn + 90, 200)
            found, p, _ = closest(a, b)
            assert found == pytest.approx(gap, abs=1e-9)
            assert p == pytest.approx(
                (3 + 8 * cos(radians(turn)), -2 + 8 * sin(radians(turn))), abs=3e-4
            )


def test_an_arc_inside_another():
    """Radius 20 about the origin, radius 6 about (9, 0): least distance 20 - 9 - 6 = 5."""
    outer, inner = arc(0, 0, 20, -50, 300), arc(9, 0, 6, 70, -200)
    assert closest(outer, inner)[0] == pytest.approx(5)
    assert closest(inner, outer)[2] == pytest.approx((20, 0))


def test_a_line_past_a_circle():
    """The line y = 11 passes a circle of radius 7.5 about (4, 1): 11 - 1 - 7.5 = 2.5."""
    line = Segment(-30, 11, 25, 11)
    found, p, q = closest(line, arc(4, 1, 7.5, 20, 140))
    assert (found, p, q) == (pytest.approx(2.5), pytest.approx((4, 11)), pytest.approx((4, 8.5)))
    # an arc that leaves out its top: its ends at 60 degrees and 120 degrees are nearest
    assert closest(arc(4, 1, 7.5, 120, 300), line)[0] == pytest.approx(10 - 7.5 * sin(pi / 3))


def test_a_line_through_an_arc():
    """Chord of a circle: x = 3 meets radius 5 at y = 4 and -4; the arc has only the upper one."""
    found, p, _ = closest(Segment(3, -9, 3, 9), arc(0, 0, 5, 10, 100))
    assert (found, p) == (0.0, pytest.approx((3, 4)))
    assert closest(Segment(3, -9, 3, 0.5), arc(0, 0, 5, 10, 100))[0] == pytest.approx(
        hypot(5 * cos(radians(10)) - 3, 5 * sin(radians(10)) - 0.5)
    )


@pytest.mark.parametrize(
    ("a", "b", "distance"),
    [
        ((0, 0, 10, 0), (3, 4, 8, 4), 4),
        ((0, 0, 10, 0), (13, 4, 20, 4), 5),
        ((0, 0, 10, 0), (7, 0, 20, 0), 0),
        ((0, 0, 10, 0), (14, 0, 20, 0), 4),
        ((0, 0, 10, 10), (10, 0, 0, 10), 0),
        ((0, 0, 10, 10), (6, 5, 9, 0), sqrt(0.5)),
        ((0, 0, 10, 0), (10, 0, 10, 5), 0),
    ],
)
def test_lines(a, b, distance):
    assert closest(Segment(*a), Segment(*b))[0] == pytest.approx(distance, abs=1e-12)


@pytest.mark.parametrize(
    ("start", "sweep"), [(17, 60), (17, -60), (100, 300), (-20, -270), (5, 180)]
)
def test_an_arc_by_its_definition(start, sweep):
    s = arc(11, -4, 6.5, start, sweep)
    assert s.centre == pytest.approx((11, -4))
    assert (s.radius, s.sweep) == (pytest.approx(6.5), pytest.approx(radians(sweep)))
    assert s.length == pytest.approx(6.5 * abs(radians(sweep)))
    for part in (0, 0.3, 1):
        angle = radians(start + part * sweep)
        assert s.at(part) == pytest.approx((11 + 6.5 * cos(angle), -4 + 6.5 * sin(angle)))
        way = 1 if sweep > 0 else -1
        assert s.direction(part) == pytest.approx((-way * sin(angle), way * cos(angle)))
    assert s.box == pytest.approx(fine(s).bounds, abs=2 * chord_error(s) + 1e-9)
    assert s.reversed().at(0.3) == pytest.approx(s.at(0.7))
    assert s.reversed().centre == pytest.approx(s.centre)


def test_bulge_is_the_tangent_of_a_quarter_of_the_angle():
    """DXF reference, LWPOLYLINE group 42: 1 is a half circle, 90 degrees is 0.414214."""
    assert Segment(5, 0, -5, 0, 1.0).centre == (0, 0)
    quarter = Segment(8, 2, 3, 7, 0.41421356237309503)
    assert quarter.centre == pytest.approx((3, 2))
    assert Segment(8, 2, 3, 7, -0.41421356237309503).centre == pytest.approx((8, 7))


def test_boxes_agree_with_shapely_at_random():
    draw = random.Random(23)
    for _ in range(500):
        s = some(draw)
        assert s.box == pytest.approx(fine(s).bounds, abs=chord_error(s) + 1e-9)


def test_points_agree_with_shapely_at_random():
    draw = random.Random(24)
    for _ in range(1500):
        s, point = some(draw), (draw.uniform(-60, 60), draw.uniform(-60, 60))
        want = shapely.distance(fine(s), shapely.Point(point))
        assert s.distance(point) == pytest.approx(want, abs=chord_error(s) + 1e-9)


def test_the_centre_of_an_arc_is_a_radius_away():
    s = arc(2, 3, 4.25, 100, 40)
    assert s.distance((2, 3)) == pytest.approx(4.25)
    assert s.nearest(s.at(0.4)) == pytest.approx(s.at(0.4))


def test_a_chain_of_pieces_is_as_long_as_the_whole():
    s = arc(2, 3, 4.25, 100, -310)
    ends = [s.at(k / 7) for k in range(8)]
    pieces = [Segment(*p, *q, tan(s.sweep / 28)) for p, q in pairwise(ends)]
    assert sum(piece.length for piece in pieces) == pytest.approx(s.length)
    assert all(piece.centre == pytest.approx(s.centre) for piece in pieces)
