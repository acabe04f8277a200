"""EN 1993-1-8 clause 3.13, Tables 3.9 and 3.10: a published example of a 16 mm pin in S235."""

from math import sqrt

import pytest

from partgen.strength import en_pin
from partgen.strength.en_pin import Pin

PIN = Pin(diameter=16, fy=235, fu=360, outer=6, inner=12, gap=2)


def test_the_example_pin():
    """A 201.062 mm2, Wel 402.124 mm3, FvRd 35 (34.74) kN, at 5 kN ratio .14; MRd,ser 76 (75.6) N m."""
    assert pytest.approx(201.062, abs=1e-3) == PIN.area
    assert pytest.approx(402.124, abs=1e-3) == PIN.modulus
    shear = en_pin.pin_shear(PIN, planes=1).design
    assert shear / 1e3 == pytest.approx(34.74, abs=0.01)
    assert 5e3 / shear == pytest.approx(0.14, abs=0.005)
    assert en_pin.pin_moment(PIN, replaceable=True) / 1e3 == pytest.approx(75.6, abs=0.05)


def test_the_example_moment_is_128_9_not_the_scanned_123():
    """gM0 1.10: 128.9 N m; against MEd 27.1 that is the example's own 4.75."""
    moment = en_pin.pin_moment(PIN, gamma_m0=1.10) / 1e3
    assert moment == pytest.approx(128.9, abs=0.05)
    assert moment / 27.1 == pytest.approx(4.75, abs=0.01)
    assert moment / 27.1 != pytest.approx(123 / 27.1, abs=0.1)


def test_moment_of_the_span():
    assert PIN.moment(8000) == pytest.approx(1000 * (12 + 4 * 2 + 2 * 6))


def test_a_pin_between_plates_that_touch():
    """No gap unless one is given: MEd = F/8 (b + 2a)."""
    touching = Pin(diameter=16, fy=235, fu=360, outer=6, inner=12)
    assert touching.moment(8000) == pytest.approx(1000 * (12 + 2 * 6))


def test_partial_factors():
    """EN 1993-1-8 Table 2.1: gM0 1.0, gM2 1.25, gM6,ser 1.0; a pin has two planes unless told."""
    assert (en_pin.GAMMA_M0, en_pin.GAMMA_M2, en_pin.GAMMA_M6_SER) == (1.0, 1.25, 1.0)
    assert en_pin.pin_shear(PIN).design == pytest.approx(2 * 0.6 * PIN.area * 360 / 1.25)
    assert en_pin.pin_moment(PIN) == pytest.approx(1.5 * PIN.modulus * 235)


def test_table_3_9_type_a_and_its_inverse():
    """a >= F/(2 t fy) + 2 d0/3, c >= F/(2 t fy) + d0/3."""
    a, c = en_pin.least_end(40e3, 6, 17, 355)
    assert (a, c) == pytest.approx((40e3 / 4260 + 34 / 3, 40e3 / 4260 + 17 / 3))
    assert en_pin.end_force(6, 17, 355, a, c) == pytest.approx((40e3, 40e3))
    assert en_pin.end_force(6, 17, 355, 5, 5)[0] == 0


def test_table_3_9_type_b():
    """t >= 0.7 sqrt(F/fy), d0 <= 2.5 t; its plate 1.6 d0 long at the end meets type A at that force."""
    t, hole = en_pin.least_thickness(50e3, 355)
    assert t == pytest.approx(0.7 * sqrt(50e3 / 355))
    assert hole == pytest.approx(2.5 * t)
    a, _ = en_pin.least_end(50e3, t, hole, 355)
    assert a <= 1.6 * hole - hole / 2 + 0.05 * hole


def test_bearing_and_replaceable_bearing():
    assert en_pin.pin_bearing(6, 16, 235).design == pytest.approx(1.5 * 6 * 16 * 235)
    assert en_pin.pin_bearing(6, 16, 235, replaceable=True).design == pytest.approx(0.6 * 96 * 235)


def test_combined_limit_is_where_the_interaction_is_one():
    limit = en_pin.pin_combined(PIN).design
    assert en_pin.combined(PIN, limit) == pytest.approx(1)
    assert limit < min(en_pin.pin_shear(PIN).design, en_pin.pin_bending(PIN).design)
    assert PIN.moment(en_pin.pin_bending(PIN).design) == pytest.approx(en_pin.pin_moment(PIN))


def test_contact_stress():
    got = en_pin.contact_stress(10e3, 210e3, 17, 16, 6)
    assert got == pytest.approx(0.591 * sqrt(210e3 * 10e3 * 1 / (256 * 6)))


def test_metal_too_short_for_any_force_and_just_long_enough():
    """Table 3.9 type A, d0 17: a over 11.33 and c over 5.67 from the hole's edge."""
    assert en_pin.end_force(6, 17, 355, 11, 5.5) == (0, 0)
    beyond, beside = en_pin.end_force(6, 17, 355, 12, 6)
    assert (beyond, beside) == pytest.approx((2 * 6 * 355 * 2 / 3, 2 * 6 * 355 / 3))


def test_contact_stress_grows_with_the_play():
    """0.591 sqrt(E F (d0 - d) / (d^2 t)): 4 mm of play for 1, twice the stress."""
    loose, close = (en_pin.contact_stress(10e3, 210e3, 16 + play, 16, 6) for play in (4, 1))
    assert loose == pytest.approx(2 * close)
