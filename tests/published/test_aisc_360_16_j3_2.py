"""ANSI/AISC 360-16, Table J3.2: nominal stress of fasteners, ksi and (MPa)."""

import pytest

from partgen.reference.tables import load
from partgen.strength.bolt_shear import other_stress

TABLE = load("aisc_360_16_j3_2")
PRINTED = [
    ("A307", 45, 27, None, 310, 188, None),
    ("A325", 90, 54, 68, 620, 372, 457),
    ("A490", 113, 68, 84, 780, 457, 579),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_both_units_agree():
    for row in TABLE.rows:
        for column in ("fnt", "fnv_in", "fnv_out"):
            if row[column]:  # 68 ksi is printed 457 in one row, 469 by conversion
                assert row[column] * 6.895 == pytest.approx(row[f"{column}_mpa"], rel=0.03)


@pytest.mark.parametrize(("fu", "group"), [(120, "A325"), (150, "A490")])
def test_the_shares_of_fu_give_the_printed_groups(fu, group):
    """0.75, 0.450 and 0.563 of 120 and 150 ksi: 90, 54, 67.6 and 112.5, 67.5, 84.5."""
    row = TABLE.find(fastener=group)
    assert 0.75 * fu == pytest.approx(row["fnt"], abs=0.6)
    assert other_stress(fu, threads_in=True) == pytest.approx(row["fnv_in"], abs=0.6)
    assert other_stress(fu, threads_in=False) == pytest.approx(row["fnv_out"], abs=0.6)
