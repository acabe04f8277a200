"""Single ear: hand geometry off the symmetric case."""

from math import acos, hypot, pi

import pytest
from helpers import part, points_of, shop
from pydantic import ValidationError

from partgen.entries.joint import Joint
from partgen.errors import GeometryError


def ear(**changes):
    data = {"bolt": "M16", "height": 60, "plate": "6 mm S355"} | changes
    (plate,) = part("ear", **data).plates(shop(joints={"j": JOINT}))
    return plate


JOINT = Joint(width=57, body_diameter=64, bolt="M12", hole="normal")


def test_base_foot_and_arc_about_the_eye():
    plate = ear(base=80, foot=8, blend=0, offset=11)
    assert {(-40, 0), (40, 0), (40, 8), (-40, 8)} <= points_of(plate.outline)
    (arc,) = [s for s in plate.outline.segments if s.bulge]
    assert arc.centre == pytest.approx((11, 60))
    assert arc.radius == pytest.approx(24)  # 1.5 x 16 beats AISC's 22
    assert (plate.holes[0].x, plate.holes[0].y, plate.holes[0].diameter) == (11, 60, 17)


def test_area_of_a_symmetric_ear_by_hand():
    """Foot corners to a circle: two triangles, the kite between the radii, and the sector left."""
    plate = ear(base=80, foot=0, ear_radius=24)
    d = hypot(40, 60)
    side = (d * d - 24 * 24) ** 0.5
    wedge = 2 * acos(24 / d)  # angle at the eye of each kite
    between = 2 * acos(60 / d)  # angle at the eye between the two lines to the base's ends
    sector = (2 * pi - wedge - between) / 2 * 24**2
    whole = 40 * 60 + 24 * side + sector
    assert plate.outline.area == pytest.approx(whole)


def test_a_bushings_bore_is_no_bolt_hole():
    plate = ear(bolt=None, bore=32)
    assert (plate.holes, plate.windows[0].outline.circle_of) == ((), (0, 60, 32))
    assert plate.outline.box[3] == pytest.approx(60 + 16 + 9)  # least web of 6 mm plate: 9 mm


def test_a_joint_gives_bolt_and_clearance():
    plate = ear(bolt=None, joint="j")
    assert (plate.holes[0].bolt.size, plate.holes[0].diameter) == ("M12", 13.5)


@pytest.mark.parametrize("changes", [{"bolt": None}, {"joint": "j"}])
def test_joint_or_bolt(changes):
    with pytest.raises(ValidationError, match="either 'joint'"):
        ear(**changes)


def test_too_low_says_so():
    with pytest.raises(GeometryError, match="height = 20 mm is less than the ear's radius, 24 mm"):
        ear(height=20)
