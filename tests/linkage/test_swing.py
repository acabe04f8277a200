"""Swing: closed form of one corner, turned shapes, mirror symmetry, wider range never clears more."""

from math import cos, radians, sin

import numpy as np
import pytest
import shapely
from helpers import plate
from hypothesis import given
from hypothesis import strategies as st
from linkage_makers import entry, link
from shapely import affinity

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.geometry.segment import Segment
from partgen.linkage.bracket import Bracket
from partgen.linkage.entry import ObstacleEntry
from partgen.linkage.obstacle import Obstacle, beads, bolt_heads, declared
from partgen.linkage.points import layout
from partgen.linkage.swing import clearance, nearest, silhouette

INCH = 25.4


def shape(tube=2 * INCH, body=2.6 * INCH, length=40 * INCH, reach=None, **frame):
    """Silhouette of a link with a joint at its frame end."""
    data = link("one", (0, 10, 0), (length, 10, 0), tube=tube, pair=False)
    data["frame"] |= {"joint": "bush", **frame}
    if "shoulder" in frame:
        data["shoulder"] = data["frame"].pop("shoulder")
    joint = Joint(width=70, body_diameter=body, bolt="M16")
    made = layout(entry(wheel=(0, 10, 0), bump=1, droop=1, link=[data]), {}, {"bush": joint})
    one = made.links[0]
    return silhouette(one, one.frame, reach or length)


def corner(x, y):
    """An obstacle that is one corner: two short lines away from the link."""
    return Obstacle("corner", (Segment(x, y + 40, x, y), Segment(x, y, x + 1e-3, y + 40)))


@pytest.mark.parametrize(("angle", "by_hand"), [(4.78, 1.490), (7.78, 1.160)])
def test_one_corner_against_the_closed_form(angle, by_hand):
    """Corner at (6, 3) in from the hole, half width 1 in: yc cos th - xc sin th - h, in inches."""
    away, _ = clearance(shape(), (0, 0), angle, corner(6 * INCH, 3 * INCH))
    th = radians(angle)
    assert away / INCH == pytest.approx(3 * cos(th) - 6 * sin(th) - 1, abs=1e-6)
    assert away / INCH == pytest.approx(by_hand, abs=1e-3)


def test_sweep_finds_the_least_of_the_closed_form_within_the_range():
    """Up to bump + 3 deg: the corner is nearest at the end, 1.160 in."""
    (found,) = nearest(shape(), (0, 0), -17.79 - 3, 7.78, [corner(6 * INCH, 3 * INCH)])
    assert found.clearance / INCH == pytest.approx(1.160, abs=1e-3)
    assert found.angle == pytest.approx(7.78)
    assert found.at == pytest.approx((6 * INCH, 3 * INCH))


def test_sweep_finds_a_least_that_lies_inside_the_range():
    """The far end's corner passes a wall in front: nearest where the corner points straight at it."""
    tall = shape(tube=40, body=50, length=300)
    wall = Obstacle("wall", (Segment(320, -500, 320, 500),))
    (found,) = nearest(tall, (0, 0), -50.3, 61.7, [wall])
    reach = (300**2 + 20**2) ** 0.5
    assert found.clearance == pytest.approx(320 - reach, abs=1e-6)
    assert abs(found.angle) == pytest.approx(3.8141, abs=1e-3)


@given(
    st.floats(-20, 20), st.floats(0, 15), st.floats(0, 15), st.floats(80, 250), st.floats(30, 90)
)
def test_a_wider_range_never_clears_more_and_mirrors(first, span, more, x, y):
    outline, thing = shape(), [corner(x, y)]
    narrow = nearest(outline, (0, 0), first, first + span, thing)[0].clearance
    wide = nearest(outline, (0, 0), first - more, first + span + more, thing)[0].clearance
    assert wide <= narrow + 1e-6
    below = [
        Obstacle("corner", tuple(Segment(s.x0, -s.y0, s.x1, -s.y1) for s in thing[0].segments))
    ]
    mirrored = nearest(outline, (0, 0), -first - span, -first, below)[0].clearance
    assert mirrored == pytest.approx(narrow, abs=1e-4)


@given(st.floats(-25, 25), st.floats(60, 400), st.floats(-60, 120))
def test_clearance_agrees_with_polygons_of_a_general_library(angle, x, y):
    """shapely, silhouette built anew: disc, taper and tube, turned; a bolt head as a disc."""
    outline = shape(shank=110, engaged=40, shank_diameter=24, shoulder=30)
    tube = shapely.box(100, -INCH, 40 * INCH, INCH)
    taper = shapely.Polygon([(70, -12), (100, -INCH), (100, INCH), (70, 12)])
    r = 1.3 * INCH
    disc = shapely.Point(0, 0).buffer(r, quad_segs=720)
    neck = shapely.MultiPoint([(70, 12), (70, -12)]).union(disc).convex_hull
    whole = affinity.rotate(shapely.union_all([disc, neck, taper, tube]), angle, (0, 0))
    head = shapely.Point(x, y).buffer(15, quad_segs=720)
    circle = declared(ObstacleEntry(name="head", mount="m", at=(x, y), diameter=30), STRAIGHT, [])[
        0
    ]
    away, _ = clearance(outline, (0, 0), angle, circle)
    assert away == pytest.approx(whole.distance(head), abs=2e-3)


STRAIGHT = Rail(width=50, depth=100)


def test_an_obstacle_wholly_inside_the_link_is_a_hit():
    inside = declared(ObstacleEntry(name="pin", mount="m", at=(300, 2), diameter=6), STRAIGHT, [])
    assert clearance(shape(), (0, 0), 0, inside[0])[0] == 0


def test_a_plate_on_edge_counts_half_its_thickness_and_its_beads():
    """A 6 mm plate upright at x = 200 with 5 mm fillets at the rail (y = 0)."""
    data = ObstacleEntry(
        name="web", mount="m", line=((200, 0), (200, -30)), thickness=6, weld_leg=5
    )
    web, right, left = declared(data, STRAIGHT, [])
    assert web.half == 3
    ends = [s for bead in (right, left) for s in bead.segments]
    assert sorted(p for s in ends for p in (s.start, s.end)) == [
        pytest.approx(p) for p in sorted([(208, 0), (203, -5), (192, 0), (197, -5)])
    ]
    away, _ = clearance(shape(tube=40, body=50), (0, -100), 0, web)
    assert away == pytest.approx(100 - 20 - 30 - 3)


def test_beads_follow_a_slanting_rail():
    slope = Rail(width=50, depth=100, lower_edge=((0, 0), (400, -100)))
    found = beads("web", (200, -50), (200, -90), 6, 5, slope)
    along = np.array([400, -100]) / np.hypot(400, 100)
    toe = np.array([200, -50]) + along * (3 / along[0] + 5)
    assert found[0].segments[0].start == pytest.approx(tuple(toe))


def test_thickness_comes_from_the_part():
    made = plate([(0, 0), (60, 0), (60, 40), (0, 40)], thickness=8)
    data = ObstacleEntry(part="test", mount="m", line=((0, 0), (0, -30)))
    assert declared(data, STRAIGHT, [made])[0].half == 4


def test_silhouette_stops_where_the_link_has_left_the_mount_sideways():
    assert shape(reach=200).box[2] == pytest.approx(200)
    assert shape().box[2] == pytest.approx(40 * INCH)
    assert shape(reach=5).box[2] > 2 * INCH  # never shorter than the joint


def test_bolts_across_the_gap_below_the_rail_are_in_the_way():
    holes = [("joint", 0, -60, "M16"), ("low", 80, -30, "M12"), ("high", 40, 60, "M12")]
    points = [(-100, -90), (150, -90), (150, 90), (-100, 90)]
    made = plate(points, holes=holes)

    (found,) = bolt_heads(Bracket("test", (made,)), ["joint"], "joint", STRAIGHT)
    assert found.name == "bolt low"
