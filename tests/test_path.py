"""Paths: offsets that keep their distance exactly, and errors that name the station."""

import re
from contextlib import suppress
from dataclasses import replace
from itertools import pairwise
from math import atan2, degrees, hypot, radians, sin, tan

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from partgen.entries.edge import bent
from partgen.errors import GeometryError
from partgen.geometry.crossing import turn_at
from partgen.geometry.outline import distance
from partgen.geometry.path import Path
from partgen.geometry.segment import Segment

KICK = [(0, 0), (300, 4), (520, 61), (800, 40)]
S_CURVE = bent([(0, 0), (250, 10), (480, 130), (800, 150)], [0, 140, 190, 0])


def samples(path, count=200):
    """Points spread evenly over the length of a path."""
    total = sum(s.length for s in path.segments)
    for k in range(count):
        at = total * (k + 0.5) / count
        for s in path.segments:
            if at <= s.length:
                yield s.at(at / s.length)
                break
            at -= s.length


def sharp_turns(path):
    return [turn for a, b in pairwise(path.segments) if abs(turn := degrees(turn_at(a, b))) > 0.01]


@pytest.mark.parametrize("left", [13.0, -9.5, 87.0, -60.0])
@pytest.mark.parametrize("path", [Path.through(KICK), S_CURVE], ids=["kick", "s-curve"])
def test_every_point_of_an_offset_lies_at_the_distance(path, left):
    """200 points, against the true edge; the requirement is 0.025 mm."""
    moved = path.offset(left)
    far = path.run_on(500)
    assert all(
        abs(min(s.distance(p) for s in far.segments) - abs(left)) < 1e-6 for p in samples(moved)
    )
    assert all((p[1] > path.height(p[0])) == (left > 0) for p in samples(moved))


def test_a_tangent_path_stays_tangent():
    """An S-curve with bends of 140 and 190 mm: its offset holds five pieces and no sharp turn."""
    moved = S_CURVE.offset(13)
    assert len(moved.segments) == len(S_CURVE.segments) == 5
    assert not sharp_turns(moved)
    assert [s.radius for s in moved.segments] == pytest.approx([0, 127, 0, 203, 0])


def test_a_kick_gets_an_arc_on_one_side_and_a_corner_on_the_other():
    kick = Path.through([(0, 0), (100, 0), (200, 30)])
    below, above = kick.offset(-12), kick.offset(12)
    assert [s.radius for s in below.segments] == pytest.approx([0, 12, 0])
    assert below.segments[1].centre == pytest.approx((100, 0))
    assert not sharp_turns(below)
    assert len(above.segments) == 2
    assert sharp_turns(above) == pytest.approx([degrees(atan2(30, 100))])
    half = atan2(30, 100) / 2
    assert above.segments[0].end == pytest.approx((100 - 12 * tan(half), 12))


def test_offset_against_shapely():
    """The area between edge and offset, against a general library's round-joined buffer."""
    moved = S_CURVE.offset(13)
    ring = [*_fine(S_CURVE), *reversed(_fine(moved))]
    line = shapely.LineString(_fine(S_CURVE))
    strip = line.buffer(13, cap_style="flat", quad_segs=200, single_sided=True)
    assert shapely.Polygon(ring).area == pytest.approx(strip.area, rel=1e-5)


def _fine(path):
    return [path.start, *(s.at(k / 400) for s in path.segments for k in range(1, 401))]


def test_height_and_between_follow_lines_and_arcs():
    for x in (-50, 3, 180, 260, 300, 470, 530, 799, 900):
        y = S_CURVE.height(x)
        assert min(s.distance((x, y)) for s in S_CURVE.run_on(500).segments) < 1e-9
    cut = S_CURVE.between(230, 500)
    assert (cut.start[0], cut.end[0]) == (230, 500)
    assert all(S_CURVE.distance(p) < 1e-9 for p in samples(cut, 50))
    beyond = S_CURVE.between(-40, 830)
    assert (beyond.start[0], beyond.end[0]) == pytest.approx((-40, 830))
    assert len(beyond.segments) == 5
    arc_end = Path.of([Segment(0, 0, 50, 10, 0.1)]).between(-20, 60)
    assert len(arc_end.segments) == 3


