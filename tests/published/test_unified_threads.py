"""ASME B1.1: threads per inch and tensile stress area in2, coarse and fine.

Copies with .0163 for 7/16-14 misprint .1063.
"""

from math import pi

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("unified_threads")
COARSE = {
    "1/4": (20, 0.0318),
    "5/16": (18, 0.0524),
    "3/8": (16, 0.0775),
    "7/16": (14, 0.1063),
    "1/2": (13, 0.1419),
    "9/16": (12, 0.182),
    "5/8": (11, 0.226),
    "3/4": (10, 0.334),
    "7/8": (9, 0.462),
    "1": (8, 0.606),
}
FINE = {
    "1/4": (28, 0.0364),
    "5/16": (24, 0.058),
    "3/8": (24, 0.0878),
    "7/16": (20, 0.1187),
    "1/2": (20, 0.1599),
    "9/16": (18, 0.203),
    "5/8": (18, 0.256),
    "3/4": (16, 0.373),
    "7/8": (14, 0.509),
    "1": (12, 0.663),
}
INCHES = [4 / 16, 5 / 16, 6 / 16, 7 / 16, 8 / 16, 9 / 16, 10 / 16, 12 / 16, 14 / 16, 1]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == [(size, *COARSE[size], *FINE[size]) for size in COARSE]
    assert list(COARSE) == list(FINE)


@pytest.mark.parametrize("series", ["unc", "unf"])
def test_areas_follow_the_formula(series):
    """pi/4 (D - 0.9743/n)^2; catalogues differ in the last digit: 0.5 %."""
    for d, row in zip(INCHES, TABLE.rows, strict=True):
        area = pi / 4 * (d - 0.9743 / row[f"{series}_n"]) ** 2
        assert row[f"{series}_at"] == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize("size", ["3/16", "1-1/8", "M12"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "unc_n") is None


@pytest.mark.parametrize(("size", "n"), [("7/16", 14), ("7/16-20", 20), ("1-12", 12)])
def test_the_bolt_reads_its_pitch(size, n):
    assert bolt(size).pitch == pytest.approx(25.4 / n)
