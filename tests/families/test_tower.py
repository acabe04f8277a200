"""Tower: sides and back plate by hand."""

from math import hypot, sqrt

import pytest
from helpers import part, points_of, shop

from partgen.entries.joint import Joint
from partgen.errors import GeometryError

JOINT = Joint(width=40, body_diameter=50, bolt="M14", side_clearance=1)
WHERE = shop(joints={"eye": JOINT})


def tower(**changes):
    data = {"joint": "eye", "height": 210, "base": 130, "plate": "6 mm S355"} | changes
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
    assert (x1 - x0, y1 - y0) == pytest.approx((41, tangent - 12))
    assert (back.name, back.thickness, back.windows) == ("back", 5, ())


def test_back_has_a_drain_at_its_foot():
    *_, back = tower(back="5 mm S355").plates(WHERE)
    x, y, diameter = back.windows[0].outline.circle_of
    assert (x, diameter) == (0, 12)
    assert y == pytest.approx(back.outline.box[1] + 18)


def test_as_mount():
    found = tower(offset=80).as_mount(WHERE)
    assert (found.fit.gap, found.room, found.pivot) == (41, 210, (80, 210))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"height": 25}, "reaches below the upright ends"),
        ({"joint": None, "bolt": "M14", "back": "5 mm S355"}, "give 'joint'"),
        ({"height": 33, "base": 44, "back": "5 mm S355"}, "make the tower higher"),
    ],
)
def test_what_cannot_be_drawn_says_why(changes, words):
    with pytest.raises(GeometryError, match=words):
        tower(**changes).plates(WHERE)
