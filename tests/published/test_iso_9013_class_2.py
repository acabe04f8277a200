"""ISO 9013, limit deviations of nominal dimensions, tolerance class 2, plus and minus mm.

The first cell of the first row is doubtful in the copy and left out.
"""

from itertools import pairwise

import pytest

from partgen.reference.tables import load

TABLE = load("iso_9013_class_2")
PRINTED = {  # thickness over, to: nominal dimension < 3, 3-10, 10-35 ... 2000-4000
    (1, 3.15): (None, 0.6, 0.7, 0.7, 0.8, 0.9, 1, 1.1),
    (3.15, 6.3): (0.7, 0.8, 0.9, 0.9, 1.1, 1.2, 1.3, 1.3),
    (6.3, 10): (None, 1, 1.1, 1.3, 1.4, 1.5, 1.6, 1.7),
    (10, 15): (None, 1.8, 1.8, 1.8, 1.9, 2.3, 3, 4.2),
    (15, 20): (None, 1.8, 1.8, 1.8, 1.9, 2.3, 3, 4.2),
}


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == [(*band, *numbers) for band, numbers in PRINTED.items()]


def test_bands_meet_and_class_2_is_wider_than_class_1():
    assert all(a["to"] == b["over"] for a, b in pairwise(TABLE.rows))
    for row in TABLE.rows:
        finer = load("iso_9013_class_1").band(row["to"])
        for column in TABLE.columns[3:]:
            assert 1.2 * finer[column] < row[column] < 7 * finer[column]


@pytest.mark.parametrize(
    ("thickness", "deviation"),
    [(0.9, None), (3, 0.8), (6, 1.1), (8, 1.4), (12, 1.9), (25, None)],
)
def test_a_thickness_finds_its_band(thickness, deviation):
    row = TABLE.band(thickness)
    assert (row and row["from_125"]) == deviation
