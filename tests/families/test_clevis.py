"""Clevis: the pair as a mount, the base plate's size by hand sums."""

import pytest
from helpers import part, shop

from partgen.entries.joint import Joint
from partgen.errors import GeometryError

JOINT = Joint(width=57, body_diameter=64, bolt="M16", side_clearance=1.2)
WHERE = shop(joints={"j": JOINT})


def clevis(**changes):
    data = {"joint": "j", "height": 66, "offset": 9, "plate": "6 mm S355", "base": 90} | changes
    return part("clevis", **data)


def test_gap_is_joint_and_clearance():
    mount = clevis(count=2).as_mount(WHERE)
    assert mount.fit.gap == pytest.approx(58.2)
    assert mount.fit.clearance == pytest.approx(1.2)
    assert mount.fit.spacers == (0, 0)
    assert (mount.room, mount.pivot, mount.count) == (66, (9, 66), 2)


def test_bolt_goes_through_both_ears():
    """Grip: two washers of 3, two ears of 6, the joint of 57."""
    assert clevis().as_mount(WHERE).bolts[0].grip == pytest.approx(2 * 3 + 2 * 6 + 57)


def test_two_equal_ears():
    inner, outer = clevis().plates(WHERE)
    assert (inner.name, outer.name) == ("inner", "outer")
    assert inner.outline == outer.outline


def test_base_plate_carries_both_ears_and_a_shelf():
    *_, base = clevis(base_plate="8 mm S355", shelf=15).plates(WHERE)
    x0, y0, x1, y1 = base.outline.box
    assert (x1 - x0, y1 - y0) == pytest.approx((90 + 30, 57 + 1.2 + 12 + 30))
    assert (base.name, base.thickness) == ("base", 8)


def test_base_plate_needs_a_joint():
    with pytest.raises(GeometryError, match="give 'joint'"):
        clevis(joint=None, bolt="M16", base_plate="8 mm S355").plates(WHERE)
    assert clevis(joint=None, bolt="M16").as_mount(WHERE) is None
