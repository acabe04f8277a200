"""Bolt length through two ears and a joint.

Check vector, inches: 3/4-10, ears 1/4, joint 2.625, two washers .134, nut .88 high. Thread length
LT = 2D + 1/4 to 6 in: ASME B18.2.1; the vector itself is worked by hand.
"""

from dataclasses import replace

import pytest

from partgen.fit.bolting import BoltFit, best_bolt, bolt_lengths
from partgen.reference.bolt import bolt

INCH = 25.4


@pytest.fixture
def lengths():
    fits = bolt_lengths(bolt("3/4-10"), 0.25 * INCH, 2.625 * INCH, 0.25 * INCH, 0.88 * INCH)
    return {round(f.length / INCH, 3): f for f in fits}


def test_stack(lengths):
    fit = lengths[5.25]
    assert fit.grip / INCH == pytest.approx(3.393)
    assert fit.shear_planes[0] / INCH == pytest.approx(0.384)
    assert fit.shear_planes[1] / INCH == pytest.approx(3.009)
    assert fit.ears_end / INCH == pytest.approx(3.259)


@pytest.mark.parametrize(("length", "start"), [(4.5, 2.75), (5.0, 3.25), (5.25, 3.5), (5.5, 3.75)])
def test_thread_start(lengths, length, start):
    assert lengths[length].thread_start / INCH == pytest.approx(start)


def test_4_50_is_rejected_for_threads_in_the_joint(lengths):
    fit = lengths[4.5]
    assert fit.long_enough
    assert fit.threads_showing == pytest.approx(2.27, abs=0.01)
    assert not fit.threads_clear_of_shear
    assert fit.verdict == "threads inside the joint"


def test_5_00_clears_the_shear_plane_but_not_the_ear(lengths):
    fit = lengths[5.0]
    assert fit.threads_clear_of_shear
    assert not fit.full_ear
    assert "far ear" in fit.verdict


def test_5_25_with_one_extra_washer_is_recommended(lengths):
    fit = best_bolt(list(lengths.values()))
    assert fit is lengths[5.25]
    assert fit.extra_washers == 1
    assert (fit.thread_start - fit.grip) / INCH == pytest.approx(0.107)
    assert "1 extra washer under the nut" in fit.verdict


def test_5_50_is_the_first_with_the_body_clear_and_needs_three_washers(lengths):
    first = next(f for f in lengths.values() if f.body_clear_of_shear)
    assert first is lengths[5.5]
    assert (first.thread_start - first.grip) / INCH == pytest.approx(0.357)
    assert first.extra_washers == 3
    assert "3 extra washers" in first.verdict


def test_too_short_is_said_first(lengths):
    assert "too short" in lengths[4.25].verdict
    assert not lengths[4.25].suits


def test_metric_thread_length_of_iso_4014():
    """ISO 4014: M16, b = 38 mm up to 125 mm length."""
    fit = best_bolt(bolt_lengths(bolt("M16"), 6, 57, 6))
    assert (fit.length, fit.thread_start, fit.body_end) == (110, 72, 62)
    assert fit.shear_planes == (9, 66)
    assert fit.verdict == "full thread clear of both shear planes, its run-out may lie in one"
    assert fit.grip == pytest.approx(75)
    assert fit.full_ear


def test_nothing_suits_a_joint_longer_than_any_stock_bolt():
    assert best_bolt(bolt_lengths(bolt("M5"), 6, 400, 6)) is None


def test_a_stack_between_stock_lengths_falls_back_to_threads_in_the_far_ear_only():
    fits = bolt_lengths(bolt("M16"), 6, 57.4, 6)
    fit = best_bolt(fits)
    assert not any(f.suits for f in fits)
    assert fit.threads_clear_of_shear
    assert not fit.full_ear


def test_a_typed_shank_says_where_the_thread_starts(lengths):
    """A 4.50 in bolt in hand with a long shank, 3.3 in, does what the stock one does not."""
    own = replace(lengths[4.5], shank=3.3 * INCH)
    assert own.thread_start / INCH == pytest.approx(3.3)
    assert own.threads_clear_of_shear
    assert own.body_clear_of_shear
    assert own.full_ear
    assert best_bolt([own]) is own
    short = replace(lengths[5.5], shank=3.0 * INCH)
    assert not short.threads_clear_of_shear
    assert short.verdict == "threads inside the joint"


def test_body_ends_before_the_run_out(lengths):
    """ASME B18.2.1: 3/4, Y = 0.500 in: LB = LG - Y."""
    assert lengths[5.5].body_end / INCH == pytest.approx(3.25)
    assert replace(lengths[5.5], shank=3.1 * INCH).body_end / INCH == pytest.approx(3.1)


@pytest.mark.parametrize(
    ("shank", "washers", "showing", "suits"),
    [(75, 0, 5.1, True), (78, 1, 3.6, True), (81, 2, 2.1, True), (81.1, 3, 0.6, False)],
)
def test_washers_under_the_nut_take_thread_and_more_than_two_are_too_many(
    shank, washers, showing, suits
):
    """M16 x 100 by hand: grip 6 + 57 + 6 and washers of 3 (ISO 7089), nut 14.8 (ISO 4032), pitch 2."""
    fit = BoltFit(bolt("M16"), 100, 6, 57, 6, 14.8, shank)
    assert fit.extra_washers == washers
    assert fit.threads_showing == pytest.approx(showing)
    assert fit.suits is suits
    assert (best_bolt([fit]) is fit) is suits


def test_a_nut_that_runs_out_of_thread_is_said():
    fit = BoltFit(bolt("M16"), 105, 6, 57, 6, 14.8, 81.1)
    assert fit.long_enough
    assert fit.verdict == "nut runs out of thread: 3 extra washers"
    assert best_bolt([fit]) is None
    two = replace(fit, shank=81)
    assert two.verdict == "body clear of both shear planes, 2 extra washers under the nut"
