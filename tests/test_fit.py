"""The sum across the vehicle. Check values in inches: common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.entries.stock import Stock
from partgen.fit.fit import LARGEST_SHIFT, MOST_OPTIONS, STACK_SHIM, Fit, fit_options, pad_text
from partgen.fit.mount import pull_in

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
    assert ways[0] == "washers or bosses of 11/64 in inside each ear"
    assert ways[1] == "a joint (or its end spacers) 11/32 in wider"


def test_no_way_out_is_listed_where_the_rail_is_narrower():
    assert best(2.0, 2.625, 1 / 32, 3 / 8).ways_out("in") == []


def test_exact_need_of_zero_takes_no_spacer():
    fit = best(2.625, 2.625, 0, 1 / 8)
    assert fit.spacers == (0, 0)
    assert fit.clearance == pytest.approx(0, abs=1e-9)


def test_options_are_ranked_by_excess_and_short_ones_come_last():
    fits = fit_options(50, 57, 0.8, [Stock(t, "S355") for t in (3, 8, 4, 5)])
    assert [f.spacers for f in fits[:3]] == [(4, 4), (5, 5), (8, 8)]
    short = [f.excess for f in fits if f.excess < 0]
    assert short == sorted(short, reverse=True)
    assert [f.excess < 0 for f in fits] == [False] * (len(fits) - len(short)) + [True] * len(short)


def test_empty_rack_leaves_the_gap_short():
    fit = fit_options(50, 57, 0.8, [])[0]
    assert fit.clearance == -7
    assert fit.excess == pytest.approx(-7.8)


def metric(rail, joint, *thicknesses, **how):
    return fit_options(rail, joint, 0.8, [Stock(t, "S355") for t in thicknesses], **how)


def test_two_plates_are_stacked_where_no_single_one_does_without_shims():
    """Need 10.8: 5.4 each side; 6 would leave 1.2 too much, 3 + 2.5 leaves 0.2 but is two plates."""
    assert metric(50, 60, 6, 3, 2.5)[0].spacers == (6, 6)
    fit = metric(50, 60, 8, 3, 2.5)[0]
    assert [s.thickness for s in fit.inner] == [3, 2.5]
    assert fit.excess == pytest.approx(0.2)
    assert pad_text(fit.outer, "mm") == "3 mm S355 + 2.5 mm S355"
    assert metric(50, 60, 8, 3, 2.5, most_plates=1)[0].spacers == (8, 8)


def test_a_stack_keeps_to_one_material():
    rack = [Stock(3, "S355"), Stock(2.5, "S235")]
    fits = fit_options(50, 60, 0.8, rack)
    assert all(len({s.grade for s in f.inner}) <= 1 for f in fits)


def test_a_stack_with_thick_shims_is_no_way():
    """Need 10.8; 4.25 + 4.25 leaves 6.2, shims of 3.1 each: taken; 4.3 + 4.3 needs 3.2: not."""
    assert metric(50, 60, 4.25)[0].spacers == (8.5, 8.5)
    assert metric(50, 60, 4.25)[0].shim == pytest.approx(3.1)
    assert metric(50, 60, 4.3)[0].excess < 0
    assert pytest.approx(3.175) == STACK_SHIM


def test_unequal_spacers_shift_the_joint_when_asked():
    """Need 12.8; 5 mm outward wants 10 mm difference: 12 + 2 = 14, shift 5."""
    fit = metric(50, 62, 12, 2, 6, shift=5.0)[0]
    assert fit.spacers == (2, 12)
    assert fit.shift == pytest.approx(5)
    assert metric(50, 62, 12, 2, 6, shift=-5.0)[0].spacers == (12, 2)
    fits = metric(50, 62, 12, 2, 6, shift=5.0)
    assert all(f.off <= LARGEST_SHIFT for f in fits if f.inner != f.outer)
    assert len({(f.inner, f.outer) for f in fits}) == len(fits)
    assert metric(50, 62, 12, 2, 6)[0].shift == 0


def test_without_plates_for_the_shift_the_fit_says_how_far_off_it_is():
    fit = metric(50, 62, 8, shift=6.0, most_plates=1)[0]
    assert fit.spacers == (8, 8)
    assert fit.off == pytest.approx(6)


def test_coating_on_both_ears_widens_the_need_and_is_taken_off_at_the_end():
    """0.003 in a face (common practice, no source): 0.006 of the gap."""
    fit = Fit(2 * INCH, 2.625 * INCH, INCH / 32, coating=0.003 * INCH)
    assert fit.need / INCH == pytest.approx(0.65625 + 0.006)
    loose = metric(50, 57, 4, coating=0.08)[0]
    assert loose.clearance == pytest.approx(1)
    assert loose.excess == pytest.approx(1 - 0.8 - 0.16)
    assert loose.final_clearance == pytest.approx(1 - 0.16)


@pytest.mark.parametrize(
    ("inches", "angle", "each"),
    [(4, 0.5, 0.035), (4, 1, 0.070), (4, 2, 0.140), (6, 1, 0.105)],
)
def test_pull_in_of_one_ear(inches, angle, each):
    """Ear length times the sine of its lean; worked by hand to 0.001 in."""
    assert pull_in(inches * INCH, angle) / 2 / INCH == pytest.approx(each, abs=0.0005)


def test_pull_in_eats_the_clearance_and_may_make_it_negative():
    fit = metric(50, 57, 4, pull_in=1.4)[0]
    assert fit.clearance == pytest.approx(1)
    assert fit.final_clearance == pytest.approx(-0.4)
    assert fit.shim == 0


def test_what_survives_welding_comes_before_what_does_not():
    """4 leaves 1.0 and 1.4 is pulled in; 5 leaves 3.0."""
    assert metric(50, 57, 4, 5, pull_in=1.4)[0].spacers == (5, 5)


def test_shim_is_what_is_left_beyond_the_wanted_after_welding():
    fit = metric(50, 57, 6, pull_in=1.0)[0]
    assert fit.shim == pytest.approx((5 - 0.8 - 1.0) / 2)
    assert fit.final_clearance == pytest.approx(0.8)


def test_dummy_spacer_is_joint_plus_clearance_with_the_shims_beside_it():
    fit = best(2.000, 2.625, 1 / 32, 3 / 8)
    assert fit.dummy_length / INCH == pytest.approx(2.625 + 1 / 32)
    assert metric(50, 57, 4)[0].dummy_length == pytest.approx(58)


def test_uncoated_unwelded_unshifted_is_the_plain_sum():
    fit = Fit(50, 57, 0.8, (Stock(4, "S355"),), (Stock(4, "S355"),))
    assert fit.need == pytest.approx(7.8)
    assert fit.final_clearance == fit.clearance == 1
    assert fit.off == 0


@pytest.mark.parametrize(("over", "shim"), [(1.587, 0.0), (1.589, 0.7945)])
def test_shims_are_asked_for_beyond_a_sixteenth_of_an_inch(over, shim):
    """1/16 in = 1.5875 mm beyond the wanted clearance; common practice, no source."""
    side = (Stock((0.8 + over) / 2, "S355"),)
    assert Fit(57, 57, 0.8, side, side).shim == pytest.approx(shim)


def test_a_large_rack_gives_a_short_list():
    fits = metric(50, 80, *[k / 4 for k in range(4, 200)], shift=3.0)
    assert len(fits) == MOST_OPTIONS
    assert fits[0].off <= LARGEST_SHIFT + 1e-6
    assert fits[0].excess >= 0


def test_rail_2_1_2_needs_0_078_each_side():
    """Rail 2.500, joint 2.625, clearance 1/32: 0.078 in, worked by hand."""
    assert best(2.5, 2.625, 1 / 32, 3 / 32).need / 2 / INCH == pytest.approx(0.078125)
    assert best(2.5, 2.625, 1 / 32, 3 / 32).clearance / INCH == pytest.approx(0.1875 - 0.125)


THICK = st.sampled_from([1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12])


@given(
    st.floats(30, 90), st.floats(30, 90), st.lists(THICK, max_size=6, unique=True),
    st.floats(0, 0.3), st.floats(0, 2), st.sampled_from([0.0, 2.0, -4.5]), st.sampled_from([1, 2]),
)  # fmt: skip
def test_whatever_the_rack_the_sum_adds_up(rail, joint, rack, coating, pull, shift, plates):
    fits = metric(
        rail, joint, *rack, coating=coating, pull_in=pull, shift=shift, most_plates=plates
    )
    best_of = fits[0]
    for fit in fits:
        total = rail + sum(s.thickness for s in (*fit.inner, *fit.outer))
        assert fit.gap == pytest.approx(total)
        assert fit.excess == pytest.approx(fit.gap - joint - 0.8 - 2 * coating)
        assert len(fit.inner) <= plates
        assert len(fit.outer) <= plates
        assert fit.shim >= 0
    enough = [f for f in fits if f.excess >= 0 and f.final_clearance >= 0]
    if enough:
        assert best_of in enough
        assert best_of.off <= max(LARGEST_SHIFT + 1e-6, min(f.off for f in enough))
    else:
        assert best_of.excess < 1e-6 or best_of.final_clearance < 0


@given(st.floats(40, 70), st.floats(2, 6))
def test_inward_is_outward_mirrored(joint, shift):
    out, inward = (metric(40, joint, 3, 4, 6, 8, shift=s)[0] for s in (shift, -shift))
    assert out.excess == pytest.approx(inward.excess)
    assert out.off == pytest.approx(inward.off)


def test_what_is_not_told_takes_nothing_off():
    bare = Fit(50, 57, 0.8)
    assert (bare.need, bare.final_clearance, bare.off) == (pytest.approx(7.8), -7, 0)
    best = metric(50, 57, 4)[0]
    assert (best.excess, best.final_clearance, best.off) == (pytest.approx(0.2), 1, 0)
