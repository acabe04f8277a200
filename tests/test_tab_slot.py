"""Tabs and slots: sizes by the rule, play by moving sections, wrong ways by shapely overlap."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry.tab_slot import (
    INNER,
    OUTER,
    TabSlot,
    end_for_end,
    enters,
    least_spread,
    moved,
    wrong_ways,
)

LENGTH = 120.0


def pair(length=LENGTH, tab=16.0, thickness=6.25, tolerance=0.76, radius=2.0):
    return [
        TabSlot(tuple(p * length for p in parts), tab, thickness, tolerance, radius)
        for parts in (INNER, OUTER)
    ]


def test_slot_size():
    """Measured 0.25 + 0.01 in, cut tolerance 0.03 in, tab 1.5 in: slot 0.320 x 1.560 in."""
    slot = TabSlot((0.0,), 1.5 * 25.4, 0.26 * 25.4, 0.03 * 25.4, 0.0)
    x0, y0, x1, y1 = slot.slots()[0].box
    assert ((x1 - x0) / 25.4, (y1 - y0) / 25.4) == pytest.approx((1.560, 0.320))


def test_rounded_corners_lie_beyond_the_clear_length():
    slot = pair()[0].slots()[0]
    x0, _, x1, _ = slot.box
    assert x1 - x0 == pytest.approx(16 + 2 * 0.76 + 2 * 2)
    assert slot.area == pytest.approx((x1 - x0) * 7.77 - (4 - 3.141592653589793) * 4)


@given(along=st.floats(-0.76, 0.76), across=st.floats(-0.76, 0.76), length=st.floats(80, 400))
def test_shifted_by_the_play_nothing_interpenetrates(along, across, length):
    for side in pair(length):
        assert enters(moved(side.sections(), along, across), side.slots())


@pytest.mark.parametrize(("along", "across"), [(0.80, 0), (-0.80, 0), (0, 0.80), (0, -0.80)])
def test_shifted_beyond_the_play_it_does(along, across):
    side = pair(radius=0.0)[0]
    assert not enters(moved(side.sections(), along, across), side.slots())


@pytest.mark.parametrize("way", ["over along its length", "over across", "end for end"])
@given(push=st.floats(-200, 200), across=st.floats(-0.76, 0.76))
def test_no_wrong_way_goes_in_wherever_it_is_pushed(way, push, across):
    inner, outer = pair()
    at_inner, at_outer = wrong_ways(inner.sections(), outer.sections())[way]
    goes = enters(moved(at_inner, push, across), inner.slots()) and enters(
        moved(at_outer, push, across), outer.slots()
    )
    assert not goes


def test_mirrored_insertion_collides():
    inner, outer = pair()
    assert not enters(end_for_end(inner.sections()), inner.slots())
    assert not enters(end_for_end(outer.sections()), outer.slots())
    assert not enters(outer.sections(), inner.slots())


def test_spread_of_the_weakest_wrong_way():
    """By hand: end for end, one side meets its slots, the other misses by 0.16 of the length."""
    inner, outer = pair()
    assert least_spread(inner.middles, outer.middles) == pytest.approx(0.16 * LENGTH)
    assert least_spread((-1.0, 1.0), (-1.0, 1.0)) == 0
