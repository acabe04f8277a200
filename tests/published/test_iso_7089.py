"""ISO 7089: plain washers, normal series, mm: hole d1, outside d2, thickness h."""

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_7089")
PRINTED = [
    ("M5", 5.3, 10, 1.0),
    ("M6", 6.4, 12, 1.6),
    ("M8", 8.4, 16, 1.6),
    ("M10", 10.5, 20, 2.0),
    ("M12", 13, 24, 2.5),
    ("M14", 15, 28, 2.5),
    ("M16", 17, 30, 3.0),
    ("M18", 19, 34, 3.0),
    ("M20", 21, 37, 3.0),
    ("M24", 25, 44, 4.0),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_washer_holes_are_the_fine_clearance_holes_of_iso_273():
    holes = load("iso_273")
    for row in TABLE.rows:
        assert row["d1"] == holes.lookup(row["bolt"], "fine")


@pytest.mark.parametrize("row", TABLE.rows)
def test_washers_are_wider_than_the_head_seats(row):
    assert row["d2"] > load("iso_4014").lookup(row["bolt"], "s")
    assert 0.14 * row["d1"] < row["h"] < 0.26 * row["d1"]


@pytest.mark.parametrize("size", ["M4", "M22", "M30"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "d2") is None


def test_the_bolt_reads_the_m20_washer():
    m20 = bolt("M20")
    assert (m20.washer_hole, m20.washer_diameter, m20.washer_thickness) == (21, 37, 3)
