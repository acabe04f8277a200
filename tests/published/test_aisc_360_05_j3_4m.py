"""ANSI/AISC 360-05, Table J3.4M: edge distance of sheared and of rolled or cut edges, mm.

The line over 36 mm is from memory.
"""

import pytest

from partgen.reference.tables import load

TABLE = load("aisc_360_05_j3_4m")
SIZES = (16, 20, 22, 24, 27, 30, 36)
SHEARED = (28, 34, 38, 42, 48, 52, 64)
CUT = (22, 26, 28, 30, 34, 38, 46)


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == list(zip(SIZES, SHEARED, CUT, strict=True))


def test_last_line_over_36():
    assert TABLE.lookup(40, "sheared") == 70
    assert TABLE.lookup(40, "cut") == 50


@pytest.mark.parametrize("bolt", [12, 14, 18, 33])
def test_a_size_the_table_does_not_print_is_refused(bolt):
    assert TABLE.lookup(bolt, "cut") is None


def test_rows_make_sense():
    later = load("aisc_360_16_j3_4m")
    for row in TABLE.rows:
        assert row["cut"] == later.lookup(row["bolt"], "edge")
        assert 1.7 <= row["sheared"] / row["bolt"] <= 1.8
