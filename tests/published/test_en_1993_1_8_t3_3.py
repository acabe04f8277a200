"""EN 1993-1-8:2005, Table 3.3: end and edge distances, pitch and gauge."""

import pytest

from partgen.errors import ProfileError
from partgen.reference.tables import load

TABLE = load("en_1993_1_8_t3_3")
PRINTED = [  # distance, least x d0, largest: x t, plus mm, not over mm
    ("e1", 1.2, 4, 40, None),
    ("e2", 1.2, 4, 40, None),
    ("e3", 1.5, None, None, None),
    ("e4", 1.5, None, None, None),
    ("p1", 2.2, 14, 0, 200),
    ("p2", 2.4, 14, 0, 200),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


def test_least_distances_keep_their_order():
    """An edge is closer than a slot's edge, that closer than a neighbour hole."""
    least = [TABLE.lookup(name, "min_d0") for name in ("e1", "e3", "p1", "p2")]
    assert least == sorted(set(least))


def test_a_distance_the_table_does_not_print_is_refused():
    assert TABLE.lookup("e5", "min_d0") is None


def test_a_slot_has_no_printed_maximum():
    with pytest.raises(ProfileError, match="row e3 prints no number for 'max_t'"):
        TABLE.lookup("e3", "max_t")
