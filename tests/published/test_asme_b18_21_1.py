"""ASME B18.21.1-2009 (R2016): plain washers type A, in.

As reprinted in Machinery's Handbook, 31st ed., p. 1694. W series of 7/8 and 1 from memory.
"""

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("asme_b18_21_1")
NARROW = {  # size: ID, OD, basic thickness
    "1/4": (0.281, 0.625, 0.065),
    "5/16": (0.344, 0.688, 0.065),
    "3/8": (0.406, 0.812, 0.065),
    "7/16": (0.469, 0.922, 0.065),
    "1/2": (0.531, 1.062, 0.095),
    "9/16": (0.594, 1.156, 0.095),
    "5/8": (0.656, 1.312, 0.095),
    "3/4": (0.812, 1.469, 0.134),
    "7/8": (0.938, 1.75, 0.134),
    "1": (1.062, 2.0, 0.134),
}
WIDE = {
    "1/4": (0.312, 0.734, 0.065),
    "5/16": (0.375, 0.875, 0.083),
    "3/8": (0.438, 1.0, 0.083),
    "7/16": (0.5, 1.25, 0.083),
    "1/2": (0.562, 1.375, 0.109),
    "9/16": (0.625, 1.469, 0.109),
    "5/8": (0.688, 1.75, 0.134),
    "3/4": (0.812, 2.0, 0.148),
    "7/8": (0.938, 2.25, 0.165),
    "1": (1.062, 2.5, 0.165),
}
LIMITS = {  # basic thickness: largest, least
    0.065: (0.08, 0.051),
    0.083: (0.104, 0.064),
    0.095: (0.121, 0.074),
    0.109: (0.132, 0.086),
    0.134: (0.16, 0.108),
    0.148: (0.177, 0.122),
    0.165: (None, None),
}


@pytest.mark.parametrize(("series", "printed"), [("N", NARROW), ("W", WIDE)])
def test_every_printed_row_and_no_other(series, printed):
    rows = [row for row in TABLE.rows if row["series"] == series]
    assert {row["bolt"]: (row["id"], row["od"], row["t"]) for row in rows} == printed
    assert len(rows) == 10


def test_limits_of_thickness_follow_the_basic_one():
    """One copy prints .180 as the least of the 7/8 N washer: a misprint of .108."""
    for row in TABLE.rows:
        assert (row["t_max"], row["t_min"]) == LIMITS[row["t"]]
    for most, least in (pair for pair in LIMITS.values() if pair[0]):
        assert least < most


def test_rows_make_sense():
    for size, (hole, outside, thickness) in NARROW.items():
        wide = TABLE.find(bolt=size, series="W")
        assert wide["id"] >= hole
        assert wide["od"] > outside > 1.8 * hole - 0.1
        assert wide["t"] >= thickness


def test_only_the_two_recalled_rows_say_so():
    recalled = [(row["bolt"], row["series"]) for row in TABLE.rows if row["mark"] == "memory"]
    assert recalled == [("7/8", "W"), ("1", "W")]


@pytest.mark.parametrize("keys", [{"bolt": "11/16"}, {"bolt": "1/2", "series": "X"}])
def test_a_size_the_table_does_not_print_is_refused(keys):
    assert TABLE.find(**keys) is None


def test_the_bolt_takes_narrow_washers_unless_asked_for_wide():
    assert bolt("5/8").washer_diameter == pytest.approx(1.312 * 25.4)
    assert bolt("5/8").washer_thickness == pytest.approx(0.095 * 25.4)
    assert bolt("5/8", washer="W").washer_diameter == pytest.approx(1.75 * 25.4)
    assert bolt("5/8", washer="w").washer_hole == pytest.approx(0.688 * 25.4)
