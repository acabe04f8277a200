"""Free outline: corners, inside corners, openings and marks by hand."""

from math import pi

import pytest
from helpers import part, shop

from partgen.errors import GeometryError
from partgen.plates.plate import Mark

L = [(0, 0), (160, 0), (160, 50), (60, 50), (60, 110), (0, 110)]


def plate(**changes):
    (made,) = part("plate", **({"plate": "6 mm S355", "points": L} | changes)).plates(shop())
    return made


def test_area_of_an_l_with_rounded_corners():
    """Five outward corners of 6 lose, one inward corner of 14 gains (1 - pi/4) r2."""
    corner = 1 - pi / 4
    bare = 160 * 50 + 60 * 60
    assert plate(inside=14).area == pytest.approx(bare - 5 * corner * 36 + corner * 196)


def test_either_way_round():
    assert plate(points=L[::-1]).area == pytest.approx(plate().area)


def test_a_corner_of_its_own():
    given = [*L[:2], {"at": (160, 50), "radius": 20}, *L[3:]]
    corner = 1 - pi / 4
    assert plate().area - plate(points=given).area == pytest.approx(corner * (400 - 36))


@pytest.mark.parametrize("how", [{"inside": 0}, {"points": [*L[:3], {"at": (60, 50), "radius": 0}, *L[4:]]}])  # fmt: skip
def test_a_sharp_inside_corner_must_be_asked_for(how):
    with pytest.raises(
        GeometryError, match=r"the corner at \(60, 50\) mm turns inward and is sharp"
    ):
        plate(**how)
    assert plate(**how, sharp=True, corner=0).area == pytest.approx(160 * 50 + 60 * 60)


def test_openings_and_marks():
    made = plate(
        rounds=[{"at": (30, 80), "diameter": 30}],
        windows=[{"at": (110, 25), "size": (40, 20), "radius": 10}],
        holes=[{"at": (30, 25), "bolt": "M10"}],
        scribe=[[(0, 60), (60, 60)]],
    )
    assert [w.name for w in made.windows] == ["round-1", "1"]
    assert made.marks == (Mark("scribe", ((0, 60), (60, 60))),)


def test_crossing_lines_are_refused():
    with pytest.raises(GeometryError, match="crosses itself"):
        plate(points=[(0, 0), (100, 80), (100, 0), (0, 90)], corner=0, inside=0, sharp=True)
