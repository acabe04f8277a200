"""ASME B18.2.1: hex cap screws, in. Typed in again; relations printed in the standard."""

from math import sqrt

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("asme_b18_2_1")
PRINTED = [  # size, F max, min, G max, min, H max, min, LT to 6 in., LT over, Y
    ("1/4", 0.438, 0.428, 0.505, 0.488, 0.163, 0.15, 0.75, 1, 0.25),
    ("5/16", 0.5, 0.489, 0.577, 0.557, 0.211, 0.195, 0.875, 1.125, 0.278),
    ("3/8", 0.562, 0.551, 0.65, 0.628, 0.243, 0.226, 1, 1.25, 0.312),
    ("7/16", 0.625, 0.612, 0.722, 0.698, 0.291, 0.272, 1.125, 1.375, 0.357),
    ("1/2", 0.75, 0.736, 0.866, 0.84, 0.323, 0.302, 1.25, 1.5, 0.385),
    ("9/16", 0.812, 0.798, 0.938, 0.91, 0.371, 0.348, 1.375, 1.625, 0.417),
    ("5/8", 0.938, 0.922, 1.083, 1.051, 0.403, 0.378, 1.5, 1.75, 0.455),
    ("3/4", 1.125, 1.1, 1.299, 1.254, 0.483, 0.455, 1.75, 2, 0.5),
    ("7/8", 1.312, 1.285, 1.516, 1.465, 0.563, 0.531, 2, 2.25, 0.556),
    ("1", 1.5, 1.469, 1.732, 1.675, 0.627, 0.591, 2.25, 2.5, 0.625),
]
INCHES = [4 / 16, 5 / 16, 6 / 16, 7 / 16, 8 / 16, 9 / 16, 10 / 16, 12 / 16, 14 / 16, 1]
PITCHES = [20, 18, 16, 14, 13, 12, 11, 10, 9, 8]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize(("row", "d", "n"), list(zip(TABLE.rows, INCHES, PITCHES, strict=True)))
def test_thread_length_and_transition_follow_their_formula(row, d, n):
    """LT = 2 D + 1/4 in. to 6 in. length, + 1/2 in. over; Y = five coarse pitches."""
    assert row["lt_to_6"] == 2 * d + 0.25
    assert row["lt_over_6"] == 2 * d + 0.5
    assert row["y"] == pytest.approx(5 / n, abs=0.0006)


@pytest.mark.parametrize("row", TABLE.rows)
def test_hexagon_corners_are_the_flats_over_cos_30(row):
    assert row["g_max"] == pytest.approx(row["f_max"] * 2 / sqrt(3), abs=0.0015)
    assert row["f_min"] < row["f_max"] <= row["g_min"] < row["g_max"]
    assert row["h_min"] < row["h_max"] < 0.7 * row["lt_to_6"]


@pytest.mark.parametrize("size", ["3/16", "11/16", "1-1/8", "M10"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "f_max") is None


def test_body_and_grip_of_a_5_8_by_3_1_2():
    """LT 1.50, LG 2.00, LB 1.545 in. (calculated from the printed columns)."""
    screw, length = bolt("5/8"), 3.5 * 25.4
    assert screw.thread_length(length) == pytest.approx(1.5 * 25.4)
    assert screw.grip_length(length) == pytest.approx(2 * 25.4)
    assert screw.body_length(length) == pytest.approx(1.545 * 25.4)


@pytest.mark.parametrize(("inches", "thread"), [(6.0, 1.75), (6.5, 2.0)])
def test_thread_is_longer_over_six_inches(inches, thread):
    assert bolt("3/4-16").thread_length(inches * 25.4) == pytest.approx(thread * 25.4)
