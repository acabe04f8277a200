"""Instant centre, roll axis, anti-squat: the product's null space against plane projection.

Projection rules and the line of no squat and no rise, slope h / L: Gillespie, Fundamentals of Vehicle
Dynamics, ch. 7, and Milliken, Race Car Vehicle Dynamics, ch. 17 (both from memory). The numbers were
computed beforehand; no textbook prints them.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from linkage_makers import LOWER, UPPER, four_link, rods

from partgen.linkage.axle import PITCH, ROLL, Body, Rod, Spot, X, Z
from partgen.linkage.centres import centres
from partgen.linkage.solve import solve


def meeting(p, q, r, s):
    """Where the plane lines p-q and r-s meet."""
    p, q, r, s = (np.array(v, float) for v in (p, q, r, s))
    t = np.linalg.solve(np.column_stack([q - p, r - s]), r - p)[0]
    return p + t * (q - p)


def apex(axle, frame):
    """Where a left link and its mirror image meet in plan, in the middle of the vehicle."""
    t = axle[1] / (axle[1] - frame[1])
    return np.array(axle, float) + t * (np.array(frame, float) - np.array(axle))


def flat(point):
    return point[0], point[2]


def test_four_link_set_by_null_space_and_by_projection():
    found = centres(four_link(), np.zeros(6), ground=0.0, wheelbase=110, cg_height=32)
    assert found.instant_centre == pytest.approx((70.2941, 19.0294), abs=6e-5)
    assert found.instant_centre == pytest.approx(
        tuple(meeting(*(flat(p) for p in (*LOWER, *UPPER)))), abs=1e-9
    )
    assert 100 * found.anti_squat == pytest.approx(93.057, abs=6e-4)
    assert found.anti_squat * 32 == pytest.approx(29.778, abs=6e-4)
    assert found.roll_centre == pytest.approx(22.1284, abs=6e-5)
    assert found.roll_axis_slope == pytest.approx(-0.022769, abs=6e-7)
    assert found.roll_axis_angle == pytest.approx(-1.3043, abs=6e-5)
    a, b = apex(*LOWER), apex(*UPPER)
    assert flat(a) == pytest.approx((82.5, 20.25))
    assert flat(b) == pytest.approx((-9, 22.3333), abs=6e-5)
    for point in (a, b):
        assert found.roll_centre + found.roll_axis_slope * point[0] == pytest.approx(point[2])


ENDS = st.tuples(st.floats(-3, 3), st.floats(12, 26), st.floats(10, 14))


@given(ENDS, st.floats(25, 40), st.floats(5, 11), st.floats(3, 8), st.floats(19, 24))
def test_symmetric_four_links_agree_with_projection(lower, run, inward, y, z):
    low = (lower, (lower[0] + run, lower[1] - inward, lower[2] + 3))
    up = ((-1.0, y, z), (run - 4.0, y + 10, z - 1.5))
    body = Body(np.array([0.0, 0, 18]), (*rods("l", *low), *rods("u", *up)), half_track=30.0)
    found = centres(body, np.zeros(6))
    assert found.instant_centre == pytest.approx(tuple(meeting(*(flat(p) for p in (*low, *up)))))
    a, b = apex(*low), apex(*up)
    slope = (b[2] - a[2]) / (b[0] - a[0])
    assert found.roll_axis_slope == pytest.approx(slope, rel=1e-6, abs=1e-9)
    assert found.roll_centre == pytest.approx(a[2] - slope * a[0])


def test_centres_agree_with_small_finite_moves():
    """Third way: the solved axle itself, moved a little up and down."""
    body, step = four_link(), 1e-3
    up, down = (solve(body, {Z: s, ROLL: 0.0}).q for s in (step, -step))
    rate = (up - down) / (2 * step)
    found = centres(body, np.zeros(6))
    assert found.heave_slope == pytest.approx(rate[X], abs=1e-7)
    assert found.instant_centre == pytest.approx(
        (1 / rate[PITCH], 18 - rate[X] / rate[PITCH]), rel=1e-5
    )


def test_track_bar_sets_the_roll_centre_where_it_crosses_the_middle():
    """Rule of the track bar, off level: its line crosses y = 0 at 15.2 (from (20, 16) to (-5, 15))."""
    lower = rods("lower", (0, 20, 12), (30, 20, 13))
    upper = rods("upper", (0, 0, 22), (24, 0, 21), (1,))
    bar = Rod("bar", Spot(np.array([0.0, 20, 16]), False), Spot(np.array([0.0, -5, 15]), True))
    found = centres(
        Body(np.array([0.0, 0, 18]), (*lower, *upper, bar), half_track=30.0), np.zeros(6)
    )
    assert found.roll_centre == pytest.approx(15.2)


def test_hundred_percent_anti_squat_on_the_line_of_slope_h_over_l():
    """Instant centre on the line from the contact patch with slope h / L: 100 %, wherever on it."""
    for d in (40.0, 75.0):
        e = d * 32 / 110
        low = ((0, 20, 10), (30, 16, 10 + (e - 10) * 30 / d))
        up = ((0, 6, 22), (25, 14, 22 + (e - 22) * 25 / d))
        body = Body(np.array([0.0, 0, 18]), (*rods("l", *low), *rods("u", *up)), half_track=30.0)
        found = centres(body, np.zeros(6), 0.0, 110, 32)
        assert found.instant_centre == pytest.approx((d, e))
        assert found.anti_squat == pytest.approx(1.0)


def test_parallel_links_have_no_instant_centre():
    links = (*rods("l", (0, 22, 12), (30, 14, 15)), *rods("u", (-1, 4, 22), (29, 16, 25)))
    found = centres(Body(np.array([0.0, 0, 18]), links, half_track=30.0), np.zeros(6), 0.0, 110, 32)
    assert found.instant_centre is None
    assert found.anti_squat is None
    assert found.heave_slope == pytest.approx(-0.1)  # square to links that rise 3 in 30 forward
