"""ISO 273:1979: clearance holes for metric bolts, mm. M18 and M22 from memory."""

from itertools import pairwise

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_273")
PRINTED = [  # bolt, fine H12, medium H13, coarse H14
    ("M5", 5.3, 5.5, 5.8),
    ("M6", 6.4, 6.6, 7.0),
    ("M8", 8.4, 9.0, 10.0),
    ("M10", 10.5, 11.0, 12.0),
    ("M12", 13.0, 13.5, 14.5),
    ("M14", 15.0, 15.5, 16.5),
    ("M16", 17.0, 17.5, 18.5),
    ("M18", 19.0, 20.0, 21.0),
    ("M20", 21.0, 22.0, 24.0),
    ("M22", 23.0, 24.0, 26.0),
    ("M24", 25.0, 26.0, 28.0),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_recalled_rows_say_so():
    assert [row["bolt"] for row in TABLE.rows if row["mark"] == "memory"] == ["M18", "M22"]
    assert "from memory" in bolt("M18").sources[1]
    assert "from memory" not in bolt("M20").sources[1]


def test_rows_make_sense():
    for row in TABLE.rows:
        d = float(row["bolt"][1:])
        assert d < row["fine"] < row["medium"] < row["coarse"] <= 1.25 * d
    assert all(a[1:] < b[1:] for a, b in pairwise(TABLE.cells()))


@pytest.mark.parametrize("size", ["M4", "M7", "M27", "16"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "medium") is None


@pytest.mark.parametrize(
    ("fit", "hole"),
    [
        ("close", 15),
        ("fine", 15),
        ("normal", 15.5),
        ("Medium", 15.5),
        ("loose", 16.5),
        ("coarse", 16.5),
    ],
)
def test_the_bolt_reads_the_m14_row_under_both_sets_of_words(fit, hole):
    assert bolt("M14").hole(fit) == hole
