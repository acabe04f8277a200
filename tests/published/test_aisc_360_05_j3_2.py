"""ANSI/AISC 360-05, Table J3.2: the older shear stresses, 0.40 and 0.50 Fu (120 ksi for A325)."""

from partgen.reference.tables import load
from partgen.strength.bolt_shear import other_stress

TABLE = load("aisc_360_05_j3_2")


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == [("A325", 48, 60)]


def test_the_shares_of_fu_give_the_printed_row():
    assert other_stress(120, threads_in=True, edition="2005") == 48
    assert other_stress(120, threads_in=False, edition="2005") == 60
