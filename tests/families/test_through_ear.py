"""Through ear: the bolt's stack by hand, ISO washers and thread lengths; the sleeve between plates."""

from dataclasses import replace

import pytest
from helpers import part, shop

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.entries.stock import Stock
from partgen.errors import GeometryError

WIDE = Joint(width=57, body_diameter=64, bolt="M16", side_clearance=1)
SLIM = Joint(width=40, body_diameter=54, bolt="M14", side_clearance=0.8, hole="normal")
BARE = shop(
    rails={"r": Rail(width=52, depth=100, corner_radius=8)},
    joints={"wide": WIDE, "slim": SLIM},
    rack=[Stock(3.0, "S355")],
)
PLATES = part(
    "link-mount", rail="r", joint="wide", pivot=(20, -68), plate="6 mm S355", count=3, hands="left",
    outer={"plate": "8 mm S355"},
)  # fmt: skip
WHERE = replace(BARE, mounts={"plates": replace(PLATES.as_mount(BARE), name="plates")})


def ear(**changes):
    data = {"joint": "slim", "mount": "plates", "hole": "upper", "plate": "5 mm S355",
            "height": 52, "offset": 9}  # fmt: skip
    return part("through-ear", **data | changes)


def test_bolt_through_ear_joint_plates_and_rail():
    """Washer 2.5, plates 8 + 6, rail 52 and pads 2 x 3 between them, joint 40, ear 5."""
    stack = ear().as_mount(WHERE).bolts[0]
    assert stack.shear_planes == pytest.approx((2.5 + 72, 2.5 + 72 + 40))
    assert stack.grip == pytest.approx(2 * 2.5 + 72 + 40 + 5)


def test_bolt_to_buy():
    """Threads of M14 over 125 mm: 40 (ISO 4014); the ear ends at 119.5, so 159.5 or more."""
    assert ear().as_mount(WHERE).bolt_fit.length == 160


def test_sleeve_fills_the_room_between_the_plates():
    through = ear(sleeve=26, play=0.5).as_mount(WHERE).through
    sleeve = through.sleeve
    assert (sleeve.length, sleeve.outside, sleeve.bore) == (pytest.approx(57.5), 26, 15.5)
    assert (through.mount, through.rail, through.hole) == ("plates", "r", "upper")


def test_gap_is_the_joints_and_the_hand_the_mounts():
    mount = ear().as_mount(WHERE)
    assert mount.fit.gap == pytest.approx(40.8)
    assert (mount.hands, mount.pieces) == ("left", 1)
    assert ear(hands="both").hands_in(WHERE) == "both"


def test_bolt_in_hand_goes_through_the_same_stack():
    slim = SLIM.model_copy(update={"bolt_length": 165.0, "shank": 120.0})
    where = replace(WHERE, joints={"slim": slim})
    found = ear().as_mount(where)
    assert (found.bolt_fit.length, found.bolt_fit.shear_planes[0]) == (165, pytest.approx(74.5))


def test_ear_is_drawn_as_a_single_ear():
    (plate,) = ear().plates(WHERE)
    (hole,) = plate.holes
    assert (hole.x, hole.y, hole.diameter, plate.thickness) == (9, 52, 15.5, 5)


def test_webs_without_a_place_are_not_drawn_as_if_under_the_rail():
    web = part("gusset", mount="m", plate="6 mm S355", shape="trapezoid", height=48, far_height=38)
    beside = replace(WHERE, mounts={"m": ear().as_mount(WHERE)})
    assert not web.solids(beside)
    assert len(web.solids(replace(WHERE, mounts={"m": WHERE.mounts["plates"]}))) == 1


def test_needs_a_mount_on_a_rail():
    clevis = part("clevis", joint="wide", height=66, plate="6 mm S355").as_mount(BARE)
    where = replace(BARE, mounts={"c": replace(clevis, name="c")})
    with pytest.raises(GeometryError, match="mount = 'c' is on no rail; name a part of family"):
        ear(mount="c").as_mount(where)
    with pytest.raises(GeometryError, match="no such mount"):
        ear(mount="x").as_mount(where)
