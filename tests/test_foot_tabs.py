"""Tabs under an ear: by hand, by play, and every wrong way over the whole range of sizes."""

import pytest
import shapely
from helpers import sound_or_named
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from partgen.errors import GeometryError
from partgen.geometry.belt import rectangle
from partgen.geometry.foot_tabs import INNER, OUTER, FootTabs, foot_of, need_one_way, with_tabs
from partgen.geometry.tab_slot import enters, moved


def tabs(places, foot, plate=6.0, tolerance=0.5, radius=2.0):
    return FootTabs.of(
        places, foot, plate, thickest=plate + 0.25, tolerance=tolerance, radius=radius
    )


def sections(pair, thin=0.0):
    """What of the tabs lies in the slots' plate, ``thin`` less than the thickest plate."""
    boxes = [b for tab in pair.both for b in tab.sections()]
    return [affinity.scale(b, 1.0, 1 - thin / (b.bounds[3] - b.bounds[1])) for b in boxes]


def turned(shapes):
    return [affinity.scale(s, -1.0, 1.0, origin=(0.0, 0.0)) for s in shapes]


def test_sizes_by_hand():
    """Foot 116, plate 6: long min(24, 23.2), short min(12, 11.6); inner at -25.52 and 23.2."""
    pair = tabs(INNER, 116.0)
    assert [t.tab for t in pair.both] == pytest.approx([23.2, 11.6])
    assert [t.middles[0] for t in pair.both] == pytest.approx([-25.52, 23.2])
    long, short = (o.box for o in pair.slots())
    assert (long[2] - long[0], long[3] - long[1]) == pytest.approx((23.2 + 1 + 4, 7.25))
    assert (short[2] - short[0], short[3] - short[1]) == pytest.approx((11.6 + 1 + 4, 7.25))


def test_tabs_stand_out_of_the_foot_with_a_relief_beside_each():
    plain = rectangle(116.0, 80.0, 0.0, (4.0, 40.0))
    made = with_tabs(plain, tabs(OUTER, 116.0), 8.0, 1.5)
    assert made.box == pytest.approx((-54, -8, 62, 80))
    notch = 3 * 1.5 + 3.141592653589793 * 1.5**2 / 2
    assert made.area - plain.area == pytest.approx(8 * (23.2 + 11.6) - 4 * notch)
    at = 4 - 0.26 * 116
    assert made.distance((at - 11.6, -4)) < 1e-9
    assert made.distance((at + 11.6, -4)) < 1e-9


def test_no_straight_foot_is_said():
    with pytest.raises(GeometryError, match="no straight foot"):
        foot_of(rectangle(20.0, 10.0, 1.0, (0.0, 20.0)))


@settings(max_examples=60, deadline=None)
@given(
    foot=st.floats(30, 400), plate=st.floats(2, 16), tolerance=st.floats(0.05, 2),
    radius=st.floats(0.2, 5), relief=st.floats(0.3, 4), along=st.floats(-1, 1),
    across=st.floats(-1, 1),
)  # fmt: skip
def test_any_foot_goes_in_one_way_only_or_is_refused(
    foot, plate, tolerance, radius, relief, along, across
):
    both = [tabs(places, foot, plate, tolerance, radius) for places in (INNER, OUTER)]
    webs = plate, plate
    if sound_or_named(lambda: [need_one_way(foot, p, relief, webs) for p in both]) is None:
        return
    for pair, other in (both, both[::-1]):
        play = moved(sections(pair), along * tolerance, across * tolerance)
        assert enters(play, pair.slots())
        thin = [sections(p, plate * 0.1) for p in (pair, other)]
        for wrong in (turned(thin[0]), thin[1], turned(thin[1])):
            for push in _pushes(wrong, pair.slots()):
                assert not enters(moved(wrong, push), pair.slots())


def _pushes(shapes, slots):
    """Pushes that bring some tab's end to some slot's end or its middle to the slot's middle."""
    for shape in shapes:
        x0, _, x1, _ = shape.bounds
        for slot in slots:
            a, _, b, _ = slot.box
            yield from (a - x0, b - x1, (a + b) / 2 - (x0 + x1) / 2, a - x1, b - x0)


def test_what_a_short_foot_or_thin_plate_needs_is_said():
    """Tabs differ by a tenth of the foot; play 2 (0.5 + 2) + 1 = 6 mm: 60 mm. Thin: 8 and 4 mm."""
    with pytest.raises(GeometryError, match=r"48 mm long, is too short .* it takes 60 mm"):
        need_one_way(48.0, tabs(INNER, 48.0, radius=2), 0.2, (1.0, 1.0))
    with pytest.raises(GeometryError, match=r"tabs of 8 and 4 mm.*differ by 6 mm"):
        need_one_way(200.0, tabs(INNER, 200.0, 2.0), 1.5, (4.0, 4.0))


def test_slots_are_apart_and_inside_the_foots_length():
    slots = [shapely.box(*o.box) for o in tabs(OUTER, 116.0).slots()]
    assert slots[0].distance(slots[1]) > 6
    assert max(abs(v) for s in slots for v in (s.bounds[0], s.bounds[2])) < 58
