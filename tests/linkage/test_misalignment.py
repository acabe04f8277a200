"""Misalignment and its limits: worked sums, roots put back into their equations, brute force."""

from math import asin, cos, degrees, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from linkage_makers import LOWER, UPPER, entry, link, worked

from partgen.entries.joint import Joint
from partgen.linkage.misalignment import best_turn, housing_limit, link_limit, misalignment
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.study import study

X, Y, Z = np.eye(3)


def way(side, plan):
    """Unit vector at a side angle and a plan angle off fore and aft [degrees]."""
    s, p = radians(side), radians(plan)
    return np.array([cos(s) * cos(p), cos(s) * sin(p), sin(s)])


def test_plan_angle_of_20_degrees_on_a_lateral_bolt():
    """Worked beforehand: 36 in link, 3 in of drop at ride and 11 in at droop: 19.93 and 19.01 deg."""
    ride, droop = degrees(asin(-3 / 36)), degrees(asin(-11 / 36))
    assert misalignment(way(ride, 20), Y) == pytest.approx(19.93, abs=0.005)
    assert misalignment(way(droop, 20), Y) == pytest.approx(19.01, abs=0.005)
    square = np.array([-sin(radians(20)), cos(radians(20)), 0])
    assert misalignment(way(ride, 20), square) == pytest.approx(0, abs=1e-9)


def test_ear_limits_worked_beforehand():
    assert link_limit(1.3125, 1.0, 1.25) == pytest.approx(12.91, abs=0.005)
    assert housing_limit(1.3125, 1.125, 1.0) == pytest.approx(12.32, abs=0.005)


@given(st.floats(10, 60), st.floats(0.05, 0.95), st.floats(5, 60))
def test_link_limit_is_the_root_of_its_equation(gap, share, ear):
    h, beta = share * gap, radians(link_limit(gap, share * gap, ear))
    assert h / cos(beta) + ear * tan(beta) == pytest.approx(gap)
    assert beta > 0


@given(st.floats(10, 60), st.floats(0.05, 0.99), st.floats(5, 60))
def test_housing_limit_is_the_smaller_root(gap, share, radius):
    limit = housing_limit(gap, share * gap, radius)
    if limit == 90:
        assert (share * gap) ** 2 + radius**2 <= gap**2 + 1e-6
        return

    def at(b):
        return share * gap * cos(b) + radius * sin(b)

    assert at(radians(limit)) == pytest.approx(gap)
    assert all(at(radians(limit) * k / 50) <= gap + 1e-9 for k in range(50))


def test_link_as_wide_as_the_gap_may_not_lean():
    assert link_limit(20, 20, 25) == 0
    assert housing_limit(20, 20.5, 25) == 0


@given(
    st.lists(st.tuples(st.floats(-25, 25), st.floats(-30, 30)), min_size=1, max_size=8),
    st.floats(-20, 20),
)
def test_best_turn_beats_every_other_turn(angles, tilt):
    """Against 1801 turns tried one by one."""
    ways = np.array([way(*a) for a in angles])
    bolt = np.array([0, cos(radians(tilt)), sin(radians(tilt))])
    found = best_turn([(ways, bolt)], Z)

    def left(turn):
        t = radians(turn)
        turned = np.array([-sin(t) * bolt[1], cos(t) * bolt[1], bolt[2]])
        return max(misalignment(w, turned) for w in ways)

    assert left(found.angle) == pytest.approx(found.left, abs=1e-6)
    assert found.left <= min(left(t) for t in np.linspace(-45, 45, 361)) + 1e-6


def test_one_turn_for_both_ends_evens_them():
    """Ends at 6 and 10 degrees in plan, one case each: 8 degrees turns both to 2."""
    ends = [(way(0, 6)[None, :], Y), (way(0, 10)[None, :], Y)]
    found = best_turn(ends, Z)
    assert (found.angle, found.left) == pytest.approx((8, 2))


def test_tilt_is_about_the_vehicles_x_left_end_up():
    """A lateral link that rises 12 degrees to the left, on an upright bolt: tilted square to it."""
    rises = np.array([0, cos(radians(12)), sin(radians(12))])
    found = best_turn([(rises[None, :], Z)], X)
    assert (found.angle, found.left) == pytest.approx((12, 0), abs=1e-6)


def test_study_finds_the_worst_case_over_every_pairing_of_wheels():
    data = {"wheel": (0, 30, 18), "bump": 4, "droop": 4,
            "link": [link("lower", *LOWER), link("upper", *UPPER)]}  # fmt: skip
    found = worked(**data)
    for end in found.ends:
        seen = []
        for state in found.states:
            k = state.link(end.link.label)
            turn = rotation_of(state) if end.which == "axle" else np.eye(3)
            seen.append(misalignment(k.way, turn @ Y))
        assert end.worst == pytest.approx(max(seen))
        assert end.turn.left < end.worst


def rotation_of(state):
    from partgen.linkage.axle import rotation as turn

    return turn(state.motions[0])


def ended(**frame):
    """The set with a joint at the upper links' frame ends; returns the left one's study."""
    upper = link("upper", *UPPER)
    upper["frame"] |= {"joint": "ball", **frame}
    upper["tube"] = 1.75
    data = {"wheel": (0, 30, 18), "bump": 4, "droop": 4, "link": [link("lower", *LOWER), upper]}
    ball = Joint(width=2.5, body_diameter=1.6, housing_width=1, bolt="M16", max_misalignment=30)
    around = Surroundings({}, {}, {"ball": ball})
    found = study(entry(**data), around)
    return next(e for e in found.ends if e.link.label == "upper/left" and e.which == "frame")


def test_limits_use_the_tube_or_the_shank_where_it_passes_the_ear():
    bare = ended(gap=2.6, ear_radius=1.25)
    assert bare.limits.link == pytest.approx(link_limit(1.3, 0.875, 1.25))
    slim = ended(gap=2.6, ear_radius=1.25, shank=4, engaged=1.5, shank_diameter=0.75)
    assert slim.limits.link == pytest.approx(link_limit(1.3, 0.375, 1.25))
    short = ended(gap=2.6, ear_radius=1.25, shank=2.2, engaged=1.5, shank_diameter=0.75)
    assert short.limits.link == pytest.approx(link_limit(1.3, 0.875, 1.25))
    assert bare.limits.joint == 30
    assert bare.limits.housing == pytest.approx(housing_limit(1.3, 0.5, 0.8))


def test_the_limit_that_leaves_the_least_counts():
    found = ended(gap=2.6, ear_radius=1.25)
    assert found.tightest.what == "link on ear"
    wide = ended(gap=9, ear_radius=1.25)
    assert wide.tightest.what == "joint"
    assert ended().limits.link is None
