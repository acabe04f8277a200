"""Cutting order: what lies inside a loop goes first (common in every cutting text)."""

import itertools
from math import dist

from hypothesis import given
from hypothesis import strategies as st

from partgen.cut.order import short_ways
from partgen.geometry.belt import rectangle
from partgen.geometry.containment import deepest_first, holders
from partgen.geometry.outline import Outline

FRAME = rectangle(200, 160, 5, (100, 80))
WINDOW = rectangle(120, 100, 5, (90, 80))
SMALL = rectangle(60, 50, 4, (80, 85))
HOLE = Outline.circle(75, 90, 12)
BOLT = Outline.circle(180, 140, 17)
OTHER = rectangle(40, 40, 0, (260, 30))
LOOPS = [FRAME, OTHER, WINDOW, BOLT, SMALL, HOLE]


def test_who_lies_in_whom():
    assert holders(LOOPS) == [[], [], [0], [0], [2, 0], [4, 2, 0]]


def test_deepest_first_and_else_as_they_stand():
    assert deepest_first(LOOPS) == [5, 4, 2, 3, 0, 1]
    assert deepest_first([]) == []


def test_a_small_plate_in_a_window_goes_whole_before_the_window():
    order = short_ways(LOOPS, lambda k: LOOPS[k].segments[0].start)
    at = {k: order.index(k) for k in range(len(LOOPS))}
    assert at[5] < at[4] < at[2] < at[0]
    assert at[3] < at[0]
    assert sorted(order) == list(range(6))


@given(st.permutations(LOOPS))
def test_whatever_the_order_asked_contained_loops_come_first(loops):
    order = short_ways(loops, lambda k: loops[k].segments[0].start)
    views = [o.polygon("outside").buffer(0.5) for o in loops]
    for place, k in enumerate(order):
        for later in order[place + 1 :]:
            assert not views[k].contains(views[later])


def test_neighbours_are_cut_one_after_the_other():
    row = [Outline.circle(x, 0, 10) for x in (300, 20, 100, 180, 60, 260, 140, 220)]
    order = short_ways(row, lambda k: row[k].segments[0].start)
    xs = [row[k].centroid[0] for k in order]
    assert xs == sorted(xs)
    assert sum(dist(row[a].centroid, row[b].centroid) for a, b in itertools.pairwise(order)) < 281
