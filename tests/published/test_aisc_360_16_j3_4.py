"""ANSI/AISC 360-16, Table J3.4: minimum edge distance from a standard hole, in."""

import pytest

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j3_4")
PRINTED = [  # bolt, edge
    (0.5, 0.75),
    (0.625, 0.875),
    (0.75, 1.0),
    (0.875, 1.125),
    (1.0, 1.25),
    (1.125, 1.5),
    (1.25, 1.625),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_last_line_over_1_1_4():
    assert TABLE.lookup(1.5, "edge") == 1.25 * 1.5


@pytest.mark.parametrize("bolt", [0.25, 0.375, 0.4375, 0.5625, 1.1])
def test_a_size_the_table_does_not_print_is_refused(bolt):
    assert TABLE.lookup(bolt, "edge") is None


def test_rows_make_sense():
    ratios = [row["edge"] / row["bolt"] for row in TABLE.rows]
    assert all(1.25 <= ratio <= 1.5 for ratio in ratios)
    assert TABLE.cells() == sorted(TABLE.cells())


def test_a_size_converted_from_mm_is_found():
    assert TABLE.lookup(19.05 / 25.4, "edge") == 1.0