def test_between_at_a_station_leaves_no_crumb():
    cut = Path.through(KICK).between(300, 520)
    assert len(cut.segments) == 1
    assert cut.marks == (2,)


@pytest.mark.parametrize(
    ("points", "radii", "left", "words"),
    [
        ([(0, 0), (100, 0), (200, 80)], [0, 40, 0], 50, "bend after station 2 x = "),
        ([(0, 0), (100, 0), (104, 3), (200, 150)], [0] * 4, 30, "too rough at station [23] "),
        ([(0, 0), (100, 60), (106, 60), (200, 0)], [0] * 4, -40, "too rough at station [23] "),
    ],
)
def test_an_offset_that_cannot_be_names_the_station(points, radii, left, words):
    with pytest.raises(GeometryError) as error:
        bent(points, radii).offset(left)
    assert re.search(words, str(error.value).replace("(", ""))


def test_an_offset_that_came_too_near_would_be_refused():
    """The net below the corner-by-corner work: 12.9 mm where 13 were asked for."""
    with pytest.raises(GeometryError, match="too rough at station"):
        S_CURVE._checked(S_CURVE.offset(12.9), 13)


def test_a_path_that_turns_back_names_the_station():
    with pytest.raises(GeometryError, match="after station 2 "):
        Path.of([Segment(0, 0, 50, 0), Segment(50, 0, 60, 40, 0.9)])


@given(
    steps=st.lists(
        st.tuples(st.floats(1, 120), st.floats(-90, 90), st.floats(0, 200)),
        min_size=2,
        max_size=12,
    ),
    left=st.floats(-120, 120),
)
def test_any_edge_has_an_offset_that_keeps_its_distance_or_names_a_station(steps, left):
    points, x = [(0.0, 0.0)], 0.0
    for dx, y, _ in steps:
        x += dx
        points.append((x, y))
    radii = [0.0, *(r for _, _, r in steps[:-1]), 0.0]
    path, moved = None, None
    with suppress(GeometryError):
        path = bent(points, radii)
        moved = path.offset(left)
    if path is None or moved is None:
        with pytest.raises(GeometryError, match="station"):
            bent(points, radii).offset(left)
        return
    view = shapely.LineString(_fine(moved))
    assert view.is_simple
    away = [min(s.distance(p) for s in path.run_on(2000).segments) for p in samples(moved, 60)]
    assert max(abs(d - abs(left)) for d in away) < 1e-3


@given(st.lists(st.floats(-40, 40), min_size=2, max_size=7), st.floats(-90, 130), st.floats(0, 200))
def test_gap_is_the_least_distance_of_all_pairs(heights, up, shift):
    low = Path.through([(70.0 * k, y) for k, y in enumerate(heights)])
    high = S_CURVE.between(shift, shift + 400)
    high = Path.of([replace(s, y0=s.y0 + up, y1=s.y1 + up) for s in high.segments])
    assert low.gap(high) == pytest.approx(distance(low.segments, high.segments))


def test_a_bend_of_100_mm_and_a_kick_of_10_degrees():
    """By hand: lines 8.749 mm short of the corner (100 tan 5), arc of 17.453 mm."""
    path = bent([(0, 0), (200, 0), (400, 200 * tan(radians(10)))], [0, 100, 0])
    assert [s.length for s in path.segments] == pytest.approx(
        [191.2511, 17.4533, hypot(200, 200 * tan(radians(10))) - 8.7489], abs=1e-4
    )
    assert path.segments[1].radius == pytest.approx(100)
    assert path.segments[1].end == pytest.approx(
        (200 + 8.7489 * sin(radians(80)), 8.7489 * sin(radians(10))), abs=1e-4
    )
