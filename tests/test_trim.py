"""One outline less another: against shapely on fine polygons, and by hand."""

from math import acos, pi, sqrt

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.geometry.trim import less, winding

LUG = belt([Pin(0, 0, 6), Pin(150, -8, 9), Pin(80, 95, 24)])
WHERE = st.tuples(st.floats(-25, 190), st.floats(-30, 130))
TOOLS = st.one_of(
    st.builds(
        lambda at, w, h, r, a: rectangle(w, h, r, at).turned(a, at),
        WHERE, st.floats(20, 160), st.floats(20, 160), st.sampled_from([0, 6, 10]),
        st.one_of(st.just(0), st.floats(0, 90)),
    ),
    st.builds(lambda at, d: Outline.circle(*at, d), WHERE, st.floats(5, 150)),
    st.builds(lambda at, n, w, a: Outline.slot(*at, w + n, w, a), WHERE, st.floats(3, 80),
              st.floats(8, 60), st.floats(0, 180)),
)  # fmt: skip


@given(TOOLS)
def test_against_shapely_on_fine_polygons(tool):
    left = less(LUG, tool)
    whole, cut = LUG.polygon("inside", 1e-4), tool.polygon("inside", 1e-4)
    wanted = whole.difference(cut)
    area = sum(o.area for o in left.outlines) - sum(o.area for o in left.openings)
    assert area == pytest.approx(wanted.area, abs=0.05)
    view = shapely.union_all([o.polygon("inside", 1e-4) for o in left.outlines])
    for hole in left.openings:
        view = view.difference(hole.polygon("inside", 1e-4))
    assert view.symmetric_difference(wanted).area < 0.1
    assert len(left.outlines) == sum(p.area > 1 for p in shapely.get_parts(wanted)) or area < 5
    for outline in left.outlines:
        for s in outline.segments:
            middle = s.at(0.5)
            assert min(LUG.distance(middle), tool.distance(middle)) < 1e-5


@given(WHERE, st.floats(-25, 190), st.floats(-30, 130))
def test_winding_against_shapely(at, dx, dy):
    if LUG.distance(at) > 1e-3:
        assert winding(LUG, at) == shapely.contains_xy(LUG.polygon("inside", 1e-4), *at)


@pytest.mark.parametrize(("x", "inside"), [(72.5, 1), (80, 1), (94, 1), (96, 0), (60, 0)])
def test_winding_on_the_chord_of_an_arc(x, inside):
    assert winding(Outline.circle(80, 0, 30), (x, 0)) == inside


def test_a_round_bite_by_hand():
    """A circle of radius 10 about a point 6 mm inside the edge: chord 16, sector by hand."""
    plate = rectangle(100, 60)
    left = less(plate, Outline.circle(13, 24, 20))
    segment_outside = 100 * acos(6 / 10) - 6 * 8
    (outline,) = left.outlines
    assert plate.area - outline.area == pytest.approx(pi * 100 - segment_outside)
    assert sorted(left.mouths) == [pytest.approx((5, 30)), pytest.approx((21, 30))]
    assert [s.radius for s in outline.segments if s.bulge] == pytest.approx([10])


@pytest.mark.parametrize(
    ("tool", "outlines", "openings", "cut_away"),
    [
        (rectangle(30, 20, 0, (0, 20)), 1, 0, 600),  # its edge lies along the plate's
        (rectangle(30, 60, 0, (35, 0)), 1, 0, 1800),  # three edges do
        (rectangle(30, 70, 0, (4, 0)), 2, 0, 1800),  # in two
        (rectangle(30, 20, 5, (4, 3)), 1, 1, 600 - (4 - pi) * 25),  # inside
        (rectangle(100, 60), 0, 0, 6000),  # all of it
        (rectangle(20, 20, 0, (60, 40)), 1, 0, 0),  # touches a corner only
        (rectangle(20, 20, 0, (60, 0)), 1, 0, 0),  # touches an edge only
        (rectangle(40, 40, 0, (50, 30)), 1, 0, 400),  # a quarter over the corner
    ],
)
def test_edges_that_coincide_and_other_odd_cases(tool, outlines, openings, cut_away):
    plate = rectangle(100, 60)
    left = less(plate, tool)
    assert (len(left.outlines), len(left.openings)) == (outlines, openings)
    area = sum(o.area for o in left.outlines) - sum(o.area for o in left.openings)
    assert plate.area - area == pytest.approx(cut_away)


def test_nothing_is_left_of_a_plate_inside_the_tool_and_all_of_one_outside():
    assert not less(LUG, rectangle(900, 900)).outlines
    assert less(LUG, rectangle(9, 9, 0, (400, 0))).outlines == (LUG,)


def test_a_tool_round_the_corner_of_a_triangle():
    triangle = belt(corners([(0, 0), (80, 0), (0, 60)]))
    left = less(triangle, Outline.circle(80, 0, 30))
    half = acos(0.8) / 2
    assert triangle.area - left.outlines[0].area == pytest.approx(225 * half)
    assert len(left.mouths) == 2


def test_cut_to_a_tangent_line_is_sound():
    """A slot whose round end just touches the far edge leaves no open edge."""
    plate = rectangle(100, 60)
    try:
        left = less(plate, Outline.slot(0, 5, 70, 20, 90))
    except GeometryError:
        return
    area = sum(o.area for o in left.outlines)
    gone = 20 * 45 + pi * 50
    assert plate.area - area == pytest.approx(gone, abs=1e-3)
    assert sqrt(area) > 0
