"""The sum across the vehicle. Check values in inches: common practice, no source."""

import pytest

from partgen.fit import LARGEST_SHIFT, fit_options
from partgen.stock import Stock

INCH = 25.4


def rack(*inches):
    return [Stock(t * INCH, "A36") for t in inches]


def best(rail, joint, clearance, *inches):
    return fit_options(rail * INCH, joint * INCH, clearance * INCH, rack(*inches))[0]


def test_narrow_rail_needs_0_328_each_side():
    fit = best(2.000, 2.625, 1 / 32, 5 / 16)
    assert fit.need / 2 / INCH == pytest.approx(0.328125, abs=1e-9)


def test_five_sixteenths_leaves_nothing_and_is_short():
    fit = best(2.000, 2.625, 1 / 32, 5 / 16)
    assert fit.clearance / INCH == pytest.approx(0.000, abs=1e-9)
    assert fit.excess < 0
    assert fit.shim == 0


def test_three_eighths_leaves_an_eighth_and_a_shim():
    fit = best(2.000, 2.625, 1 / 32, 5 / 16, 3 / 8)
    assert fit.spacers == pytest.approx((3 / 8 * INCH, 3 / 8 * INCH))
    assert fit.gap / INCH == pytest.approx(2.750, abs=1e-9)
    assert fit.clearance / INCH == pytest.approx(0.125, abs=1e-9)
    assert fit.shim / INCH == pytest.approx(0.046875, abs=1e-9)


def test_rail_2_1_2_and_joint_2_5_8_take_one_eighth_inch_spacer():
    fit = best(2.5, 2.625, 0, 1 / 8, 1 / 4)
    assert fit.spacers == pytest.approx((0, INCH / 8))
    assert fit.clearance == pytest.approx(0, abs=1e-9)
    assert fit.shift == pytest.approx(LARGEST_SHIFT)


def test_a_single_spacer_never_shifts_the_joint_further_than_allowed():
    fit = best(2.25, 2.625, 0, 3 / 8)
    assert fit.spacers == pytest.approx((3 / 8 * INCH, 3 / 8 * INCH))


def test_rail_wider_than_the_joint_makes_no_spacer_and_lists_ways_out():
    fits = fit_options(3.0 * INCH, 2.625 * INCH, INCH / 32, rack(1 / 8, 1 / 4))
    assert len(fits) == 1
    assert fits[0].spacers == (0, 0)
    assert fits[0].need / INCH == pytest.approx(-0.34375)
    ways = fits[0].ways_out("in")
    assert len(ways) == 4
    assert "11/64" in ways[0]
    assert "11/32" in ways[1]


def test_no_way_out_is_listed_where_the_rail_is_narrower():
    assert best(2.0, 2.625, 1 / 32, 3 / 8).ways_out("in") == []


def test_exact_need_of_zero_takes_no_spacer():
    fit = best(2.625, 2.625, 0, 1 / 8)
    assert fit.spacers == (0, 0)
    assert fit.clearance == pytest.approx(0, abs=1e-9)


def test_options_are_ranked_by_excess_and_short_ones_come_last():
    fits = fit_options(50, 57, 0.8, [Stock(t, "S355") for t in (3, 8, 4, 5)])
    assert [f.spacers for f in fits[:3]] == [(4, 4), (5, 5), (8, 8)]
    assert all(f.excess < 0 for f in fits[3:])
    assert fits[3].excess > fits[-1].excess


def test_empty_rack_leaves_the_gap_short():
    fit = fit_options(50, 57, 0.8, [])[0]
    assert fit.clearance == -7
    assert fit.excess == pytest.approx(-7.8)
