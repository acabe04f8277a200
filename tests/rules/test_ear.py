"""The metal round a mount's hole, in slanted directions, by hand."""

from dataclasses import replace
from math import sqrt
from types import SimpleNamespace

import pytest
from helpers import plate

from partgen.geometry.outline import Outline
from partgen.rules.ear import Ear, ears_of

# left edge x = 0.2 y, bottom y = -0.1 x
POINTS = [(0, 0), (200, -20), (150, 100), (20, 100)]
WINDOW = ("w", Outline.circle(30 + 60 * 0.8, 40 + 60 * 0.6, 12))  # 60 from A, at 4 to 3
PLATE = plate(POINTS, [("A", 30, 40, "M16"), ("B", 110, 40, "M16")], [WINDOW])
EAR, R = Ear(PLATE, PLATE.holes[0]), 17.5 / 2  # ISO 273, medium


@pytest.mark.parametrize(
    ("way", "metal"),
    [
        ((0.8, 0.6), 60 - 6 - R),  # to the window
        ((1, 0), 80 - R - R),  # to the other hole
        ((-0.8, 0.6), 22 / 0.92 - R),  # 30 - .8 t = .2 (40 + .6 t)
        ((-8, -6), 22 / 0.68 - R),
        ((0, 5), 60 - R),
    ],
)
def test_metal_from_the_holes_edge_in_a_direction(way, metal):
    assert EAR.clear(way) == pytest.approx(metal)


@pytest.mark.parametrize(
    ("way", "metal"),
    [
        ((0.6, 0.8), 22 / 0.92 - R),
        ((-0.6, -0.8), 22 / 0.92 - R),
        ((0.6, -0.8), 22 / 0.68 - R),
        ((-0.6, 0.8), 22 / 0.68 - R),
    ],
)
def test_the_smaller_metal_of_both_sides(way, metal):
    assert EAR.side(way) == pytest.approx(metal)


def test_the_least_metal_is_to_the_nearest_edge_of_any():
    assert EAR.least == pytest.approx(22 / sqrt(1.04) - R)  # to x = 0.2 y
    beside = replace(PLATE.holes[1], x=56)
    near = replace(PLATE, holes=(PLATE.holes[0], beside))
    assert Ear(near, near.holes[0]).least == pytest.approx(26 - R - R)


def test_the_plates_width_through_a_point_both_ways():
    """From (60, 0): up to the right edge, 60 + .8 t = 575 / 3 - .25 t, down to y = -0.1 x,
    .6 t = 6 - .08 t."""
    bare = Ear(plate(POINTS, [("A", 30, 70, "M16")]), EAR.hole)
    assert bare.width((60, 0), (0.8, 0.6)) == pytest.approx((575 / 3 - 60) / 1.05 + 6 / 0.68)
    assert bare.width((40, 10), (0, 1)) == pytest.approx(104)
    whole = 575 / 3 - 40 * 5 / 12 - 8  # at y = 40, less both holes; the window lies above
    assert EAR.width((60, 40), (1, 0)) == pytest.approx(whole - 4 * R, abs=0.05)
    assert EAR.width((250, 40), (1, 0)) == 0  # beside the plate


def test_the_ears_of_a_mount_are_its_plates_about_its_bolt_once_each():
    inner = replace(PLATE, part="mount", name="inner", hand="left")
    outer = replace(PLATE, part="mount", name="outer", hand="right").mirrored()
    outer = replace(outer, hand="right")
    other = replace(PLATE, part="gusset")
    off = replace(PLATE, part="mount", name="pad", holes=PLATE.holes[1:])
    mount = SimpleNamespace(name="mount", pivot=(30.0005, 40))
    ears = ears_of(mount, [inner, other, inner.mirrored(), off, outer])
    assert [(e.plate.key, e.centre, e.plate.hand) for e in ears] == [
        ("mount/inner", (30, 40), "left"),
        ("mount/outer", (30, 40), "left"),
    ]
