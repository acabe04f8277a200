"""Section properties of plates with holes against the library sectionproperties, within 0.5 %."""

from math import cos, radians, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from sectionproperties.analysis import Section as Peer
from sectionproperties.pre import Geometry

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.strength.reach import reach
from partgen.strength.section import section, turned

EAR = belt([*corners([(0, 0), (210, 4)], 3), Pin(180, 131, 24), *corners([(0, 95)], 7)])
NOTCHED = belt(
    [*corners([(0, 0), (110, 0), (110, 20)]), Pin(103, 50, -10), *corners([(110, 83), (110, 100), (0, 100)])]
)  # fmt: skip
PLATES = {
    "ear": (
        EAR,
        [Outline.circle(180, 131, 17), rectangle(40, 20, 6, (70, 50)).turned(20, (70, 50))],
    ),
    "notched": (NOTCHED, [Outline.slot(50, 50, 40, 14, 30)]),
    "bare": (EAR, []),
    "disc": (Outline.circle(30, -20, 80), [Outline.circle(42, -11, 22)]),
}


def peer(outline, openings):
    view = outline.polygon("inside", 0.001)
    for opening in openings:
        view = view.difference(opening.polygon("inside", 0.001))
    geometry = Geometry(view)
    geometry.create_mesh([50])
    found = Peer(geometry)
    found.calculate_geometric_properties()
    return found


@pytest.mark.parametrize("name", PLATES)
def test_plates_with_holes(name):
    outline, openings = PLATES[name]
    mine, other = section(outline, openings), peer(outline, openings)
    assert mine.area == pytest.approx(other.get_area(), rel=0.005)
    assert mine.centroid == pytest.approx(other.get_c(), rel=0.005)
    ixx, iyy, ixy = other.get_ic()
    assert (mine.ix, mine.iy) == pytest.approx((ixx, iyy), rel=0.005)
    assert mine.ixy == pytest.approx(ixy, abs=0.005 * max(ixx, iyy))


@settings(max_examples=60)
@given(st.floats(30, 200), st.floats(30, 200), st.floats(0, 14), st.floats(-170, 170))
def test_turning_a_shape_is_turning_its_axes(width, height, blend, angle):
    shape = rectangle(width, height, blend, (13, -5))
    hole = [Outline.circle(15, -2, 9)]
    straight, at = section(shape, hole), section(shape.turned(angle), [hole[0].turned(angle)])
    ix, iy = turned(straight, radians(-angle))
    assert (at.ix, at.iy) == pytest.approx((ix, iy), rel=1e-8)
    assert at.area == pytest.approx(straight.area)


@pytest.mark.parametrize("angle", range(3, 360, 29))
def test_rays_reach_what_shapely_says(angle):
    way = (cos(radians(angle)), sin(radians(angle)))
    window = rectangle(40, 20, 6, (70, 50)).turned(20, (70, 50))
    start = (120.0, 60.0)
    line = shapely.LineString([start, (start[0] + 900 * way[0], start[1] + 900 * way[1])])
    edges = [o.polygon("inside", 0.0001).exterior for o in (EAR, window)]
    expected = min(
        shapely.Point(start).distance(line.intersection(e)) for e in edges if line.intersects(e)
    )
    assert reach([EAR, window], start, way) == pytest.approx(expected, abs=1e-3)


def test_a_ray_in_the_open_reaches_nothing():
    assert reach([EAR], (500, 500), (1, 0.2)) == float("inf")


def test_a_ray_to_an_edge_near_by():
    bar = rectangle(100, 30)
    assert reach([bar], (48, 3), (1, 0)) == pytest.approx(2)
    assert reach([bar], (48, 3), (0, -7)) == pytest.approx(18)


@pytest.mark.parametrize(("way", "away"), [((30, 40), 37.5), ((-12, 5), 169 / 3), ((0.1, 0), 48)])
def test_reach_in_a_direction_of_any_length(way, away):
    """From (2, 0) in a box of 100 x 60: 30 up at 4 in 5, 52 back at 12 in 13, 48 ahead."""
    assert reach([rectangle(100, 60)], (2.0, 0.0), way) == pytest.approx(away)
