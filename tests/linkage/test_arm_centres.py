"""Centres of a wheel's own arm: the line of its bolts pierced by planes, finite moves, closed forms.

Source of the constructions: Gillespie, Fundamentals of Vehicle Dynamics, ch. 7, and Milliken, Race
Car Vehicle Dynamics, ch. 17 (both from memory); no textbook prints these numbers.
"""

from math import radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from linkage_makers import link, worked

from partgen.linkage.axle import ROLL, YAW, Spot, Z
from partgen.linkage.figures import figures
from partgen.linkage.solve import solve
from partgen.linkage.travel import Travel

WHEEL = (0, 750, 330)


def arm(pivot, turn=0.0, tilt=0.0, **more):
    data = link("arm", (0, 600, 300), pivot, fixed=True)
    data["frame"] |= {"turn": turn, "tilt": tilt}
    return worked(axle="independent", wheel=WHEEL, bump=10, droop=10, link=[data], **more)


@settings(max_examples=20, deadline=None)
@given(
    st.floats(350, 600), st.floats(300, 550), st.floats(300, 500), st.floats(5, 35),
    st.floats(-20, 20),
)  # fmt: skip
def test_three_ways_to_the_same_centres(x, y, z, turn, tilt):
    found = arm((x, y, z), turn, tilt, tyre_radius=330)
    centres, end = found.arm, found.layout.links[0].frame
    bolt, pivot = end.bolt, end.spot.point
    rear = (pivot - bolt * pivot[0] / bolt[0])[1:]  # where its line pierces x = 0
    side = (pivot + bolt * (750 - pivot[1]) / bolt[1])[[0, 2]]
    assert centres.rear == pytest.approx(tuple(rear), rel=1e-9)
    assert centres.side == pytest.approx(tuple(side), rel=1e-9)
    slope = rear[1] / (rear[0] - 750)  # from the tyre's contact at z = 0
    assert centres.roll_centre == pytest.approx(-750 * slope, rel=1e-9, abs=1e-9)

    body = Travel(found.layout).bodies[0]
    up, down = (solve(body, {Z: s}).q for s in (0.01, -0.01))
    ground = Spot(np.array([0.0, 750.0, 0.0]), True)
    way = body.place(ground, up)[0] - body.place(ground, down)[0]
    assert centres.roll_centre == pytest.approx(way[1] * 750 / way[2], abs=1e-4)
    rates = np.degrees(up - down) / 0.02
    assert centres.camber == pytest.approx(-rates[ROLL], abs=1e-8)
    assert centres.steer == pytest.approx(rates[YAW], abs=1e-8)


def test_straight_trailing_arm_rolls_about_the_ground():
    centres = arm((500, 500, 360), tyre_radius=330).arm
    assert centres.rear is None
    assert centres.roll_centre == pytest.approx(0, abs=1e-9)
    assert centres.side == pytest.approx((500, 360))
    assert (centres.camber, centres.steer) == pytest.approx((0, 0), abs=1e-12)


def test_arm_across_the_vehicle_turns_about_its_pivot():
    """Bolt fore and aft: from the contact (750, 0) through (200, 400) to the middle."""
    data = link("arm", (0, 600, 300), (0, 200, 400), fixed=True)
    data["frame"]["bolt_axis"] = "fore-aft"
    found = worked(axle="independent", wheel=WHEEL, bump=10, droop=10, link=[data], tyre_radius=330)
    assert found.arm.rear == pytest.approx((200, 400))
    assert found.arm.side is None
    assert found.arm.roll_centre == pytest.approx(400 * 750 / 550)
    assert found.arm.camber == pytest.approx(-np.degrees(1 / 550))  # up: its top leans in


def test_bolt_turned_in_plan():
    """Bolt line through (500, 500, 360), level, 20 deg off across: it meets x = 0 far inboard."""
    centres = arm((500, 500, 360), turn=20, tyre_radius=330).arm
    inboard = 500 + 500 / tan(radians(20))
    assert centres.rear == pytest.approx((inboard, 360))
    assert centres.roll_centre == pytest.approx(360 * 750 / (750 - inboard))


def test_figures_to_compare_hold_the_arms_centres():
    found = figures(arm((500, 500, 360), tyre_radius=330), "mm")
    assert found["instant centre x, z"] == "500, 360"
    assert float(found["roll centre z"]) == pytest.approx(0, abs=1e-9)


def test_anti_squat_with_the_drive_unit_on_the_frame():
    """100 % where (e - r) / d = h / L: instant centre 500 ahead and 500 * 640 / 2500 above the hub."""
    above = 500 * 640 / 2500
    told = {"tyre_radius": 330, "wheelbase": 2500, "cg_height": 640}
    assert arm((500, 500, 330 + above), **told).arm.anti_squat == pytest.approx(1)
    assert arm((500, 500, 330 + above / 2), **told).arm.anti_squat == pytest.approx(0.5)
    assert arm((500, 500, 400)).arm.anti_squat is None
    assert arm((500, 500, 400)).arm.roll_centre is None
