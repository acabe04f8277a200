"""Elliptic edges against shapely on a fine polyline, and against the axes of a cut cylinder."""

from itertools import pairwise
from math import atan2, cos, degrees, pi, radians, sin

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.ellipse import ellipse_arcs
from partgen.geometry.saddle import axes, edge_gap, gap_at, gap_note
from partgen.geometry.segment import Segment


def segments(chain):
    return [Segment(a.x, a.y, b.x, b.y, a.bulge) for a, b in pairwise(chain)]


def true_curve(across, up, start, end):
    t = np.radians(np.linspace(start, end, 20001))
    return shapely.LineString(np.column_stack([across * np.cos(t), up * np.sin(t)]))


def sampled(arcs):
    return [s.at(k / 40) for s in arcs for k in range(41)]


@pytest.mark.parametrize(
    ("across", "up", "start", "end"),
    [(43.2, 38.5, 200, 340), (60, 40, -30, 95), (40, 60, 170, 10), (38.6, 38.1, 0, 180)],
)
def test_arcs_follow_the_ellipse_within_tolerance(across, up, start, end):
    """Both ways: no point of the arcs off the curve, none of the curve off the arcs."""
    arcs = segments(ellipse_arcs(across, up, start, end, 0.05))
    curve = true_curve(across, up, start, end)
    assert max(curve.distance(shapely.Point(p)) for p in sampled(arcs)) <= 0.0501
    points = list(curve.coords)[::50]
    assert max(min(s.distance(p) for s in arcs) for p in points) <= 0.0501


@given(up=st.floats(10, 120), skew=st.floats(0.5, 45), start=st.floats(-180, 180),
       wrap=st.floats(20, 180))  # fmt: skip
def test_any_saddle_is_within_tolerance_and_tangent(up, skew, start, wrap):
    across = up / cos(radians(skew))
    arcs = segments(ellipse_arcs(across, up, start, start - wrap, 0.05))
    for a, b in pairwise(arcs):
        (ux, uy), (vx, vy) = a.direction(1), b.direction(0)
        assert abs(degrees(atan2(ux * vy - uy * vx, ux * vx + uy * vy))) < 0.01
    for s in arcs:
        for k in range(11):
            x, y = s.at(k / 10)
            t = atan2(y / up, x / across)  # near enough the foot of the normal
            ex, ey = across * cos(t), up * sin(t)
            nx, ny = cos(t) / across, sin(t) / up
            off = abs((x - ex) * nx + (y - ey) * ny) / (nx * nx + ny * ny) ** 0.5
            assert off <= 0.0502


@given(up=st.floats(10, 120), skew=st.floats(1, 45), wrap=st.floats(20, 180))
def test_no_more_pairs_than_needed(up, skew, wrap):
    """One pair of arcs fewer, spread alike, misses the tolerance."""
    across = up / cos(radians(skew))
    chain = ellipse_arcs(across, up, 0, wrap, 0.05)
    coarse = ellipse_arcs(across, up, 0, wrap, 5.0)
    assert len(chain) >= len(coarse)
    if len(chain) > len(coarse):
        curve = true_curve(across, up, 0, wrap)
        worst = max(curve.distance(shapely.Point(p)) for p in sampled(segments(coarse)))
        assert worst > 0.045


def test_ends_leave_along_the_ellipse():
    arcs = segments(ellipse_arcs(60, 40, 20, 130, 0.05))
    for s, part, t in ((arcs[0], 0, 20), (arcs[-1], 1, 130)):
        dx, dy = s.direction(part)
        ex, ey = -60 * sin(radians(t)), 40 * cos(radians(t))
        assert dx * ey - dy * ex == pytest.approx(0, abs=1e-9)
        assert dx * ex + dy * ey > 0


def test_a_circle_is_one_arc():
    arcs = segments(ellipse_arcs(38.5, 38.5, 160, 20))
    assert len(arcs) == 1
    assert arcs[0].radius == pytest.approx(38.5)
    assert arcs[0].length == pytest.approx(38.5 * 140 * pi / 180)
    assert arcs[0].bulge < 0


def test_no_arc_without_an_angle():
    with pytest.raises(GeometryError, match="is none"):
        ellipse_arcs(40, 30, 20, 20)


def test_axes_of_a_cylinder_cut_at_an_angle():
    """A plane at 20 degrees cuts a cylinder of radius R in an ellipse R by R / cos 20."""
    across, up = axes(76.2, 0.4, 20)
    assert up == pytest.approx(38.5)
    assert across * cos(radians(20)) == pytest.approx(38.5)
    assert axes(3.25, 0, 10)[0] == pytest.approx(1.650, abs=5e-4)
    assert axes(3.25, 0, 20)[0] == pytest.approx(1.729, abs=5e-4)


def test_gap_of_a_bore_larger_than_the_tube():
    """By intersecting circles with shapely: nearest way from the bore to the tube."""
    tube = shapely.Point(0, 0).buffer(38.1, quad_segs=2000)
    bore_radius, turn = 39.7, radians(70)
    centre = -(bore_radius - 38.1)
    point = shapely.Point(centre + bore_radius * cos(turn), bore_radius * sin(turn))
    assert gap_at(76.2, bore_radius, 70) == pytest.approx(tube.distance(point), abs=1e-4)


def test_square_cut_edge_and_what_to_do_about_it():
    assert edge_gap(6.35, 10) == pytest.approx(6.35 * 0.176327, abs=1e-4)
    assert edge_gap(6.35, -10) == edge_gap(6.35, 10)
    assert gap_note(1.58) is None
    assert "leg larger" in gap_note(1.60)
    assert "bevel" in gap_note(4.80)
    assert "more than a fillet" in gap_note(4.80)
