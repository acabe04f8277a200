"""A plasma job shop's published design table: least features. One shop's rules, no standard."""

from partgen.reference.tables import load

TABLE = load("plasma_shop")
PRINTED = [
    ("hole diameter", 1.5, None, None),
    ("web", 1.5, None, None),
    ("kerf", None, 1.5, 3.5),
    ("part gap", None, 5, None),
    ("inside radius", None, 1, 2),
    ("feature width", None, 2, None),
    ("tab width", None, 3, 5),
    ("cut tolerance", None, 0.5, 1.5),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED
