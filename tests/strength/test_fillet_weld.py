"""Fillet welds: AISC 360-16 J2.2b and J2.4; Shigley Table 9-6, Example 9-2 and Problems 9-1 to 9-4."""

import pytest

from partgen.strength.ear_bending import ear_bending
from partgen.strength.fillet_weld import (
    E70,
    effective_leg,
    effective_length,
    fillet,
    largest_leg,
    least_intermittent,
    least_lap,
    least_leg,
    usual_leg,
)
from strength.units import INCH, KIP, KSI


def test_e70_for_each_sixteenth():
    """1.392 kip/in LRFD, 0.928 ASD (AISC Manual Part 8, from memory)."""
    found = fillet(INCH / 16, INCH)
    assert (found.design / KIP, found.allowable / KIP) == pytest.approx((1.392, 0.928), abs=1e-3)
    assert pytest.approx(482.6, abs=0.1) == E70


@pytest.mark.parametrize(("leg", "kip"), [(3 / 8, 5.57), (3 / 16, 2.784), (1 / 4, 3.71)])
def test_allowable_for_each_inch(leg, kip):
    """Shigley Table 9-6: 14.85 h kip/in for E70; 3/8: 5.57. 3/16: 2.784."""
    found = fillet(leg * INCH, INCH)
    assert found.allowable / KIP == pytest.approx(kip, rel=0.002)
    assert found.allowable / KIP == pytest.approx(14.85 * leg, rel=0.001)


def test_shigley_example_9_2():
    """3/8 fillet, 2 in. each side, E70: 5.57 x 4 = 22.28 kip."""
    assert fillet(0.375 * INCH, 4 * INCH).allowable / KIP == pytest.approx(22.28, rel=0.002)


@pytest.mark.parametrize(
    ("leg", "length", "tau", "force", "unit"),
    [
        (5, 100, 140, 49.5, 1e3),
        (5 / 16 * INCH, 4 * INCH, 25 * KSI, 22.1, KIP),
        (5 / 16 * INCH, 8 * INCH, 25 * KSI, 44.2, KIP),
    ],
)
def test_shigley_problems_9_1_to_9_3(leg, length, tau, force, unit):
    """F = .707 h l tau (10th ed.)."""
    throat = fillet(leg, length, fexx=tau / 0.60).nominal
    assert throat / unit == pytest.approx(force, rel=0.002)


@pytest.mark.parametrize(
    ("leg", "length", "each", "force", "unit"),
    [(5, 100, 0.512, 51.2, 1e3), (5 / 16 * INCH, 4 * INCH, 4.64 / INCH, 18.6, KIP)],
)
def test_shigley_problem_9_4_by_electrode(leg, length, each, force, unit):
    """5 x 100 mm: .512 kN/mm, 51.2 kN (E7010); 5/16 x 4 in.: 4.64 kip/in, 18.6 kip.

    The second is headed E6010 in the copy seen, but 4.64 = 14.85 x 5/16 is the value of E70; 0.30 x
    60 ksi would be 3.98.
    """
    found = fillet(leg, length)
    assert found.allowable / unit == pytest.approx(force, rel=0.005)
    assert found.allowable / unit / length == pytest.approx(each, rel=0.005)
    assert fillet(leg, length, 60 * KSI).allowable < 0.86 * found.allowable


def test_force_square_to_the_weld_carries_half_more():
    """J2-5: 1 + 0.50 sin^1.5."""
    along = fillet(5, 60).nominal
    assert fillet(5, 60, angle=90).nominal == pytest.approx(1.5 * along)
    assert fillet(5, 60, angle=45).nominal == pytest.approx(1.2973 * along, rel=1e-4)


@pytest.mark.parametrize(
    ("thinner", "unit", "leg"),
    [(6, "mm", 3), (6.1, "mm", 5), (13, "mm", 5), (19, "mm", 6), (25, "mm", 8),
     (INCH / 4, "in", INCH / 8), (INCH * 0.3, "in", 3 / 16 * INCH), (INCH, "in", 5 / 16 * INCH)],
)  # fmt: skip
def test_least_leg_by_the_thinner_part(thinner, unit, leg):
    """Table J2.4; a page that goes by the thicker part is about other codes."""
    assert least_leg(thinner, unit) == pytest.approx(leg)


def test_largest_leg_along_an_edge():
    """J2.2b: under 1/4 in. (6 mm) the thickness; from there 1/16 in. (2 mm) less."""
    assert [largest_leg(t) for t in (5.9, 6, 10)] == pytest.approx([5.9, 4, 8])
    assert largest_leg(3 / 16 * INCH, "in") / INCH == pytest.approx(3 / 16)
    assert largest_leg(0.25 * INCH, "in") / INCH == pytest.approx(3 / 16)


def test_short_long_and_broken_welds():
    """J2.2b: 4 w; beta = 1.2 - 0.002 L/w; 180 w over 300; 38 mm pieces; lap 5 t, 25 mm."""
    assert effective_leg(6, 20) == 5
    assert effective_leg(6, 24) == 6
    assert effective_length(5, 500) == 500
    assert effective_length(5, 1000) == pytest.approx(0.8 * 1000)
    assert effective_length(5, 1501) == 900
    assert (least_intermittent(6), least_intermittent(12)) == (38, 48)
    assert (least_intermittent(6, "in"), least_lap(4), least_lap(8)) == pytest.approx(
        (38.1, 25, 40)
    )


def test_ear_bent_out_of_plane_by_hand():
    """60 x 6 mm, S355, 45 mm to the root: Z 540 mm3, Mp 191.7 N m, 4.26 kN; phi .90, omega 1.67."""
    found = ear_bending(60, 6, 45, 355)
    assert found.nominal == pytest.approx(540 * 355 / 45)
    assert (found.design, found.allowable) == pytest.approx((0.9 * 4260, 4260 / 1.67))


@pytest.mark.parametrize(("legs", "counted"), [(50, 50), (100, 100), (200, 160), (400, 180)])
def test_a_long_end_loaded_fillet_counts_less(legs, counted):
    """J2.2b(d): beta = 1.2 - 0.002 L/w, at most 1; over 300 legs 180 of them."""
    assert effective_length(5, 5 * legs) == pytest.approx(5 * counted)


@pytest.mark.parametrize(
    ("thinner", "edge", "leg"),
    [(16, None, 12), (16, 10, 8), (6.9, 20, 5), (8, 12, 6), (10, None, 7)],
)
def test_the_usual_leg_is_three_quarters_and_no_more_than_the_edge_takes(thinner, edge, leg):
    """Down to the whole mm; J2.2b: 2 mm less than an edge of 6 mm or more."""
    assert usual_leg(thinner, edge=edge) == leg


def test_the_usual_leg_in_sixteenths():
    """Three quarters of 1/2 in. are 6/16, of 0.4 in. 4/16; an edge of 0.22 in. takes its thickness."""
    assert usual_leg(0.5 * INCH, "in") == pytest.approx(3 / 8 * INCH)
    assert usual_leg(0.4 * INCH, "in") == pytest.approx(1 / 4 * INCH)
    assert largest_leg(0.22 * INCH, "in") == pytest.approx(0.22 * INCH)
