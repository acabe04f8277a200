"""ANSI/AISC 360-16, Table J3.5: increment C2 of oversized and slotted holes, in."""

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j3_5")
PRINTED = [
    (0, 0.875, 0.0625, 0.125, 0.75, 0),
    (1, 1, 0.125, 0.125, 0.75, 0),
    (1.125, None, 0.125, 0.1875, 0.75, 0),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED
