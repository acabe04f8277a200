"""Skid plate: bend lines, holes on their flats; developed lengths are in test_bending.py."""

from math import radians

import pytest
from helpers import part, shop
from pydantic import ValidationError

from partgen.errors import GeometryError
from partgen.plates.plate import hands_of
from partgen.rules import bend_radius, bend_room


def skid(**changes):
    data = {"plate": "5 mm S355", "flats": (90, 300, 70), "angles": (40, -25), "width": 240,
            "radius": 10, "k_factor": 0.4, "corner": 0} | changes  # fmt: skip
    return part("skid-plate", **data)


FIRST = radians(40) * 12  # allowance of the first bend: R + K T = 12


def test_bend_lines_lie_in_the_middle_of_their_allowance():
    (plate,) = skid().plates(shop())
    second = radians(25) * 12
    xs = [mark.path[0][0] for mark in plate.marks]
    assert xs == pytest.approx([90 + FIRST / 2, 90 + FIRST + 300 + second / 2])
    assert [m.angle for m in plate.marks] == [40, -25]
    assert {m.kind for m in plate.marks} == {"bend"}
    assert plate.outline.box[2] == pytest.approx(460 + FIRST + second)


def test_bend_lines_end_3_mm_short_of_a_tapering_edge():
    (plate,) = skid(end_width=120).plates(shop())
    for mark in plate.marks:
        (x, low), (_, high) = mark.path
        half = (240 - 120 * x / plate.outline.box[2]) / 2
        assert (low, high) == pytest.approx((3 - half, half - 3))


def test_holes_are_placed_on_their_flat():
    (plate,) = skid(
        holes=[{"flat": 2, "at": (40, -60), "bolt": "M10"}],
        windows=[{"flat": 3, "at": (40, 20), "size": (30, 20), "radius": 8}],
    ).plates(shop())
    assert plate.holes[0].x == pytest.approx(90 + FIRST + 40)
    assert plate.windows[0].outline.centroid[1] == pytest.approx(20)


def test_symmetric_about_its_middle_line_it_has_no_hand():
    (plate,) = skid().plates(shop())
    assert plate.is_symmetric
    (odd,) = skid(holes=[{"flat": 2, "at": (40, -60), "bolt": "M10"}]).plates(shop())
    assert [p.hand for p in hands_of(odd, "both")] == ["left", "right"]


def test_rule_measures_openings_from_the_bend():
    """A 13 mm hole 20 mm into flat 2: 20 + FIRST / 2 - 6.5 from the line; needs 2 x 5 + 10."""
    (plate,) = skid(holes=[{"flat": 2, "at": (20, 0), "bolt": "M12", "fit": "close"}]).plates(
        shop()
    )
    found = bend_room.check(plate, shop())
    assert found[0].measured == pytest.approx(20 + FIRST / 2 - 6.5)
    assert found[0].required == 20
    assert found[0].status == "fail"


@pytest.mark.parametrize(("at", "status"), [(0.001, "pass"), (-0.001, "fail")])
def test_rule_at_its_limit(at, status):
    near = 20 - FIRST / 2 + 6.5 + at
    (plate,) = skid(holes=[{"flat": 2, "at": (near, 0), "bolt": "M12", "fit": "close"}]).plates(
        shop()
    )
    assert bend_room.check(plate, shop())[0].status == status


@pytest.mark.parametrize(("radius", "status"), [(10, "pass"), (9.9, "warn")])
def test_rule_on_the_radius(radius, status):
    (plate,) = skid(radius=radius).plates(shop())
    found = bend_radius.check(plate, shop())
    assert {f.status.value for f in found} == {status}
    assert "40 degrees up" in found[0].where
    assert "25 degrees down" in found[1].where


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"angles": (40,)}, "3 flats have 2 bends"),
        ({"angles": (40, 0)}, "1 to 170 degrees"),
        ({"holes": [{"flat": 4, "at": (1, 1), "bolt": "M6"}]}, "flat = 4: there are 3 flats"),
        ({"k_factor": 0.6}, "less than or equal to 0.5"),
    ],
)
def test_mistakes(changes, words):
    with pytest.raises(ValidationError, match=words):
        skid(**changes)


def test_a_flat_eaten_by_its_bends_says_so():
    with pytest.raises(GeometryError, match="flat 3: the bends leave"):
        skid(measured="outside", flats=(90, 300, 3)).plates(shop())
