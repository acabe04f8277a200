"""Distances of many at once: equal to one by one, and to shapely on fine polygons."""

from math import hypot

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry import nearness
from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.nearness import (
    between,
    box_gaps,
    nearest,
    nearest_pair,
    neighbours,
    point_distances,
)
from partgen.geometry.outline import Outline, Vertex, distance
from partgen.geometry.segment import closest

EDGE = belt([*corners([(0, 0), (210, 4)], 3), Pin(180, 131, 24), *corners([(0, 95)], 7)])
SHAPES = [
    EDGE,
    rectangle(40, 20, 6, (70, 50)).turned(20, (70, 50)),
    Outline.slot(120, 70, 50, 14, 37),
    Outline.circle(30, 30, 17),
    rectangle(25, 25, 0, (160, 40)),
    belt(
        [
            *corners([(-60, 0), (-10, 0), (-10, 20)]),
            Pin(-17, 50, -10),
            *corners([(-10, 83), (-60, 100)]),
        ]
    ),
]
place = st.floats(-40, 250)


@given(st.lists(st.tuples(place, place), min_size=1, max_size=6))
def test_points_against_outlines(points):
    away = point_distances(np.array(points), SHAPES)
    for k, point in enumerate(points):
        assert away[k] == pytest.approx([o.distance(point) for o in SHAPES], abs=1e-8)


BOWED = Outline(  # its top: a hollow 3 deep over 60 wide, a bow 2 high over 40; a chamfer of 0.5
    (
        Vertex(0, 0),
        Vertex(99.7, 0),
        Vertex(100, 0.4),
        Vertex(100, 60, -0.1),
        Vertex(40, 60, 0.1),
        Vertex(0, 60),
    )
)


@pytest.mark.parametrize(
    ("point", "away"),
    [
        ((70, 40), 17),
        ((70, 100), 43),
        ((20, 70), 8),
        ((20, 50), 12),
        ((-3, 64), 5),
        ((99.7 + 0.45 * 0.6 + 10 * 0.8, 0.45 * 0.8 - 10 * 0.6), 10),
    ],
)
def test_points_beside_shallow_arcs_and_short_lines_by_hand(point, away):
    assert point_distances(np.array([point]), [BOWED])[0, 0] == pytest.approx(away)


def test_outlines_of_arcs_alone_and_of_lines_alone():
    """20 from the middle of a circle of 34, and of a square of 10."""
    point = np.array([(20.0, 0.0)])
    assert point_distances(point, [Outline.circle(0, 0, 34)])[0, 0] == pytest.approx(3)
    assert point_distances(point, [rectangle(10, 10)])[0, 0] == pytest.approx(15)


def test_no_point_and_no_outline():
    assert point_distances(np.zeros((0, 2)), SHAPES).shape == (0, len(SHAPES))
    assert point_distances(np.array([(1.0, 2.0)]), []).shape == (1, 0)


@pytest.mark.parametrize("i", range(len(SHAPES)))
@pytest.mark.parametrize("j", range(len(SHAPES)))
def test_outline_against_outline(i, j):
    if i == j:
        return
    a, b = SHAPES[i], SHAPES[j]
    fine = [o.polygon("inside", 0.0005).exterior for o in (a, b)]
    assert between(a, b) == pytest.approx(distance(a.segments, b.segments), abs=1e-9)
    assert between(a, b) == pytest.approx(shapely.distance(*fine), abs=0.002)


@given(place, place, st.floats(3, 60), st.floats(0, 90))
def test_slots_anywhere(x, y, width, angle):
    slot = Outline.slot(x, y, 2 * width, width, angle)
    for shape in SHAPES:
        one_by_one = distance(slot.segments, shape.segments)
        if one_by_one > 0:
            assert between(slot, shape) == pytest.approx(one_by_one, abs=1e-9)


