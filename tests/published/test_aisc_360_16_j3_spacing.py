"""ANSI/AISC 360-16, clauses J3.3 and J3.5: 2-2/3 d, 3 d, d; 12 t to 6 in., 24 t to 12 in."""

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j3_spacing")
PRINTED = [
    ("centres, least", 8 / 3, None, None, None),
    ("centres, preferred", 3, None, None, None),
    ("clear, least", 1, None, None, None),
    ("edge, most", None, 12, 6, 150),
    ("centres, most", None, 24, 12, 300),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED
