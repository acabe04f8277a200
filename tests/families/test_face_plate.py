"""Face plate: arches, ears and openings, areas by hand."""

from math import pi

import pytest
from helpers import part, shop
from pydantic import ValidationError

from partgen.errors import GeometryError


def face(**changes):
    return part("face-plate", **({"plate": "6 mm S355", "length": 400, "height": 90} | changes))


def outline(**changes):
    return face(**changes).plates(shop())[0].outline


def test_bare_rectangle():
    assert outline(corner=0).area == pytest.approx(400 * 90)


def test_an_arch_takes_a_rectangle_and_half_a_disc():
    """Sharp mouth: rise 12, radius 40."""
    shape = outline(corner=0, arches=[{"at": 150, "radius": 40, "rise": 12}])
    assert 400 * 90 - shape.area == pytest.approx(80 * 12 + pi * 1600 / 2)
    (arc,) = [s for s in shape.segments if s.bulge]
    assert arc.centre == pytest.approx((150, 12))


def test_default_rise_leaves_room_for_the_rounded_mouth():
    shape = outline(corner=6, arches=[{"at": 150, "radius": 40}])
    assert any(s.bulge < 0 and s.centre == pytest.approx((150, 6)) for s in shape.segments)


def test_an_ear_hangs_about_its_eye():
    (plate,) = face(ears=[{"at": 310, "drop": 35, "bolt": "M16", "root": 50}]).plates(shop())
    assert plate.outline.box == pytest.approx((0, -35 - 24, 400, 90))
    assert plate.outline.distance((310, -35)) == pytest.approx(24)
    assert [(h.name, h.x, h.y, h.diameter) for h in plate.holes] == [("ear-1", 310, -35, 17)]


def test_rounds_bolts_and_windows_are_cut():
    (plate,) = face(
        rounds=[{"at": (200, 45), "diameter": 60, "name": "shaft"}],
        bolts=[{"bolt": "M10", "shape": "two-rows", "size": (320, 50), "at": (200, 45)}],
        windows=[{"at": (90, 45), "size": (70, 36), "radius": 18}],
    ).plates(shop())  # fmt: skip
    assert [w.name for w in plate.windows] == ["shaft", "1"]
    assert len(plate.holes) == 4


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"arches": [{"at": 100, "radius": 40}, {"at": 150, "radius": 40}]}, "the arch at x = 150"),
        ({"arches": [{"at": 20, "radius": 40}]}, "begins at x = -20 mm"),
        ({"ears": [{"at": 380, "drop": 30, "bolt": "M16"}]}, "beyond the length, 400 mm"),
        ({"ears": [{"at": 150, "drop": 30, "bolt": "M16"}],
          "arches": [{"at": 200, "radius": 40}]}, "where the plate is taken"),
    ],
)  # fmt: skip
def test_what_collides_is_named(changes, words):
    with pytest.raises(GeometryError, match=words):
        outline(**changes)


def test_an_arch_through_the_plate_is_refused():
    with pytest.raises(ValidationError, match="reach through the height, 90 mm"):
        face(arches=[{"at": 200, "radius": 60, "rise": 40}])