def test_a_round_window_in_a_round_plate_off_its_middle():
    """Radius 40 about (3, 4), radius 10 about the origin: 40 - 5 - 10 is left."""
    assert between(Outline.circle(0, 0, 20), Outline.circle(3, 4, 80)) == pytest.approx(25)
    assert between(Outline.circle(3, 4, 80), Outline.circle(0, 0, 20)) == pytest.approx(25)


@pytest.mark.parametrize("gap", [0.5, 7])
def test_a_circle_is_measured_from_its_middle_alone(monkeypatch, gap):
    monkeypatch.setattr(nearness, "_exact", None)
    circle, slot = Outline.circle(3, 9 + 4 + gap + 6, 12), Outline.slot(3, 9, 30, 8)
    assert between(circle, slot) == between(slot, circle) == pytest.approx(gap)


def test_far_segments_are_not_measured(monkeypatch):
    """Two combs of 81 edges each, side by side, 5 apart: of 6500 pairs few can be the nearest."""
    asked = []
    monkeypatch.setattr(nearness, "closest", lambda a, b: asked.append(1) or closest(a, b))
    teeth = [(10 * k + x, y) for k in range(20) for x, y in ((0, 9), (5, 9), (5, 40), (10, 40))]
    comb = belt(corners([(0, 0), (200, 0), *reversed(teeth[:-1])]))
    assert between(comb, comb.turned(180).moved(405, 0)) == pytest.approx(5)
    assert len(asked) < 1000


def test_boxes_apart_and_overlapping():
    a = np.array([(0, 0, 2, 2), (10, 10, 11, 11)])
    b = np.array([(5, 6, 7, 8), (1, 1, 3, 3)])
    assert box_gaps(a, b) == pytest.approx(np.array([[5, 0], [hypot(3, 2), hypot(7, 7)]]))


def middles(count):
    """Middles and radii of circles on a grid with neighbours as far one way as the other."""
    points = np.array([(20.0 * (k % 7), 30.0 * (k // 7)) for k in range(count)])
    return points, np.array([(3.0, 5.0, 9.0)[k % 3] for k in range(count)])


@pytest.mark.parametrize("count", [1, 2, 3, 20])
def test_neighbours_are_all_within_reach_and_all_that_may_be_nearest(count):
    """The reach is that of each point; the nearest edge is of a wide circle before a near middle."""
    points, radius = middles(count)
    reach = np.array([20.0 + 15 * (k % 2) for k in range(count)])
    for k, (near, first) in enumerate(neighbours(points, reach, radius)):
        away = {j: hypot(*(points[j] - points[k])) for j in range(count) if j != k}
        assert near == [j for j, far in away.items() if far <= reach[k]]
        edges = {j: far - radius[j] for j, far in away.items()}
        assert first == [j for j, edge in edges.items() if edge == min(edges.values())]


def test_the_nearest_of_many_segments():
    """From points round the bowed plate; the nearest box is not always that of the nearest edge."""
    segments = [s for o in SHAPES for s in o.segments]
    boxes = np.array([s.box for s in segments])
    for k in range(80):
        point = (-60 + 4.7 * k, 130 - 3.1 * k)
        assert nearest(point, segments, boxes) == min(s.distance(point) for s in segments)


def test_the_nearest_pair_is_the_first_of_equals():
    """Of two squares side by side, corners and edges are as near; the order of the edges decides."""
    a, b = rectangle(10, 10, 0, (0, 0)), rectangle(10, 10, 0, (14, 0))
    for one, other in ((a, b), (b, a), (SHAPES[1], SHAPES[3]), (SHAPES[0], SHAPES[5])):
        gaps = box_gaps(np.array(one.boxes), np.array(other.boxes))
        every = [closest(s, t) for s in one.segments for t in other.segments]
        least = min(near[0] for near in every)
        first = next(near for near in every if near[0] == least)
        assert nearest_pair(one.segments, other.segments, gaps) == first
