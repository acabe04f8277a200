"""Spacers: sizes by hand, thickness from a mount's fit."""

from math import pi

import pytest
from helpers import shop
from pydantic import ValidationError

from partgen.entries.stock import Stock
from partgen.errors import GeometryError
from partgen.families.spacer import Spacer
from partgen.fields import Reading
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import Fit
from partgen.fit.mount import Mount
from partgen.reference.bolt import bolt


def spacer(**changes):
    data = {"name": "pad", "family": "spacer"} | changes
    return Spacer.model_validate(data, context=Reading("mm"))


def with_mount(inner, outer, count=1, hands="both"):
    sides = [(Stock(t, "S355"),) if t else () for t in (inner, outer)]
    fit = Fit(50, 57, 0.8, *sides)
    lengths = bolt_lengths(bolt("M16"), 6, 57, 6)
    front = Mount("front", [fit], lengths, bolt("M16"), hands, count, 60, 64, (0, 0))
    return shop(mounts={"front": front})


def test_rectangle_area():
    (plate,) = spacer(size=(150, 60), plate="4 mm S355").plates(shop())
    assert plate.area == pytest.approx(150 * 60 - (4 - pi) * 36)
    assert plate.thickness == 4


def test_square_and_round():
    (square,) = spacer(shape="square", side=40, corner=0, plate="4 mm S355").plates(shop())
    assert square.area == pytest.approx(1600)
    (disc,) = spacer(shape="round", diameter=44, bolt="M16", plate="4 mm S355").plates(shop())
    assert disc.area == pytest.approx(pi * (22**2 - 8.75**2))
    assert len(disc.outlines) == 2


def test_small_pads_keep_a_corner_that_fits():
    (plate,) = spacer(size=(30, 8), plate="4 mm S355").plates(shop())
    assert plate.area == pytest.approx(30 * 8 - (4 - pi) * 4)


def test_equal_sides_give_one_plate_counted_twice():
    (plate,) = spacer(size=(90, 40), mount="front").plates(with_mount(4, 4, count=2))
    assert (plate.thickness, plate.count) == (4, 4)


def test_unequal_sides_give_two_plates():
    plates = spacer(size=(90, 40), mount="front").plates(with_mount(None, 3))
    assert [(p.name, p.thickness, p.count) for p in plates] == [("outer", 3, 1)]
    plates = spacer(size=(90, 40), mount="front").plates(with_mount(4, 3))
    assert [(p.name, p.thickness) for p in plates] == [("inner", 4), ("outer", 3)]


def test_no_need_makes_no_spacer():
    assert spacer(size=(90, 40), mount="front").plates(with_mount(None, None)) == []


def test_hands_follow_the_mount_unless_asked():
    there = with_mount(4, 4, hands="left")
    assert spacer(size=(90, 40), mount="front").hands_in(there) == "left"
    assert spacer(size=(90, 40), mount="front", hands="right").hands_in(there) == "right"
    assert spacer(size=(90, 40), plate="4 mm S355").hands_in(there) == "both"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"size": (90, 40), "side": 40, "plate": "4 mm S355"}, "takes 'size' and no other"),
        ({"shape": "round", "size": (90, 40), "plate": "4 mm S355"}, "takes 'diameter'"),
        ({"size": (90, 40)}, "either 'mount'"),
        ({"size": (90, 40), "mount": "front", "plate": "4 mm S355"}, "either 'mount'"),
        ({"size": (90, -40), "plate": "4 mm S355"}, "greater than 0"),
    ],
)
def test_mistakes(changes, words):
    with pytest.raises(ValidationError, match=words):
        spacer(**changes)


def test_unknown_mount_names_the_nearest():
    with pytest.raises(GeometryError, match="did you mean 'front'"):
        spacer(size=(90, 40), mount="fronT".lower() + "s").plates(with_mount(4, 4))
