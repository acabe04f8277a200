"""ANSI/AISC 360-05, Table J3.3M: holes of structural bolts, mm."""

from partgen.reference.tables import load

TABLE = load("aisc_360_05_j3_3m")
PRINTED = [
    (16, 18, 20, 18, 22, 18, 40),
    (20, 22, 24, 22, 26, 22, 50),
    (22, 24, 28, 24, 30, 24, 55),
    (24, 27, 30, 27, 32, 27, 60),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_long_slots_are_two_and_a_half_bolts_long():
    """The document's own rule for long slots, 2.5 d."""
    assert [row["long_length"] for row in TABLE.rows] == [2.5 * row["bolt"] for row in TABLE.rows]
