"""ANSI/AISC 360-16, Table J2.4: least leg of a fillet weld by the thinner part, in. (mm)."""

from itertools import pairwise

import pytest

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j2_4")
PRINTED = [  # over, to, leg in in.; over, to, leg in mm
    (0, 0.25, 0.125, 0, 6, 3),
    (0.25, 0.5, 0.1875, 6, 13, 5),
    (0.5, 0.75, 0.25, 13, 19, 6),
    (0.75, None, 0.3125, 19, None, 8),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_bands_meet_and_both_units_agree():
    assert all(a["to"] == b["over"] for a, b in pairwise(TABLE.rows))
    for row in TABLE.rows:
        assert row["leg_mm"] == pytest.approx(row["leg"] * 25.4, abs=0.5)
        assert row["over_mm"] == pytest.approx(row["over"] * 25.4, abs=0.5)


@pytest.mark.parametrize(
    ("thickness", "leg"),
    [(0.1875, 1 / 8), (0.25, 1 / 8), (0.3125, 3 / 16), (0.5, 3 / 16), (0.75, 1 / 4), (2, 5 / 16)],
)
def test_a_thickness_finds_its_leg(thickness, leg):
    assert TABLE.band(thickness)["leg"] == leg


def test_no_thickness_is_refused():
    assert TABLE.band(0) is None
