"""Outlines: hand sums, and shapely on polygons of very fine chords."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline, Vertex, cos_sin, distance

EAR = belt([Pin(0, 0), Pin(120, 0, 0, 8), Pin(60, 70, 22), Pin(10, 50, -9), Pin(-15, 40)])
SLOT = Outline.slot(50, 20, 30, 11, 17)
CIRCLE = Outline.circle(-7, 4, 33)
# a straight edge of 24 with an arc of 250 degrees on it: more than a half circle
KEY = Outline.of([Vertex(4, 7), Vertex(28, 7, tan(radians(250) / 4))])
BITE = Outline.of(
    [Vertex(0, 0), Vertex(50, 0), Vertex(50, 12, -0.8), Vertex(47, 30), Vertex(3, 41, 0.15)]
)
ALL = {"ear": EAR, "slot": SLOT, "circle": CIRCLE, "key": KEY, "bite": BITE}


def fine(outline, steps=4000):
    """Return a shapely polygon of fine chords, drawn from vertices and bulges alone."""
    points = []
    v = outline.vertices
    for a, b in zip(v, v[1:] + v[:1], strict=True):
        p, q = complex(a.x, a.y), complex(b.x, b.y)
        points.append(p)
        if a.bulge:
            sweep = 4 * np.arctan(a.bulge)
            centre = (p + q) / 2 + 1j * (q - p) / 2 / np.tan(sweep / 2)
            turns = np.exp(1j * sweep * np.arange(1, steps) / steps)
            points.extend(centre + (p - centre) * turns)
    return shapely.Polygon([(p.real, p.imag) for p in points])


@pytest.mark.parametrize("name", ALL)
def test_area_length_centroid_and_box_agree_with_shapely(name):
    outline, view = ALL[name], fine(ALL[name])
    assert outline.area == pytest.approx(view.area, rel=1e-6)
    assert outline.length == pytest.approx(view.length, rel=1e-6)
    assert outline.centroid == pytest.approx((view.centroid.x, view.centroid.y), abs=1e-4)
    assert outline.box == pytest.approx(view.bounds, abs=1e-4)


def test_a_circular_segment_by_hand():
    """r = 12 / sin(125 deg); area r^2 (a - sin a) / 2; centroid 4 r sin^3(a/2) / 3 (a - sin a)."""
    a = radians(250)
    r = 12 / sin(radians(125))
    assert KEY.area == pytest.approx(r**2 * (a - sin(a)) / 2)
    assert KEY.length == pytest.approx(24 + r * a)
    arm = 4 * r * sin(a / 2) ** 3 / (3 * (a - sin(a)))
    # the edge runs to +x and the outline anticlockwise, so the arc lies above it
    assert KEY.centroid == pytest.approx((16, 7 - r * cos(radians(125)) + arm))
    assert KEY.box[1] == 7


def test_a_slot_by_hand():
    """Two half circles of 11 and a rectangle 19 x 11, turned by 17 degrees about its middle."""
    assert SLOT.area == pytest.approx(pi * 5.5**2 + 19 * 11)
    assert SLOT.length == pytest.approx(2 * pi * 5.5 + 2 * 19)
    assert SLOT.centroid == pytest.approx((50, 20))
    reach_x, reach_y = 9.5 * cos(radians(17)) + 5.5, 9.5 * sin(radians(17)) + 5.5
    want = (50 - reach_x, 20 - reach_y, 50 + reach_x, 20 + reach_y)
    assert SLOT.box == pytest.approx(want)


def test_a_rounded_rectangle_by_hand():
    outline = rectangle(70, 36, 12, at=(120, 40))
    assert outline.area == pytest.approx(70 * 36 - (4 - pi) * 12**2)
    assert outline.length == pytest.approx(2 * (70 + 36) - 8 * 12 + 2 * pi * 12)
    assert outline.centroid == pytest.approx((120, 40))
    assert outline.box == pytest.approx((85, 22, 155, 58))
    assert len(outline.vertices) == 8


def test_a_circle_by_hand():
    assert CIRCLE.area == pytest.approx(pi * 16.5**2)
    assert CIRCLE.length == pytest.approx(pi * 33)
    assert CIRCLE.centroid == pytest.approx((-7, 4))
    assert Outline.circle(-7, 4, 33).circle_of == (-7, 4, 33)
    assert Outline.circle(-7, 4, 33).area == CIRCLE.area
    assert CIRCLE.box == (-23.5, -12.5, 9.5, 20.5)
    assert Outline.slot(50, 20, 30, 11).circle_of is None
    assert KEY.circle_of is None
    assert Outline((Vertex(0, 0, 0.95), Vertex(9, 0, 0.95))).circle_of is None  # a lens


@pytest.mark.parametrize("name", ALL)
def test_mirrored_twice_is_the_very_same(name):
    outline = ALL[name]
    mirror = outline.mirrored()
    assert mirror.mirrored() == outline
    assert mirror.area == pytest.approx(outline.area)  # positive: still anticlockwise
    assert mirror.centroid == pytest.approx((-outline.centroid[0], outline.centroid[1]))
    x0, y0, x1, y1 = outline.box
    assert mirror.box == pytest.approx((-x1, y0, -x0, y1))
    flipped = shapely.transform(fine(outline), lambda p: p * [-1, 1])
    assert fine(mirror).symmetric_difference(flipped).area < 1e-3


@pytest.mark.parametrize("name", ALL)
def test_moved_and_turned(name):
    outline = ALL[name]
    other = outline.turned(37, (5, -3)).moved(11, -8)
    c, s = cos(radians(37)), sin(radians(37))
    x, y = outline.centroid[0] - 5, outline.centroid[1] + 3
    assert other.centroid == pytest.approx((5 + c * x - s * y + 11, -3 + s * x + c * y - 8))
    assert (other.area, other.length) == pytest.approx((outline.area, outline.length))
    assert other.moved(-11, 8).turned(-37, (5, -3)).is_same(outline)


def test_quarter_turns_are_exact():
    assert EAR.turned(90).turned(90).turned(180) == EAR
    assert EAR.turned(-90) == EAR.turned(270)
    assert cos_sin(450) == (0.0, 1.0)
    assert cos_sin(-180) == (-1.0, 0.0)


@pytest.mark.parametrize("error", [0.5, 0.01, 0.001])
@pytest.mark.parametrize("name", ALL)
def test_polygons_lie_wholly_inside_or_outside_and_within_the_chord_error(name, error):
    outline, exact = ALL[name], fine(ALL[name])
    inside, outside = outline.polygon("inside", error), outline.polygon("outside", error)
    assert inside.is_valid
    assert outside.is_valid
    fuzz = 1e-5  # the reference itself has chords
    assert exact.buffer(fuzz).contains(inside)
    assert outside.buffer(fuzz).contains(exact)
    for view in (inside, outside):
        assert shapely.hausdorff_distance(view.exterior, exact.exterior) <= error + fuzz
        off = [outline.distance(p) for p in view.exterior.coords]
        assert max(off) <= error + 1e-9
    assert inside.area < outline.area < outside.area


SIZES = st.tuples(st.floats(0.5, 200), st.floats(0.02, 3.9), st.booleans())


@given(SIZES, st.floats(0.001, 2), st.floats(-180, 180))
def test_polygons_of_any_arc_convex_or_concave(sizes, error, turn):
    """A plate 3 chords wide with one arc in its upper edge, of 2 to 223 degrees."""
    chord, sweep, convex = sizes
    bulge = tan(sweep / 4) if convex else -tan(sweep / 4)
    depth = 2 * chord + chord * abs(bulge)
    outline = Outline.of(
        [
            Vertex(0, -depth),
            Vertex(5 * chord, -depth),
            Vertex(5 * chord, 0),
            Vertex(3 * chord, 0, bulge),
            Vertex(2 * chord, 0),
            Vertex(0, 0),
        ]
    ).turned(turn)
    inside, outside = outline.polygon("inside", error), outline.polygon("outside", error)
    slack = 1e-9 * outline.area + 1e-9
    assert inside.area <= outline.area + slack
    assert outside.area >= outline.area - slack
    assert inside.difference(fine(outline, 400).buffer(chord * 1e-4)).area <= slack
    length = outline.segments[3].length
    assert outline.area - inside.area <= error * length + slack
    assert outside.area - outline.area <= error * length + slack
    for view in (inside, outside):
        assert max(outline.distance(p) for p in view.exterior.coords) <= error + 1e-7


def test_clockwise_points_and_doubles_are_put_right():
    want = Outline.of([Vertex(0, 0), Vertex(30, 0), Vertex(30, 20, 0.3), Vertex(0, 25)])
    backwards = [Vertex(0, 0), Vertex(0, 25, -0.3), Vertex(30, 20), Vertex(30, 0)]
    doubled = [Vertex(0, 0), Vertex(0, 1e-8), *backwards[1:], Vertex(1e-9, 0)]
    assert Outline.of(backwards).is_same(want)
    assert Outline.of(doubled).is_same(want)
    assert want.area > 0


@pytest.mark.parametrize(
    ("vertices", "says"),
    [
        ([Vertex(0, 0)], "two different points"),
        ([Vertex(0, 0), Vertex(1e-8, 0)], "two different points"),
        ([Vertex(0, 0), Vertex(9, 3)], "no area"),
        ([Vertex(0, 0, 0.5), Vertex(9, 3, -0.5)], "no area"),
        ([Vertex(0, 0), Vertex(9, 9), Vertex(9, 0), Vertex(0, 5)], "crosses itself"),
        ([Vertex(0, 0), Vertex(40, 0, -2), Vertex(40, 10), Vertex(0, 10)], "crosses itself"),
    ],
)
def test_what_is_no_outline(vertices, says):
    with pytest.raises(GeometryError, match=says) as caught:
        Outline.of(vertices)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(("length", "width"), [(11, 11), (5, 11), (11, 0), (11, -2)])
def test_what_is_no_slot(length, width):
    with pytest.raises(GeometryError, match="longer than wide"):
        Outline.slot(0, 0, length, width)


def test_distance_from_a_point_and_between_chains():
    """Hole of 16.5 in a slot's plate: centre distance less radii, and a corner by Pythagoras."""
    assert CIRCLE.distance((-7 + 3, 4 + 4)) == pytest.approx(16.5 - 5)
    other = Outline.circle(-7 + 30, 4 - 40, 20)
    assert distance(CIRCLE.segments, other.segments) == pytest.approx(50 - 16.5 - 10)
    square = rectangle(10, 10, at=(40, 40))
    far = rectangle(10, 6, at=(53, 52))
    assert distance(square.segments, far.segments) == pytest.approx(sqrt(3**2 + 4**2))
    assert distance(EAR.segments, EAR.turned(20).segments) == 0.0


def test_same_outline_from_another_vertex():
    v = EAR.vertices
    assert EAR.is_same(Outline(v[3:] + v[:3]))
    assert not EAR.is_same(EAR.moved(0.001, 0))
    assert not EAR.is_same(Outline((*v[:-1], Vertex(v[-1].x, v[-1].y, v[-1].bulge + 0.001))))
    assert not EAR.is_same(SLOT)
    assert not EAR.is_same(EAR.mirrored())


def test_a_slot_lies_along_x_and_a_turn_is_about_the_origin_unless_told():
    assert Outline.slot(7, 3, 40, 12).box == pytest.approx((-13, -3, 27, 9))
    assert rectangle(20, 10, at=(30, 5)).turned(90).box == pytest.approx((-10, 20, 0, 40))
