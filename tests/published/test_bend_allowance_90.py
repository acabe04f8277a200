"""Bend allowance at 90 degrees, recalled; and two published bends by BA = pi/180 A (R + K T)."""

from math import pi

import pytest

from partgen.reference.tables import load

TABLE = load("bend_allowance_90")
RECALLED = [
    ("soft copper, soft brass", 0.55, 1.57, 0.350),
    ("soft steel, half-hard brass, aluminium", 0.64, 1.57, 0.407),
    ("hard copper, bronze, cold-rolled steel, spring steel", 0.71, 1.57, 0.452),
]


def allowance(angle, radius, thickness, k):
    return pi / 180 * angle * (radius + k * thickness)


def test_every_recalled_row():
    assert TABLE.cells() == RECALLED


def test_the_neutral_line_gives_the_printed_factors():
    for row in TABLE.rows:
        assert allowance(90, 0, 1, row["k"]) == pytest.approx(row["per_t"], abs=1e-3)
        assert allowance(90, 1, 0, row["k"]) == pytest.approx(row["per_r"], abs=1e-3)


def test_faa_u_channel():
    """FAA airframe handbook: T .040, R .16, mold lines 1, 2, 1 in.: SB .20, flats .8, 1.6, .8; 3.765."""
    setback = 0.040 + 0.16
    flats = [1 - setback, 2 - 2 * setback, 1 - setback]
    bend = allowance(90, 0.16, 0.040, 0.5)
    assert (setback, *flats) == pytest.approx((0.20, 0.8, 1.6, 0.8))
    assert (bend, sum(flats) + 2 * bend) == pytest.approx((0.2827, 3.765), abs=1e-3)
    empirical = (0.01743 * 0.16 + 0.0078 * 0.040) * 90
    assert empirical == pytest.approx(0.2791, abs=1e-4)


def test_groover_example_20_2():
    """t 3.2, R 4.75, 60 degrees, Kba .33: BA 6.08, blank 38 + 6.08 + 25 = 69.08 mm (from memory)."""
    bend = allowance(60, 4.75, 3.2, 0.33)
    assert bend == pytest.approx(6.08, abs=0.005)
    assert 38 + bend + 25 == pytest.approx(69.08, abs=0.005)
