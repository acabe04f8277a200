"""ASME B18.2.2-2015: hex nuts, in."""

from math import sqrt

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("asme_b18_2_2")
PRINTED = [  # size, F max, F min, G max, H max, H min
    ("1/4", 0.438, 0.428, 0.505, 0.226, 0.212),
    ("5/16", 0.5, 0.489, 0.577, 0.273, 0.258),
    ("3/8", 0.563, 0.551, 0.65, 0.337, 0.32),
    ("7/16", 0.688, 0.675, 0.794, 0.385, 0.365),
    ("1/2", 0.75, 0.736, 0.866, 0.448, 0.427),
    ("9/16", 0.875, 0.861, 1.01, 0.496, 0.473),
    ("5/8", 0.938, 0.922, 1.083, 0.559, 0.535),
    ("3/4", 1.125, 1.088, 1.299, 0.665, 0.617),
    ("7/8", 1.312, 1.269, 1.516, 0.776, 0.724),
    ("1", 1.5, 1.45, 1.732, 0.887, 0.831),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize("row", TABLE.rows)
def test_rows_make_sense(row):
    assert row["g_max"] == pytest.approx(row["f_max"] * 2 / sqrt(3), abs=0.0015)
    assert row["f_min"] < row["f_max"] < row["g_max"]
    assert 0.85 < row["h_min"] / row["h_max"] < 1


def test_nuts_of_7_16_and_9_16_are_one_size_over_the_head():
    heads = load("asme_b18_2_1")
    over = {
        row["bolt"]
        for row in TABLE.rows
        if row["f_max"] > heads.lookup(row["bolt"], "f_max") + 0.01
    }
    assert over == {"7/16", "9/16"}


@pytest.mark.parametrize("size", ["3/16", "1-1/4", "M8"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "h_max") is None


def test_the_bolt_reads_the_7_16_nut_and_gives_its_spanner_room():
    nut = bolt("7/16-14")
    assert (nut.nut_height, nut.nut_corners) == pytest.approx((0.385 * 25.4, 0.794 * 25.4))
    assert nut.tool_diameter == pytest.approx((1.5 * 0.688 + 0.04) * 25.4)
