"""ISO 888: nominal lengths of metric bolts, mm, from memory."""

from itertools import pairwise

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_888")
RECALLED = [16, *range(20, 70, 5), *range(70, 161, 10), 180, 200]


def test_every_recalled_length_and_no_other():
    assert [length for (length,) in TABLE.cells()] == RECALLED


def test_every_row_says_it_is_recalled():
    assert {row["mark"] for row in TABLE.rows} == {"memory"}
    assert "ISO 888 (from memory)" in bolt("M16").sources


def test_lengths_rise():
    assert all(a < b for a, b in pairwise(bolt("M16").lengths))
    assert bolt("M24").lengths == tuple(RECALLED)


def test_a_length_that_is_not_printed_is_refused():
    assert [TABLE.lookup(length, "length") for length in (75, 12, 220)] == [None] * 3
