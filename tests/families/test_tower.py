"""Tower: sides and back plate by hand."""

from dataclasses import replace
from math import hypot, sqrt

import pytest
from helpers import part, points_of, shop

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.rules import joint_fit
from partgen.rules.finding import Status

JOINT = Joint(width=40, body_diameter=50, bolt="M14", side_clearance=1)
RAIL = Rail(width=42, depth=90, corner_radius=7)
WHERE = shop(joints={"eye": JOINT}, rails={"main": RAIL})


def tower(**changes):
    data = {
        "joint": "eye",
        "rail": "main",
        "height": 210,
        "base": 130,
        "plate": "6 mm S355",
    } | changes
    return part("tower", **data)


def test_sides_lap_on_the_rail():
    inner, outer = tower(lap=45, corner=0, blend=0, upright=20, offset=80).plates(WHERE)
    assert {(0, -45), (130, -45), (130, 20), (0, 20)} <= points_of(inner.outline)
    assert (inner.holes[0].x, inner.holes[0].y) == (80, 210)
    assert inner.outline == outer.outline


def test_standing_on_top_it_has_no_lap():
    assert tower(lap=0).plates(WHERE)[0].outline.box[1] == 0


def test_back_is_as_wide_as_the_gap_and_as_long_as_the_far_edge():
    """From (130, 20) to the ear of 21 about (80, 210): tangent, less a weld at each end."""
    *_, back = tower(upright=20, offset=80, blend=0, back="5 mm S355", drain=0).plates(WHERE)
    tangent = sqrt(hypot(50, 190) ** 2 - 21**2)
    x0, y0, x1, y1 = back.outline.box
    assert (x1 - x0, y1 - y0) == pytest.approx((42, tangent - 12))
    assert (back.name, back.thickness, back.windows) == ("back", 5, ())


def test_back_has_a_drain_at_its_foot():
    *_, back = tower(back="5 mm S355").plates(WHERE)
    x, y, diameter = back.windows[0].outline.circle_of
    assert (x, diameter) == (0, 12)
    assert y == pytest.approx(back.outline.box[1] + 18)


def test_as_mount():
    found = tower(offset=80).as_mount(WHERE)
    assert (found.fit.gap, found.room, found.pivot) == (42, 210, (80, 210))
    on_top = tower(offset=80, lap=0).as_mount(WHERE)
    assert (on_top.fit.gap, on_top.room, on_top.rail_between) == (41, 210, "")


@pytest.mark.parametrize(
    ("width", "gap", "pads", "shim"),
    [
        (41, 41, 0, 0),  # as wide as joint and clearance
        (33, 41, 4, 0),  # 8 mm short: 4 mm pads from the rack on each side
        (50, 50, 0, 4.5),  # 9 mm too wide: bosses of 4.5 mm beside the joint
    ],
)
def test_sides_that_lap_stand_as_far_apart_as_the_rail_is_wide(width, gap, pads, shim):
    """The joint needs 40 + 1; plates of 6 and 4 mm are at hand."""
    rail = Rail(width=width, depth=90, corner_radius=7)
    where = shop(joints={"eye": JOINT}, rails={"main": rail})
    part_ = tower(offset=31, back="5 mm S355")
    found = part_.as_mount(where)
    assert (found.fit.gap, found.fit.spacers) == (gap, (pads, pads))
    assert found.fit.shim == pytest.approx(shim)
    status = joint_fit.check(found, where)[0]
    assert (status.status == Status.FAIL) == (shim > 0)
    assert ("washers or bosses of 4.5 mm inside each ear" in status.note) == (shim > 0)
    member, inner, outer, back = part_.solids(where)
    assert [member.box[k][1] for k in (0, 1)] == pytest.approx([-width / 2, width / 2])
    assert (inner.box[1][1], outer.box[0][1]) == pytest.approx((-gap / 2, gap / 2))
    assert [back.box[k][1] for k in (0, 1)] == pytest.approx([-gap / 2, gap / 2])
    assert (member.box[0][2], member.box[1][2]) == pytest.approx((-90, 0))
    (x, _, z), (x2, _, z2) = (s.frame.at(s.holes[0][1]) for s in (inner, outer))
    assert (x, z, x2, z2) == pytest.approx((31, 210, 31, 210))


def test_pads_of_a_lapped_tower_fill_what_the_rail_lacks():
    where = shop(
        joints={"eye": JOINT}, rails={"main": Rail(width=33, depth=90, corner_radius=7, wall=3)}
    )
    part_ = tower(offset=31, lap=52)
    where = replace(where, mounts={"p": part_.as_mount(where)})
    pad = part("spacer", mount="p", size=[90, 34])
    (plate,) = pad.plates(where)
    assert (plate.thickness, plate.count) == (4, 2)
    low, high = pad.solids(where)
    assert [low.box[k][1] for k in (0, 1)] == pytest.approx([-20.5, -16.5])
    assert [high.box[k][1] for k in (0, 1)] == pytest.approx([16.5, 20.5])
    for solid in (low, high):
        (x0, _, z0), (x1, _, z1) = solid.box
        assert ((x0 + x1) / 2, (z0 + z1) / 2) == pytest.approx((65, -26))
    inner, *_ = part_.finished(where)
    assert part_.seams(inner, where) == []
    mates = {(s.mate, s.beside) for s in pad.seams(plate, where)}
    assert mates == {("rail", 3), ("p plate", 6)}


def test_a_sides_weld_keeps_off_both_flanges():
    """Lap 60 on a rail of 90: the lower edge is 30 above the rail's lower one."""
    part_ = tower(lap=60, joint=None, bolt="M14")
    seams = {s.edge.split()[0]: s for s in part_.seams(part_.plates(WHERE)[0], WHERE)}
    low = seams["lower"].path[0].at(0.5)
    assert seams["lower"].depth(low) == pytest.approx(30)
    assert seams["rear"].depth((0, -12)) == pytest.approx(12)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"height": 25}, "reaches below the upright ends"),
        ({"joint": None, "bolt": "M14", "back": "5 mm S355"}, "give 'joint'"),
        ({"height": 33, "base": 44, "back": "5 mm S355"}, "make the tower higher"),
        ({"rail": None, "back": "5 mm S355"}, r"give 'rail', or lap = 0 to stand on top"),
        ({"lap": 84, "back": "5 mm S355"}, r"at most 83 mm"),
    ],
)
def test_what_cannot_be_drawn_says_why(changes, words):
    with pytest.raises(GeometryError, match=words):
        tower(**changes).plates(WHERE)
