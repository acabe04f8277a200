"""ANSI/AISC 360-05, Table J3.4: edge distance of sheared and of rolled or cut edges, in.

Only four rows were seen; the 5/8 in. row was hard to read.
"""

import pytest

from partgen.reference.tables import load

TABLE = load("aisc_360_05_j3_4")
PRINTED = [  # bolt, sheared, rolled or thermally cut
    (0.625, 1.125, 0.875),
    (0.75, 1.25, 1.0),
    (0.875, 1.5, 1.125),
    (1.0, 1.75, 1.25),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_last_line_over_1_1_4():
    assert TABLE.lookup(2.0, "sheared") == 3.5
    assert TABLE.lookup(2.0, "cut") == 2.5


@pytest.mark.parametrize("bolt", [0.5, 0.8, 1.125, 1.25])
def test_a_size_not_given_is_refused(bolt):
    assert TABLE.lookup(bolt, "sheared") is None


def test_cut_edges_are_those_of_the_later_one_column_table():
    later = load("aisc_360_16_j3_4")
    for row in TABLE.rows:
        assert row["cut"] == later.lookup(row["bolt"], "edge") < row["sheared"]
