"""ANSI/AISC 360-16, Table J3.4M: minimum edge distance from a standard hole, mm.

Copies disagree on 36 mm (45, 46, 48); 46 is in most of them.
"""

import pytest

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j3_4m")
PRINTED = [(16, 22), (20, 26), (22, 28), (24, 30), (27, 34), (30, 38), (36, 46)]  # bolt, edge


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_last_line_over_36():
    assert TABLE.lookup(42, "edge") == 52.5


@pytest.mark.parametrize("bolt", [10, 12, 14, 18, 33])
def test_a_size_the_table_does_not_print_is_refused(bolt):
    assert TABLE.lookup(bolt, "edge") is None


def test_rows_make_sense():
    ratios = [row["edge"] / row["bolt"] for row in TABLE.rows]
    assert all(1.25 <= ratio <= 1.4 for ratio in ratios)
    assert TABLE.cells() == sorted(TABLE.cells())


def test_it_agrees_with_the_inch_table_within_the_rounding_of_the_metric_one():
    inch = load("aisc_360_16_j3_4")
    for metric, printed in [(16, 0.625), (20, 0.75), (22, 0.875), (24, 1), (30, 1.125)]:
        assert TABLE.lookup(metric, "edge") == pytest.approx(
            inch.lookup(printed, "edge") * 25.4, abs=2
        )
