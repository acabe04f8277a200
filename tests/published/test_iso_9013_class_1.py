"""ISO 9013, limit deviations of nominal dimensions, tolerance class 1, plus and minus mm."""

from itertools import pairwise

import pytest

from partgen.reference.tables import load

TABLE = load("iso_9013_class_1")
PRINTED = {  # thickness over, to: nominal dimension < 3, 3-10, 10-35 ... 2000-4000
    (1, 3.15): (0.1, 0.15, 0.2, 0.25, 0.25, 0.35, 0.4, 0.65),
    (3.15, 6.3): (0.2, 0.2, 0.25, 0.25, 0.3, 0.4, 0.45, 0.7),
    (6.3, 10): (None, 0.25, 0.3, 0.3, 0.35, 0.45, 0.55, 0.75),
    (10, 15): (None, 0.3, 0.35, 0.4, 0.45, 0.55, 0.65, 0.85),
    (15, 20): (None, 0.4, 0.4, 0.45, 0.55, 0.75, 0.85, 1.2),
}


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == [(*band, *numbers) for band, numbers in PRINTED.items()]


def test_bands_meet_and_deviations_never_fall():
    assert all(a["to"] == b["over"] for a, b in pairwise(TABLE.rows))
    columns = TABLE.columns[2:]
    for row in TABLE.rows:
        printed = [row[column] for column in columns if row[column] is not None]
        assert printed == sorted(printed)
    for column in columns[1:]:
        down = [row[column] for row in TABLE.rows]
        assert down == sorted(down)


@pytest.mark.parametrize(
    ("thickness", "deviation"),
    [(1, None), (1.01, 0.25), (3.15, 0.25), (6.3, 0.25), (6.31, 0.3), (20, 0.45), (20.1, None)],
)
def test_a_thickness_finds_its_band(thickness, deviation):
    row = TABLE.band(thickness)
    assert (row and row["from_35"]) == deviation
