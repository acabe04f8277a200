"""ANSI/AISC 360-16, Table J3.3: standard holes, in. Recalled."""

from partgen.reference.tables import load

TABLE = load("aisc_360_16_j3_3")
RECALLED = [(0.5, 0.5625), (0.625, 0.6875), (0.75, 0.8125), (0.875, 0.9375), (1, 1.125)]


def test_every_recalled_row():
    assert TABLE.cells() == RECALLED


def test_a_sixteenth_over_the_bolt_but_an_eighth_at_one_inch():
    assert [hole - bolt for bolt, hole in TABLE.cells()] == [1 / 16] * 4 + [1 / 8]
