"""EN 1090-2, Table 11: clearance of normal round holes, mm. Recalled."""

from partgen.reference.tables import load

TABLE = load("en_1090_2_t11")
RECALLED = [(12, 14, 1), (16, 24, 2), (27, None, 3)]


def test_every_recalled_row():
    assert TABLE.cells() == RECALLED
