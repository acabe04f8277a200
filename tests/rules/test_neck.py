"""Neck: the narrowest place of a plate, on shapes whose width is known by hand."""

from itertools import combinations

import pytest
import shapely
from helpers import plate, shop

from partgen.geometry.belt import Pin, belt, corners
from partgen.geometry.outline import Outline
from partgen.geometry.segment import closest
from partgen.rules import neck
from partgen.rules.finding import Status


def dumb_bell(width):
    """Two blocks joined by a strip, off the middle."""
    low, high = 23.0, 23.0 + width
    return [(0, 0), (60, 0), (60, low), (110, low), (110, -7), (190, 0), (185, 70), (110, 80),
            (110, high), (60, high), (60, 66), (0, 60)]  # fmt: skip


@pytest.mark.parametrize(("width", "status"), [(9.0, Status.PASS), (8.99, Status.FAIL)])
def test_strip_between_two_blocks(width, status):
    (finding,) = neck.check(plate(dumb_bell(width)), shop())
    assert finding.measured == pytest.approx(width)
    assert finding.status is status


def test_between_two_notches_of_different_radius():
    """Arcs of radius 20 and 12, centres 47 mm apart: 15 mm of metal."""
    outline = belt(
        [*corners([(0, 0), (40, 0)]), Pin(70, 0, -20), *corners([(100, 0), (150, 0), (150, 47), (95, 47)]),
         Pin(70, 47, -12), *corners([(45, 47), (0, 47)])]
    )  # fmt: skip
    width, p, q = neck.neck(outline)
    assert width == pytest.approx(47 - 20 - 12, abs=1e-9)
    assert sorted([p[1], q[1]]) == pytest.approx([20, 35])


def test_notch_corner_to_the_far_edge():
    """A sharp notch points at the far edge: the neck runs from its tip, square to that edge."""
    outline = belt(corners([(0, 0), (80, 0), (95, 31), (105, 0), (200, 0), (200, 40), (0, 40)]))
    assert neck.neck(outline)[0] == pytest.approx(9)


def test_tapering_plate_has_no_neck_but_at_its_parallel_sides():
    wedge = belt(corners([(0, 0), (200, 0), (200, 5), (0, 90)]))
    assert neck.neck(wedge) is None


def test_circle_has_no_neck():
    assert neck.neck(Outline.circle(3, 4, 50)) is None


def test_a_gap_outside_the_metal_is_no_neck():
    """A fork: 4 mm between its prongs is air; the prongs are 20 and 26 mm wide."""
    fork = belt(
        corners([(0, 0), (100, 0), (100, 20), (30, 20), (30, 24), (100, 24), (100, 50), (0, 50)])
    )
    assert neck.neck(fork)[0] == pytest.approx(20)


def test_oblong_is_as_wide_as_its_short_side():
    assert neck.neck(belt(corners([(0, 0), (90, 0), (90, 35), (0, 35)], 5)))[0] == pytest.approx(35)


def brute_force(outline):
    """Every pair of segments, one by one, as the rule's words say."""
    inside = outline.polygon("outside").buffer(0.02)
    found = []
    for a, b in combinations(outline.segments, 2):
        width, p, q = closest(a, b)
        away = width > 1e-6 and neck._leads_away(outline, p, q) and neck._leads_away(outline, q, p)
        if away and inside.covers(shapely.LineString([p, q])):
            found.append(width)
    return min(found, default=None)


SLANTED = [(0, 0), (40, 0), (40, 40), (130, 130), (150, 130), (150, 143), (190, 143), (190, 200),
           (150, 200), (150, 158), (115, 158), (5, 48), (0, 48)]  # fmt: skip


@pytest.mark.parametrize("blend", [0, 2])
@pytest.mark.parametrize("turn", [0, 17, 45, 101])
def test_the_nearest_boxes_are_not_always_the_narrowest_place(blend, turn):
    """A slanted band's boxes overlap, though a level strip beside it is narrower."""
    outline = belt(corners(SLANTED, blend)).turned(turn)
    assert neck.neck(outline)[0] == pytest.approx(brute_force(outline), abs=1e-9)
