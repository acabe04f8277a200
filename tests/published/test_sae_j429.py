"""SAE J429: strength of inch bolts by grade, ksi."""

import pytest

from partgen.reference.tables import load

TABLE = load("sae_j429")
PRINTED = [  # grade, from, to, proof, yield, tensile
    ("2", 0.25, 0.75, 55, 57, 74),
    ("5", 0.25, 1.0, 85, 92, 120),
    ("5", 1.0, 1.5, 74, 81, 105),
    ("8", 0.25, 1.5, 120, 130, 150),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize("row", TABLE.rows)
def test_rows_make_sense(row):
    assert row["proof"] < row["yield"] < row["tensile"]
    assert 0.7 <= row["proof"] / row["tensile"] <= 0.8


def test_a_grade_the_table_does_not_print_is_refused():
    assert TABLE.find(grade="7") is None
