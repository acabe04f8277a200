"""Where the axle goes: the computed four-link set, known mechanisms, lengths, mirror symmetry.

The four-link set of 11 numbers was worked out beforehand by two methods (plane projection, and the
null space of the four constraints, then exact lengths over finite travel); no textbook prints one.
"""

from math import asin, cos, degrees, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from linkage_makers import LOWER, UPPER, entry, four_link, link, rods, worked

from partgen.errors import GeometryError
from partgen.linkage.axle import PITCH, ROLL, YAW, Body, Lever, Rod, Spot, X, Y, Z, rotation
from partgen.linkage.misalignment import misalignment
from partgen.linkage.solve import solve

BUGGY = {
    "wheel": (0, 30, 18),
    "bump": 4,
    "droop": 4,
    "link": [link("lower", *LOWER), link("upper", *UPPER)],
}


@pytest.mark.parametrize(
    ("heave", "shift", "nose_down"),
    [(2, 0.0490, 1.7393), (4, 0.2561, 3.7148), (-2, 0.1075, -1.5281), (-4, 0.3728, -2.8630)],
)
def test_four_link_set_over_finite_travel(heave, shift, nose_down):
    q = solve(four_link(), {Z: heave, ROLL: 0.0}).q
    assert q[X] == pytest.approx(shift, abs=6e-5)
    assert degrees(q[PITCH]) == pytest.approx(nose_down, abs=6e-5)
    assert q[[Y, YAW]] == pytest.approx([0, 0], abs=1e-12)


@given(st.floats(-4, 4), st.floats(-0.12, 0.12))
def test_every_link_keeps_its_length(heave, roll):
    """Lengths recomputed from the placed points, with nothing of the solver's own residual."""
    body = four_link()
    q = solve(body, {Z: heave, ROLL: roll}).q
    turn = rotation(q)
    for rod in body.rods:
        moved = body.centre + q[:3] + turn @ (rod.axle.point - body.centre)
        assert abs(np.linalg.norm(moved - rod.frame.point) / rod.length - 1) < 1e-9


@given(st.floats(-4, 4), st.floats(0.01, 0.12))
def test_mirror_symmetry(heave, roll):
    left = solve(four_link(), {Z: heave, ROLL: roll}).q
    right = solve(four_link(), {Z: heave, ROLL: -roll}).q
    assert right == pytest.approx(left * [1, -1, 1, -1, 1, -1], abs=1e-8)


def test_rotation_is_yaw_then_pitch_then_roll_right_handed():
    """ISO 8855: nose (+x) goes down with positive pitch, left (+y) goes up with positive roll."""
    q = np.zeros(6)
    q[[YAW, PITCH, ROLL]] = 0.3, 0.2, 0.1
    nose, left = rotation(q) @ [1, 0, 0], rotation(q) @ [0, 1, 0]
    assert nose == pytest.approx([cos(0.2) * cos(0.3), cos(0.2) * sin(0.3), -sin(0.2)])
    assert left[2] == pytest.approx(cos(0.2) * sin(0.1))


def parallel_links(length=500.0):
    """Two pairs of equal, parallel links, a lateral bar: level at ride."""
    lower = rods("lower", (0, 400, 300), (length, 400, 300))
    upper = rods("upper", (0, 300, 450), (length, 300, 450))
    bar = Rod("bar", Spot(np.array([0, 450.0, 350]), False), Spot(np.array([0, -450.0, 350]), True))
    return Body(np.array([0.0, 0, 350]), (*lower, *upper, bar), half_track=600.0)


@pytest.mark.parametrize("heave", [-120, -40, 60, 130])
def test_equal_parallel_links_keep_the_pinion_and_move_on_a_circle(heave):
    """Parallelogram: no pitch; every point of the axle on an arc of the links' length."""
    found = solve(parallel_links(), {Z: heave, ROLL: 0.0}).q
    assert degrees(found[PITCH]) == pytest.approx(0, abs=1e-7)
    # the lateral bar swings the axle sideways by its own arc; links then lean in plan
    aside = found[Y]
    assert found[X] ** 2 + (900 - aside) ** 2 + heave**2 == pytest.approx(900**2, rel=1e-9)
    assert (500 - found[X]) ** 2 + heave**2 + aside**2 == pytest.approx(500**2, rel=1e-9)


def test_one_link_articulating():
    """One link, axle moved in x to keep its length, bolts lateral (worked by hand beforehand).

    Frame end (0, 15, 1), axle centre (36, 0, 0), axle end (0, 24, -2) from it; roll 15 and 20 deg.
    """
    frame, centre = np.array([0.0, 15, 1]), np.array([36.0, 0, 0])
    rod = Rod("one", Spot(frame, False), Spot(np.array([36.0, 24, -2]), True))
    body = Body(centre, (rod,), half_track=24.0)
    bolt = np.array([0.0, 1, 0])
    expected = {
        0: (-4.76, 13.99, 13.99), 15: (5.20, 13.51, 14.39), -15: (-14.54, 11.88, 15.21),
        20: (8.44, 12.78, 14.88), -20: (-17.64, 10.63, 15.98),
    }  # fmt: skip
    for roll, (swing, at_frame, at_axle) in expected.items():
        q = solve(body, {Z: 0.0, ROLL: radians(roll)}, held=(Y, YAW, PITCH)).q
        end, _ = body.place(rod.axle, q)
        way = (end - frame) / np.linalg.norm(end - frame)
        # swing: in the plane of the ears, against the horizontal
        assert degrees(np.arctan2(way[2], way[0])) == pytest.approx(swing, abs=0.01)
        assert misalignment(way, bolt) == pytest.approx(at_frame, abs=0.01)
        assert misalignment(way, rotation(q) @ bolt) == pytest.approx(at_axle, abs=0.01)


def test_side_angle_of_a_single_link_at_ride_bump_and_droop():
    """36 in link, axle 3 in below the frame at ride, +6 / -8 in: -4.780, +4.780, -17.792 deg."""
    run = sqrt(36**2 - 3**2)
    level = link("lower", (0, 20, 9), (run, 20, 12))
    above = link("upper", (0, 20, 19), (run, 20, 22))
    bar = link("bar", (0, -5000, 14), (0, 5000, 14), pair=False)  # long: hardly any sideways arc
    found = worked(wheel=(0, 30, 14), bump=6, droop=8, roll=0.5, link=[level, above, bar])
    angles = {s.case.name: s.link("lower/left").side_angle for s in found.named}
    assert angles["ride"] == pytest.approx(-4.780, abs=5e-4)
    assert angles["full bump"] == pytest.approx(4.780, abs=5e-4)
    assert angles["full droop"] == pytest.approx(-17.792, abs=5e-4)


def lateral_linkage(arm=60.0, bar=420.0):
    """A lever on the axle's middle, two equal bars from its ends to both sides of the frame."""
    lever = Lever("middle", np.array([0.0, 0, 350]), np.array([1.0, 0, 0]), True)
    up = Rod(
        "bar-l",
        Spot(np.array([0, bar, 350 + arm]), False),
        Spot(np.array([0, 0, 350 + arm]), True, 0),
    )
    down = Rod(
        "bar-r",
        Spot(np.array([0, -bar, 350 - arm]), False),
        Spot(np.array([0, 0, 350 - arm]), True, 0),
    )
    links = (
        *rods("lower", (0, 400, 300), (600, 400, 300)),
        *rods("upper", (0, 400, 450), (600, 400, 450)),
    )
    return Body(np.array([0.0, 0, 350]), (*links, up, down), levers=(lever,), half_track=600.0)


@pytest.mark.parametrize("heave", [-90, -30, 45, 90])
def test_lateral_linkage_keeps_the_middle_of_its_lever_nearly_straight(heave):
    """Straight-line linkage: coupler angle from its own two closure equations, solved by bisection."""
    found = solve(lateral_linkage(), {Z: heave, ROLL: 0.0})
    assert found.relative < 1e-9
    lever = found.q[6]

    def aside(angle, sign):
        # lever end at sign * 60 along the turned lever, bar 420 long to its anchor
        dy, dz = -sin(angle) * 60 * sign, cos(angle) * 60 * sign
        away = heave + dz - 60 * sign
        return sign * 420 - dy - sign * sqrt(420**2 - away**2 - found.q[X] ** 2)

    low, high = -0.6, 0.6
    for _ in range(80):
        middle = (low + high) / 2
        gap = aside(middle, 1) - aside(middle, -1)
        low, high = (low, middle) if gap > 0 else (middle, high)
    assert lever == pytest.approx(low, abs=1e-9)
    assert found.q[Y] == pytest.approx(aside(low, 1), abs=1e-7)
    assert abs(found.q[Y]) < 0.5  # a plain bar of 420 mm would go 9.8 mm aside at 90 mm


def test_links_out_of_reach_say_so():
    with pytest.raises(GeometryError, match="run out of reach"):
        solve(four_link(), {Z: 60.0, ROLL: 0.0})


def test_study_names_cases_and_covers_every_pairing_of_wheels():
    found = worked(**BUGGY)
    names = [s.case.name for s in found.named]
    assert names == ["ride", "full bump", "full droop", "twist, left up", "twist, right up"]
    assert found.relative < 1e-9
    assert degrees(asin(8 / 60)) == pytest.approx(found.named[3].roll, abs=1e-9)
    assert found.named[1].pinion == pytest.approx(-3.7148, abs=6e-5)
    assert {(s.case.left, s.case.right) for s in found.states} >= {
        (4, 4),
        (-4, 4),
        (4, -4),
        (-4, -4),
    }


def test_twist_is_about_the_middle_of_the_two_stops():
    found = worked(**{**BUGGY, "droop": 2})
    for state in found.named[3:]:
        assert state.shift[2] == pytest.approx(1)
        assert abs(state.roll) == pytest.approx(degrees(asin(6 / 60)))


def test_roll_asked_for_limits_the_twist():
    found = worked(**BUGGY, roll=5)
    assert found.named[3].roll == pytest.approx(5)
    assert max(abs(s.roll) for s in found.states) == pytest.approx(5, abs=1e-9)
    with pytest.raises(GeometryError, match="beyond bump"):
        worked(**BUGGY, roll=9)


def trailing_arm(**more):
    arm = link("arm", (0, 28, 14), (20, 24, 16), fixed=True)
    return {
        "axle": "independent",
        "wheel": (0, 36, 14),
        "bump": 4,
        "droop": 3,
        "link": [arm],
        **more,
    }


def test_trailing_arm_wheel_on_a_circle_about_its_bolt():
    found = worked(**trailing_arm())
    radius = sqrt(20**2 + 2**2)
    for state in found.named:
        x, y, z = state.shift
        assert (20 - x) ** 2 + (16 - 14 - z) ** 2 == pytest.approx(radius**2, rel=1e-9)
        assert (y, state.steer, state.roll) == pytest.approx((0, 0, 0), abs=1e-7)
        turn = asin((2 - z) / radius) - asin(2 / radius)
        assert state.pinion == pytest.approx(degrees(turn), abs=1e-6)
        assert state.link("arm/left").frame_misalignment == pytest.approx(0, abs=1e-5)


def test_arm_on_a_turned_bolt_steers_and_cambers():
    """A body turned about an axis at 20 deg in plan: toe and camber against the rotation itself."""
    arm = link("arm", (0, 28, 14), (20, 24, 14), fixed=True)
    arm["frame"]["turn"] = 20
    found = worked(**trailing_arm(link=[arm]))
    bump = found.named[1]
    axis = np.array([-sin(radians(20)), cos(radians(20)), 0])
    pivot, wheel = np.array([20.0, 24, 14]), np.array([0.0, 36, 14])

    def lifted(angle):
        c, s, arm_ = cos(angle), sin(angle), wheel - pivot
        turned = arm_ * c + np.cross(axis, arm_) * s + axis * (axis @ arm_) * (1 - c)
        return pivot + turned - wheel

    low, high = 0.0, 0.6
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if lifted(middle)[2] < 4 else (low, middle)
    assert bump.shift == pytest.approx(lifted(low), abs=1e-7)
    assert abs(bump.steer) > 0.3
    assert abs(bump.roll) > 1
    assert bump.links[0].frame_misalignment == pytest.approx(0, abs=1e-5)


def test_right_link_is_the_left_one_mirrored():
    found = worked(**BUGGY)
    left, right = (
        next(k for k in found.layout.links if k.label == f"upper/{s}") for s in ("left", "right")
    )
    assert right.frame.spot.point == pytest.approx(left.frame.spot.point * [1, -1, 1])
    assert right.length == left.length


def test_entry_rejects_what_cannot_be():
    for data, words in (
        ({"wheel": (0, -30, 18)}, "left one"),
        ({"link": [link("a", (0, 1, 0), (9, 1, 0)), link("a", (0, 1, 0), (9, 1, 0))]}, "2 times"),
        ({"axle": "independent"}, "fixed = true"),
    ):
        with pytest.raises(ValueError, match=words):
            entry(**{**BUGGY, **data})
