"""ISO 4032: hexagon nuts style 1, greatest height, mm."""

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_4032")
PRINTED = {
    "M5": 4.7,
    "M6": 5.2,
    "M8": 6.8,
    "M10": 8.4,
    "M12": 10.8,
    "M14": 12.8,
    "M16": 14.8,
    "M18": 15.8,
    "M20": 18.0,
    "M24": 21.5,
}


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == list(PRINTED.items())


def test_rows_make_sense():
    assert all(0.8 <= height / float(size[1:]) <= 0.95 for size, height in TABLE.cells())
    assert [height for _, height in TABLE.cells()] == sorted(PRINTED.values())


@pytest.mark.parametrize("size", ["M4", "M7", "M22", "M30"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "m_max") is None


def test_the_bolt_reads_the_m12_nut():
    """The older German nut is 10 mm high."""
    assert bolt("M12").nut_height == 10.8
