"""ISO 4014: hexagon head bolts, mm. M18: k max and thread lengths from memory."""

from math import sqrt

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_4014")
PRINTED = [  # size, s, e min, k, k max, b to 125, b 125 to 200
    ("M5", 8, 8.79, 3.5, 3.65, 16, None),
    ("M6", 10, 11.05, 4.0, 4.15, 18, None),
    ("M8", 13, 14.38, 5.3, 5.45, 22, None),
    ("M10", 16, 17.77, 6.4, 6.58, 26, None),
    ("M12", 18, 20.03, 7.5, 7.68, 30, None),
    ("M14", 21, 23.36, 8.8, 8.98, 34, 40),
    ("M16", 24, 26.75, 10.0, 10.18, 38, 44),
    ("M18", 27, 30.14, 11.5, 11.715, 42, 48),
    ("M20", 30, 33.53, 12.5, 12.715, 46, 52),
    ("M24", 36, 39.98, 15.0, 15.215, 54, 60),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize("row", TABLE.rows)
def test_thread_length_follows_its_formula(row):
    """b = 2 d + 6 to 125 mm, 2 d + 12 to 200 mm."""
    d = float(row["bolt"][1:])
    assert row["b_to_125"] == 2 * d + 6
    assert row["b_125_to_200"] in (None, 2 * d + 12)


@pytest.mark.parametrize("row", TABLE.rows)
def test_rows_make_sense(row):
    """Least corners belong to least flats, so a little under those of a sharp hexagon."""
    d = float(row["bolt"][1:])
    assert 0.94 < row["e_min"] / (row["s"] * 2 / sqrt(3)) < 0.97
    assert 0.6 * d < row["k"] < row["k_max"] < row["k"] + 0.22 <= 0.78 * d
    assert 1.45 * d <= row["s"] <= 1.7 * d


def test_flats_are_those_of_iso_not_the_older_17_19_22():
    assert [bolt(size).head_flats for size in ("M10", "M12", "M14")] == [16, 18, 21]


@pytest.mark.parametrize("size", ["M4", "M22", "M27"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "s") is None


@pytest.mark.parametrize(("length", "thread"), [(90, 34), (125, 34), (130, 40), (200, 40)])
def test_the_bolt_reads_its_thread_length(length, thread):
    assert bolt("M14").thread_length(length) == thread
    assert bolt("M14").grip_length(length) == length - thread
