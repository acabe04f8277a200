"""Commercial Item Description A-A-1346A: box wrench heads, greatest outside diameter, in."""

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("a_a_1346a")
PRINTED = [
    (7 / 16, 0.695),
    (1 / 2, 0.775),
    (9 / 16, 0.868),
    (5 / 8, 0.946),
    (11 / 16, 1.025),
    (3 / 4, 1.125),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize(
    ("size", "head_od"),
    [("1/4", 0.695), ("5/16", 0.775), ("3/8", 0.868), ("7/16", 1.025), ("1/2", 1.125)],
)
def test_the_bolt_leaves_room_for_the_printed_spanner(size, head_od):
    """Head or nut, whichever is larger: 7/16, 1/2, 9/16, 11/16 and 3/4 in.; at most 5 % more."""
    room = bolt(size).tool_diameter / 25.4
    assert head_od <= room <= 1.05 * head_od


def test_the_circle_covers_every_row():
    assert all(head_od <= 1.5 * opening + 0.04 for opening, head_od in TABLE.cells())


@pytest.mark.parametrize("opening", [3 / 8, 13 / 16, 1])
def test_an_opening_the_table_does_not_print_is_refused(opening):
    assert TABLE.lookup(opening, "head_od") is None
