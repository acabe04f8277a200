"""Developed lengths against printed worked examples.

FAA, Aviation Maintenance Technician Handbook - Airframe, sheet metal layout: U-channel, .040 in
stock, radius .16 in, mold lines 1.00 / 2.00 / 1.00 in, 90 degrees: setback .20, flats .8 / 1.6 / .8.
Groover, Fundamentals of Modern Manufacturing, Example 20.2, from memory: t 3.2 mm, R 4.75 mm,
60 degrees, flats 38 and 25 mm: allowance 6.08, blank 69.08 mm.
"""

from math import radians

import pytest
from helpers import shop

from partgen.families.skid_plate import SkidPlate
from partgen.fields import Reading
from partgen.geometry.bending import allowance, k_factor, setback


def skid(unit="mm", **data):
    named = {"name": "s", "family": "skid-plate", "plate": "6 mm S355", "width": 200} | data
    return SkidPlate.model_validate(named, context=Reading(unit))


def test_faa_u_channel_setback_and_flats():
    channel = skid(
        "in", plate=".040 in S355", radius=".16 in", measured="outside",
        flats=["1.00 in", "2.00 in", "1.00 in"], angles=[90, 90], width="3 in", corner=0,
    )  # fmt: skip
    assert setback(90, 0.16, 0.04) == pytest.approx(0.20)
    assert [f / 25.4 for f in channel.straights()] == pytest.approx([0.8, 1.6, 0.8])
    assert [a / 25.4 for a in channel.allowances()] == pytest.approx([0.2827] * 2, abs=5e-5)
    assert channel.starts()[-1] / 25.4 == pytest.approx(3.765, abs=5e-4)


def test_empirical_aircraft_form():
    """BA = (.01743 R + .0078 T) N, so K = .0078 / .01743; the constants are rounded as printed."""
    k = 0.0078 / 0.01743
    assert k == pytest.approx(0.4475, abs=5e-5)
    assert allowance(90, 0.16, 0.04, k) == pytest.approx(0.2791, rel=1.5e-3)


def test_groover_example_20_2():
    part = skid(plate="3.2 mm S355", radius=4.75, flats=[38, 25], angles=[60], width=44.5, corner=0)
    assert part.allowances()[0] == pytest.approx(6.08, abs=5e-3)
    assert part.starts()[-1] == pytest.approx(69.08, abs=5e-3)
    (plate,) = part.plates(shop())
    assert plate.outline.box == pytest.approx((0, -22.25, 69.08, 22.25), abs=5e-3)


@pytest.mark.parametrize(("factor", "k"), [(0.55, 0.350), (0.64, 0.407), (0.71, 0.452)])
def test_machinerys_handbook_right_angles(factor, k):
    """L = factor T + 1.57 R for 90 degrees; from memory."""
    assert allowance(90, 5, 3, k) == pytest.approx(factor * 3 + 1.57 * 5, abs=0.01)


def test_k_by_groover():
    assert (k_factor(5.9, 3), k_factor(6, 3)) == (0.33, 0.50)


def test_n21_ninety_degrees_one_thickness():
    """Hand sum: R = T = 6, K = .33: BA = 1.5708 x 7.98."""
    part = skid(radius=6, k_factor=0.33, flats=[100, 50], angles=[90])
    assert part.starts()[-1] == pytest.approx(150 + radians(90) * (6 + 0.33 * 6))
