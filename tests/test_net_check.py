"""Redundancy of point-to-point readings. Check values worked by hand or by an independent script.

A rectangle's four sides and two diagonals: six readings for five unknowns, one spare; five points
and all ten distances: three spares. Normalised residuals: W. Baarda, 1968, from memory.
"""

from itertools import combinations
from math import acos, degrees, dist

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from partgen.entries.net import Net
from partgen.entries.net_check import check_net
from partgen.errors import GeometryError

INCH = 25.4
POINTS = {"A": (0, 0), "B": (40, 0), "C": (40, 30), "D": (0, 30), "E": (17, 12)}
PAIRS = list(combinations("ABCDE", 2))


def net(names, off=None, by=0.0, **more):
    readings = [
        (a, b, (dist(POINTS[a], POINTS[b]) + (by if (a, b) == off else 0.0)) * INCH)
        for a, b in combinations(names, 2)
    ]
    return check_net(Net(readings=readings, **more))


def test_an_exact_rectangle_leaves_nothing():
    found = net("ABCD", square=tuple("ABCD"))
    assert found.spare == 1
    assert found.misfit == pytest.approx(0, abs=1e-6)
    assert found.consistent
    assert found.skew == pytest.approx(0, abs=1e-6)


def test_one_diagonal_51_for_50_is_noticed_but_nobody_is_blamed():
    found = net("ABCD", ("A", "C"), 1.0)
    assert not found.consistent
    assert found.suspects == []
    assert "cannot tell which" in found.verdict
    ratios = [r.normalised for r in found.residuals]
    assert max(ratios) == pytest.approx(min(ratios), rel=1e-6)


@pytest.mark.parametrize("by", [1.0, -1.0])
@pytest.mark.parametrize("pair", PAIRS)
def test_the_bad_reading_of_a_five_point_net_comes_first(pair, by):
    found = net("ABCDE", pair, by)
    assert found.spare == 3
    assert not found.consistent
    assert len(found.suspects) == 3
    worst = found.suspects[0]
    assert (worst.start, worst.end) == pair
    assert worst.error / INCH == pytest.approx(by, rel=0.05)


def test_in_six_of_ten_the_runner_up_is_within_two_percent():
    close = [
        s[1].normalised > 0.98 * s[0].normalised
        for s in (net("ABCDE", pair, 1.0).suspects for pair in PAIRS)
    ]
    assert sum(close) == 6


def test_a_good_tape_is_let_pass():
    assert net("ABCDE", ("B", "E"), 1 / 16).consistent
    assert not net("ABCDE", ("B", "E"), 1 / 16, tolerance=INCH / 64).consistent


def test_readings_are_never_corrected():
    found = net("ABCDE", ("B", "E"), 1.0)
    typed = next(r for r in found.residuals if (r.start, r.end) == ("B", "E"))
    assert typed.reading / INCH == pytest.approx(dist(POINTS["B"], POINTS["E"]) + 1)


def test_no_spare_checks_nothing_and_says_so():
    found = check_net(Net(readings=[("A", "B", 40), ("B", "C", 30), ("A", "C", 50)]))
    assert found.spare == 0
    assert "nothing can be checked" in found.verdict
    assert all(r.normalised is None for r in found.residuals)


def test_skew_from_the_diagonals():
    """Parallelogram 40 x 30: d1^2 - d2^2 = 4 a b cos of the corner (by the law of cosines)."""
    short, long = 50.0, (2 * (40**2 + 30**2) - 50.0**2) ** 0.5
    long = 50.25
    short = (5000 - long**2) ** 0.5
    corner = degrees(acos((long**2 - short**2) / (4 * 40 * 30)))
    readings = [("A", "B", 40), ("B", "C", 30), ("C", "D", 40), ("D", "A", 30), ("A", "C", long),
                ("B", "D", short)]  # fmt: skip
    found = check_net(Net(readings=readings, square=tuple("ABCD")))
    assert found.misfit == pytest.approx(0, abs=1e-6)
    assert found.skew == pytest.approx(corner - 90, abs=1e-6)
    assert found.skew == pytest.approx(-0.6, abs=0.01)


def test_a_net_in_space():
    """A box of 40 x 30 x 20 by its corners: all 28 distances, 28 - (3 x 8 - 6) = 10 spares."""
    corners = {f"P{k}": (40 * (k & 1), 30 * (k >> 1 & 1), 20 * (k >> 2)) for k in range(8)}
    readings = [(a, b, dist(corners[a], corners[b])) for a, b in combinations(corners, 2)]
    found = check_net(Net(readings=readings, dimensions=3))
    assert found.spare == 10
    assert found.misfit == pytest.approx(0, abs=1e-6)
    bad = [(a, b, d + (3 if (a, b) == ("P0", "P7") else 0)) for a, b, d in readings]
    worst = check_net(Net(readings=bad, dimensions=3)).suspects[0]
    assert (worst.start, worst.end) == ("P0", "P7")


def test_a_net_that_does_not_hold_is_refused():
    with pytest.raises(GeometryError, match="4 points need 5 readings"):
        check_net(Net(readings=[("A", "B", 40), ("B", "C", 30), ("C", "D", 40), ("D", "A", 30)]))
    with pytest.raises(GeometryError, match="do not join all points"):
        check_net(Net(readings=[("A", "B", 40), ("C", "D", 30)]))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"readings": [("A", "A", 4)]}, "between two points"),
        ({"readings": [("A", "B", 4), ("B", "A", 5)]}, "there twice"),
        ({"readings": [("A", "B", 4)], "square": tuple("ABCD")}, "no reading of point C"),
        ({"readings": [(f"P{k}", f"P{k + 1}", 4) for k in range(61)]}, "at most 60"),
    ],
)
def test_a_net_of_bad_readings_is_refused(data, words):
    with pytest.raises(ValidationError, match=words):
        Net(**data)


PLACE = st.tuples(st.floats(0, 3000), st.floats(0, 3000))


@settings(max_examples=40)
@given(st.lists(PLACE, min_size=4, max_size=7))
def test_true_distances_always_agree(places):
    pairs = list(combinations(range(len(places)), 2))
    lengths = {p: dist(places[p[0]], places[p[1]]) for p in pairs}
    assume(min(lengths.values()) > 100)
    found = check_net(Net(readings=[(f"P{a}", f"P{b}", lengths[a, b]) for a, b in pairs]))
    assert found.misfit < 0.01
    assert found.consistent


def test_a_net_without_all_its_distances_still_finds_its_shape():
    """Ten points along a frame in two rows, each tied to its neighbours and across: 10 bays."""
    row = {f"L{k}": (500.0 * k, 0.0) for k in range(6)} | {
        f"R{k}": (500.0 * k, 800.0) for k in range(6)
    }
    pairs = [(a, b) for a, b in combinations(row, 2) if dist(row[a], row[b]) < 1200]
    found = check_net(Net(readings=[(a, b, dist(row[a], row[b])) for a, b in pairs]))
    assert found.spare == len(pairs) - (2 * 12 - 3)
    assert found.misfit < 0.01
