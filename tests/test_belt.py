"""Belts: tangent joins, radii about the pins, hand sums, and a hull for round pins at random."""

from __future__ import annotations

import random
from math import acos, cos, hypot, pi, radians, sin, sqrt

import pytest
import shapely

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners, rectangle, turns_inward

LUG = [Pin(0, 0), Pin(140, -6, 0, 8), Pin(71, 64, 22), Pin(20, 42, -14), Pin(-12, 47, 5)]


def joins(outline):
    """Return for each vertex its place and how far its two unit tangents are apart."""
    segments = outline.segments
    found = []
    for before, after in zip((segments[-1], *segments[:-1]), segments, strict=True):
        (ux, uy), (vx, vy) = before.direction(1), after.direction(0)
        found.append((after.start, hypot(ux - vx, uy - vy)))
    return found


def arcs_about(outline, x, y):
    """Return the arcs whose centre is (x, y)."""
    return [
        s for s in outline.segments if s.bulge and hypot(s.centre[0] - x, s.centre[1] - y) < 1e-6
    ]


def test_every_join_is_tangent_but_the_one_sharp_corner():
    found = joins(belt(LUG))
    sharp = [place for place, off in found if off > 1e-9]
    assert sharp == [(0, 0)]
    assert len(found) == 9


@pytest.mark.parametrize("pin", [LUG[2], LUG[4]])
def test_the_outline_goes_round_a_pin_at_its_radius(pin):
    outline = belt(LUG)
    assert outline.distance((pin.x, pin.y)) == pytest.approx(pin.radius, abs=1e-6)
    (arc,) = arcs_about(outline, pin.x, pin.y)
    assert arc.radius == pytest.approx(pin.radius, abs=1e-9)
    assert arc.bulge > 0
    assert outline.polygon("inside").contains(shapely.Point(pin.x, pin.y))


def test_a_negative_pin_is_a_concave_arc_about_its_centre():
    outline = belt(LUG)
    (arc,) = arcs_about(outline, 20, 42)
    assert arc.radius == pytest.approx(14, abs=1e-9)
    assert arc.bulge < 0
    assert outline.distance((20, 42)) == pytest.approx(14, abs=1e-6)
    assert not outline.polygon("outside").contains(shapely.Point(20, 42))


def test_belts_at_random_are_tangent_and_keep_their_radii():
    """A ring of pins with pins of either sign; those that cannot be are refused."""
    draw = random.Random(31)
    made = 0
    for _ in range(400):
        count = draw.randrange(3, 8)
        pins = []
        for k in range(count):
            turn = 2 * pi * (k + draw.uniform(-0.25, 0.25)) / count
            reach = draw.uniform(60, 110)
            radius = draw.choice([draw.uniform(2, 25)] * 3 + [-draw.uniform(2, 9)])
            way = complex(reach, 0) * pow(2.718281828459045, 1j * turn)
            pins.append(Pin(way.real + 13, way.imag - 5, radius))
        try:
            outline = belt(pins)
        except GeometryError:
            continue
        made += 1
        assert max(off for _, off in joins(outline)) < 1e-9
        for pin in pins:
            for arc in arcs_about(outline, pin.x, pin.y):
                assert arc.radius == pytest.approx(abs(pin.radius), abs=1e-9)
                assert (arc.bulge > 0) == (pin.radius > 0)
    assert made > 100


def test_round_pins_on_a_convex_ring_give_the_hull_of_their_circles():
    """The belt round outer circles is their convex hull; shapely builds it from fine circles."""
    draw = random.Random(32)
    for _ in range(60):
        pins = []
        for k in range(5):
            turn = 2 * pi * (k + draw.uniform(-0.2, 0.2)) / 5
            way = 90 * pow(2.718281828459045, 1j * turn)
            pins.append(Pin(way.real - 21, way.imag + 8, draw.uniform(4, 18)))
        discs = [shapely.Point(p.x, p.y).buffer(p.radius, quad_segs=500) for p in pins]
        hull = shapely.union_all(discs).convex_hull
        outline = belt(pins)
        assert outline.area == pytest.approx(hull.area, rel=1e-5)
        assert outline.length == pytest.approx(hull.length, rel=1e-5)


def test_two_pins_by_hand():
    """Radii 30 and 12, centres 50 apart: tangents sqrt(50^2 - 18^2), angle acos(18/50)."""
    outline = belt([Pin(7, 3, 30), Pin(7 + 30, 3 + 40, 12)])
    tangent, angle = sqrt(50**2 - 18**2), acos(18 / 50)
    assert outline.length == pytest.approx(2 * tangent + 2 * (pi - angle) * 30 + 2 * angle * 12)
    want = (30 + 12) * tangent + (pi - angle) * 30**2 + angle * 12**2
    assert outline.area == pytest.approx(want)


