"""Shock mount: rows of holes, a flat base or a tube, by hand."""

from math import cos, degrees, hypot, radians, sin

import pytest
from helpers import part, shop

from partgen.entries.joint import Joint
from partgen.errors import GeometryError

JOINT = Joint(width=38, body_diameter=45, bolt="M12")
WHERE = shop(joints={"eye": JOINT})


def mount(**changes):
    data = {"joint": "eye", "height": 62, "plate": "5 mm S355", "ear_radius": 22} | changes
    return part("shock-mount", **data)


def tab(**changes):
    return mount(**changes).plates(WHERE)[0]


def test_holes_in_a_leaning_row():
    plate = tab(eyes=3, pitch=40, lean=25, offset=4, base=120)
    want = [(4 + k * 40 * sin(radians(25)), 62 + k * 40 * cos(radians(25))) for k in range(3)]
    assert [(h.x, h.y) for h in plate.holes] == [pytest.approx(p) for p in want]
    assert [h.name for h in plate.holes] == ["joint-1", "joint-2", "joint-3"]


@pytest.mark.parametrize("lean", [-55, -20, 0, 35, 55])
@pytest.mark.parametrize("base", [60, 140])
def test_every_hole_has_its_ear(lean, base):
    plate = tab(eyes=3, pitch=40, lean=lean, base=base)
    for h in plate.holes:
        assert plate.outline.distance((h.x, h.y)) >= 22 - 1e-6
    top = plate.holes[-1]
    assert plate.outline.distance((top.x, top.y)) == pytest.approx(22)


def test_default_pitch_clears_the_spanner_and_keeps_the_preferred_spacing():
    """M12: spanner and washer need (28.016 + 24) / 2; AISC 360-16 J3.3 prefers 3 x 12 = 36."""
    plate = tab(eyes=2)
    assert plate.holes[1].y - plate.holes[0].y == 36


def test_base_on_a_tube_is_one_arc_of_tube_and_gap():
    plate = tab(tube=84, base=66, fit_gap=0.5)
    (arc,) = [s for s in plate.outline.segments if s.bulge < 0]
    assert arc.radius == pytest.approx(42.5)
    assert arc.centre == pytest.approx((0, -((42.5**2 - 33**2) ** 0.5)))
    assert degrees(abs(arc.sweep)) == pytest.approx(101.88, abs=0.1)
    flat = tab(base=66)
    segment = 42.5**2 / 2 * (radians(101.88) - sin(radians(101.88)))
    assert flat.outline.area - plate.outline.area == pytest.approx(segment, rel=1e-3)


def test_room_is_to_the_tube():
    sunk = (42.5**2 - 33**2) ** 0.5
    found = mount(tube=84, base=66, fit_gap=0.5, offset=9).as_mount(WHERE)
    assert found.room == pytest.approx(hypot(9, 62 + sunk) - 42)
    assert mount().as_mount(WHERE).room == 62
    assert mount(tabs=1).as_mount(WHERE) is None


def test_base_wider_than_the_tube_says_so():
    with pytest.raises(GeometryError, match=r"too wide for a tube of 60 mm; it takes at most 51.7"):
        tab(tube=60, base=66, fit_gap=0.4)
