"""ISO 898-1 load tables, coarse thread: stress area mm2, tensile and proof load N.

Dashes: cells the copy did not show.
"""

from math import pi

import pytest

from partgen.reference.tables import load

TABLE = load("iso_898_1_loads")
PRINTED = {  # size: area; tensile 8.8, 10.9, 12.9; proof 8.8, 10.9, 12.9
    "M5": (14.2, 11350, 14800, 17300, 8230, 11800, 13800),
    "M6": (20.1, 16100, 20900, 24500, 11600, 16700, 19500),
    "M8": (36.6, 29200, 38100, 44600, 21200, 30400, 35500),
    "M10": (58.0, 46400, 60300, 70800, 33700, 48100, 56300),
    "M12": (84.3, 67400, 87700, 103000, 48900, 70000, 81800),
    "M14": (115, 92000, 120000, 140000, 66700, 95500, 112000),
    "M16": (157, 125000, 163000, 192000, 91000, None, None),
    "M18": (192, 159000, 200000, 234000, None, None, None),
    "M20": (245, 203000, 255000, 299000, None, None, None),
    "M22": (303, 252000, 315000, 370000, None, None, None),
    "M24": (353, 293000, 367000, 431000, None, None, None),
}


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == [(size, *numbers) for size, numbers in PRINTED.items()]


@pytest.mark.parametrize("row", TABLE.rows)
def test_area_is_that_of_the_thread_formula(row):
    """pi/4 (d - 0.9382 P)^2; three printed digits: 0.5 %."""
    pitch = load("iso_261").lookup(row["bolt"], "pitch")
    area = pi / 4 * (float(row["bolt"][1:]) - 0.9382 * pitch) ** 2
    assert row["area"] == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize("size", ["M4", "M7", "M27"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "area") is None
