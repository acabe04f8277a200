"""Dummy spacer: stacks against every combination, tried one by one."""

from dataclasses import replace
from itertools import product

import pytest
from helpers import part, shop
from hypothesis import given
from hypothesis import strategies as st

from partgen.entries.joint import Joint
from partgen.errors import GeometryError
from partgen.families.dummy_spacer import stack

JOINT = Joint(width=57, body_diameter=64, bolt="M16", side_clearance=1)
SHOP = shop(joints={"j": JOINT})
MOUNT = part("clevis", joint="j", height=66, plate="6 mm S355", count=2).as_mount(SHOP)
WHERE = replace(SHOP, mounts={"ears": MOUNT})


def test_discs_fill_the_gap():
    """58 mm from 6 and 4 mm plate: nine and one, by the fewest pieces; two mounts a side."""
    made = part("dummy-spacer", mount="ears").plates(WHERE)
    assert [(p.thickness, p.count) for p in made] == [(6, 18), (4, 2)]
    assert sum(p.thickness * p.count for p in made) == 2 * 58
    assert made[0].outline.circle_of[2] == 64
    assert made[0].windows[0].outline.circle_of[2] == 17
    assert made[0].notes == ()


def test_a_hole_as_typed_where_no_table_has_one():
    """The dummy is bored as the ears are; a size of its own wins."""
    joint = Joint(width=57, body_diameter=64, bolt="9/16", hole=14.9, side_clearance=1)
    where = shop(joints={"j": joint})
    ears = part("clevis", joint="j", height=66, plate="6 mm S355")
    assert ears.plates(where)[0].holes[0].diameter == 14.9
    where = replace(where, mounts={"ears": ears.as_mount(where)})
    assert where.mounts["ears"].dummy.bore == 14.9
    for asked, bore in (({}, 14.9), ({"hole": "14.6 mm"}, 14.6)):
        made = part("dummy-spacer", mount="ears", **asked).plates(where)
        assert made[0].windows[0].outline.circle_of[2] == bore


def test_a_dummy_on_a_bolt_of_the_tables_is_close_though_the_ears_are_loose():
    loose = Joint(width=57, body_diameter=64, bolt="M16", hole="loose")
    where = shop(joints={"j": loose})
    mount = part("clevis", joint="j", height=66, plate="6 mm S355").as_mount(where)
    assert mount.dummy.bore == 17


def test_what_is_lacking_is_said():
    made = part("dummy-spacer", mount="ears", plates_from=["6 mm S355"]).plates(WHERE)
    assert [(p.thickness, p.count) for p in made] == [(6, 18)]
    assert "4.00 mm short of the gap, 58.00 mm" in made[0].notes[0]


def test_nothing_thin_enough():
    with pytest.raises(GeometryError, match="no plate in the rack is thinner"):
        part("dummy-spacer", mount="ears", plates_from=["80 mm S355"]).plates(WHERE)


@given(
    gap=st.integers(200, 4000),
    thicknesses=st.lists(st.integers(300, 1600), min_size=1, max_size=3, unique=True),
)
def test_no_combination_is_better(gap, thicknesses):
    found = stack(gap / 100, [t / 100 for t in thicknesses])
    total = round(sum(100 * t * n for t, n in found.items()))
    ways = [
        (sum(n * t for n, t in zip(counts, thicknesses, strict=True)), -sum(counts))
        for counts in product(*(range(gap // t + 1) for t in thicknesses))
    ]
    best = max(w for w in ways if w[0] <= gap)
    assert (total, -sum(found.values())) == best
