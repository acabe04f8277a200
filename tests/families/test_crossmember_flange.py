"""Crossmember flange and bolt patterns: centres by hand."""

from math import pi

import pytest
from helpers import part, shop
from pydantic import ValidationError

from partgen.errors import GeometryError


def flange(**changes):
    data = {"plate": "8 mm S355", "size": (180, 120),
            "bolts": {"bolt": "M12", "size": (120, 70), "at": (5, -3)}} | changes  # fmt: skip
    return part("crossmember-flange", **data)


def centres(**bolts):
    (plate,) = flange(size=(400, 400), bolts={"bolt": "M12"} | bolts).plates(shop())
    return [(round(h.x, 6), round(h.y, 6)) for h in plate.holes]


def test_area_with_a_round_bore():
    (plate,) = flange(bore=60, corner=10).plates(shop())
    holes = 4 * pi * 6.75**2
    assert plate.area == pytest.approx(180 * 120 - (4 - pi) * 100 - holes - pi * 900)
    assert [(h.x, h.y) for h in plate.holes] == [(-55, -38), (65, -38), (65, 32), (-55, 32)]


def test_round_flange_with_a_rectangular_opening():
    (plate,) = flange(size=None, diameter=160, opening=(60, 40), opening_radius=8,
                      bolts={"shape": "circle", "bolt": "M12", "circle": 120, "count": 5}).plates(shop())  # fmt: skip
    assert plate.outline.area == pytest.approx(pi * 80**2)
    assert plate.windows[0].outline.area == pytest.approx(60 * 40 - (4 - pi) * 64)


def test_circle():
    assert centres(shape="circle", circle=100, count=4, at=(10, 20), angle=90) == [
        (10, 70), (-40, 20), (10, -30), (60, 20)]  # fmt: skip


def test_rectangle_round_its_edge():
    assert centres(size=(120, 90), count=3, along=4) == [
        (-60, -45), (0, -45), (60, -45), (60, -15), (60, 15),
        (60, 45), (0, 45), (-60, 45), (-60, 15), (-60, -15)]  # fmt: skip


def test_two_rows_shifted():
    assert centres(shape="two-rows", size=(90, 50), count=3, shift=12) == [
        (-45, -25), (0, -25), (45, -25), (-33, 25), (12, 25), (57, 25)]  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"size": None}, "either 'size'"),
        ({"diameter": 90}, "either 'size'"),
        ({"bore": 20, "opening": (30, 30)}, "not both"),
        ({"bolts": {"bolt": "M12", "circle": 50}}, "shape 'rectangle' takes 'size'"),
        ({"bolts": {"bolt": "M12", "shape": "circle", "size": (9, 9)}}, "takes 'circle'"),
        ({"bolts": {"bolt": "M12", "size": (9, 9), "count": 1}}, "at least 2 holes"),
    ],
)
def test_mistakes(changes, words):
    with pytest.raises(ValidationError, match=words):
        flange(**changes)


def test_holes_off_the_plate_are_named():
    with pytest.raises(GeometryError, match="hole bolt-2 is not inside the plate"):
        flange(bolts={"bolt": "M12", "size": (120, 70), "at": (40, 0)}).plates(shop())
