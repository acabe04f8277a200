"""Distances of many at once: equal to one by one, and to shapely on fine polygons."""

from math import hypot

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.nearness import between, box_gaps, point_distances
from partgen.geometry.outline import Outline, distance

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


def test_boxes_apart_and_overlapping():
    a = np.array([(0, 0, 2, 2), (10, 10, 11, 11)])
    b = np.array([(5, 6, 7, 8), (1, 1, 3, 3)])
    assert box_gaps(a, b) == pytest.approx(np.array([[5, 0], [hypot(3, 2), hypot(7, 7)]]))