def test_a_blend_rounds_outer_and_inner_corners():
    """An L: each rounded outer corner takes (1 - pi/4) r^2 off, the inner one adds it."""
    points = [(0, 0), (60, 0), (60, 20), (25, 20), (25, 70), (0, 70)]
    sharp, blended = belt(corners(points)), belt(corners(points, 6))
    assert sharp.area == pytest.approx(60 * 20 + 25 * 50)
    assert blended.area == pytest.approx(sharp.area - (5 - 1) * (1 - pi / 4) * 36)
    assert blended.length == pytest.approx(sharp.length - 6 * (12 - 3 * pi))
    assert max(off for _, off in joins(blended)) < 1e-9
    assert sum(s.bulge < 0 for s in blended.segments) == 1


def test_a_blend_of_an_odd_corner_by_hand():
    """Corner of 36.87 degrees (3-4-5): the arc's ends are r / tan(half) from the corner."""
    outline = belt([Pin(0, 0, 0, 5), Pin(80, 0), Pin(80, 60)])
    arc = next(s for s in outline.segments if s.bulge)
    assert arc.radius == pytest.approx(5)
    low, high = sorted([arc.start, arc.end], key=lambda point: point[1])
    assert low == pytest.approx((15, 0))
    assert high == pytest.approx((12, 9))


def test_corners_in_line_need_no_arc():
    outline = belt([Pin(0, 0), Pin(40, 0, 0, 9), Pin(100, 0), Pin(30, 50)])
    assert all(s.bulge == 0 for s in outline.segments)


def test_a_rectangle_with_full_round_ends():
    assert rectangle(40, 20, 10).area == pytest.approx(20 * 20 + pi * 100)
    assert rectangle(40, 20).box == (-20, -10, 20, 10)
    assert rectangle(40, 20, at=(3, 9)).box == (-17, -1, 23, 19)


@pytest.mark.parametrize(
    ("pins", "says"),
    [
        ([Pin(0, 0, 30), Pin(10, 0, 12)], "only 10 mm apart"),
        ([Pin(0, 0, 5), Pin(0, 0, 5)], "only 0 mm apart"),
        ([Pin(0, 0, 5), Pin(12, 0, -9), Pin(40, 40, 5)], "only 12 mm apart"),
        (corners([(0, 0), (40, 0), (40, 20), (0, 20)], 10.001), "too short for the radii 10"),
        ([Pin(0, 0), Pin(float("nan"), 0), Pin(0, 9)], "no finite number"),
        ([Pin(0, 0), Pin(9, 0, float("inf")), Pin(0, 9)], "no finite number"),
        (corners([(0, 0), (40, 30), (40, 0), (0, 20)]), "crosses itself"),
        ([Pin(0, 0), Pin(100, 0), Pin(50, 4, -30)], "turns inside out"),
        ([Pin(0, 0), Pin(50, 0)], "no area"),
        ([Pin(0, 90, 5), Pin(80, 40, 5), Pin(0, 0, 5)], "turns inside out"),
        ([Pin(-1, 0), Pin(1, 0), Pin(0, 22, 20)], "loop round the radius 20"),
    ],
)
def test_impossible_belts_are_refused(pins, says):
    with pytest.raises(GeometryError, match=says) as caught:
        belt(pins)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("pins", [[], [Pin(3, 4, 5)], [Pin(3, 4)]])
def test_fewer_than_two_pins_are_refused(pins):
    with pytest.raises(GeometryError):
        belt(pins)


def test_a_blend_that_just_fits_and_one_that_does_not():
    points = [(0, 0), (40, 0), (40, 21), (0, 21)]
    assert belt(corners(points, 10.5)).area == pytest.approx(40 * 21 - (4 - pi) * 10.5**2)
    with pytest.raises(GeometryError, match=r"0\.002 mm too short"):
        belt(corners(points, 10.501))


def heading(before, after):
    """Three sharp pins: so many degrees into the middle one, so many out of it."""
    (a, b), (c, d) = ((cos(radians(w)), sin(radians(w))) for w in (before, after))
    return Pin(3 - 7 * a, 2 - 7 * b), Pin(3, 2), Pin(3 + 5 * c, 2 + 5 * d)


@pytest.mark.parametrize(
    ("before", "after", "right"),
    [(60, 5, True), (30, 85, False), (10, -40, True), (-130, -100, False), (25, 25, False)],
)
def test_a_belt_turns_inward_where_it_turns_right(before, after, right):
    assert turns_inward(*heading(before, after)) is right
