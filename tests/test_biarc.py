"""Biarcs: tangent, within tolerance, and no more pieces than needed."""

from itertools import combinations, pairwise, product
from math import cos, hypot, inf, pi, radians, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.biarc import biarc, directions, smooth


def joins(chain):
    return [
        hypot(*(u - v for u, v in zip(a.direction(1), b.direction(0), strict=True)))
        for a, b in pairwise(chain)
    ]


def off(chain, points):
    return max(min(s.distance(p) for s in chain) for p in points)


@pytest.mark.parametrize(
    ("p", "heading", "q", "arriving"),
    [((0, 0), 0.3, (100, 20), -0.2), ((5, -3), -0.4, (60, 30), 0.9), ((0, 0), 0.2, (80, 0), 0.2)],
)
def test_a_biarc_leaves_and_arrives_as_asked(p, heading, q, arriving):
    pieces = biarc(p, heading, q, arriving)
    assert len(pieces) == 2
    assert pieces[0].direction(0) == pytest.approx((cos(heading), sin(heading)))
    assert pieces[1].direction(1) == pytest.approx((cos(arriving), sin(arriving)))
    assert (pieces[0].start, pieces[1].end) == (p, q)
    assert joins(pieces) == pytest.approx([0], abs=1e-9)


def test_one_arc_or_one_line_where_that_is_all():
    assert [s.bulge for s in biarc((0, 0), 0, (70, 0), 0)] == [0]
    (arc,) = biarc((0, 0), 0, (300 * sin(0.4), 300 - 300 * cos(0.4)), 0.4)
    assert arc.radius == pytest.approx(300)


def kick_up(x):
    """Straight to 300, a bend of radius 400 by 12 degrees, straight on."""
    turn = radians(12)
    end = 300 + 400 * sin(turn)
    if x < 300:
        return 0.0
    if x < end:
        return 400 - sqrt(400**2 - (x - 300) ** 2)
    return 400 - 400 * cos(turn) + (x - end) * sin(turn) / cos(turn)


def s_curve(x):
    return 45 * sin(pi * (x - 400) / 700)


CASES = [(kick_up, 5), (s_curve, 6), (lambda x: 3 + 0.02 * x, 1)]


@pytest.mark.parametrize(("edge", "most"), CASES, ids=["kick-up", "s-curve", "straight"])
@pytest.mark.parametrize("tolerance", [0.2, 0.5])
def test_rails_within_tolerance_and_with_few_pieces(edge, most, tolerance):
    points = [(x, edge(x)) for x in range(0, 801, 40)]
    chain, marks = smooth(points, tolerance)
    assert off(chain, points) <= tolerance
    assert max(joins(chain), default=0) < 1e-9
    assert len(chain) <= most
    assert (chain[0].start, chain[-1].end) == (points[0], points[-1])
    assert marks == sorted(marks)


def test_stations_on_one_circle_give_one_arc():
    points = [(500 * sin(a), 3 + 500 - 500 * cos(a)) for a in (0, 0.11, 0.2, 0.36, 0.41, 0.6)]
    (arc,), _ = smooth(points, 0.01)
    assert arc.radius == pytest.approx(500)


@given(st.lists(st.floats(-25, 25), min_size=3, max_size=5), st.floats(0.05, 20))
def test_never_more_pieces_than_needed(heights, tolerance):
    """Against every choice of knots and directions, tried one by one."""
    points = [(60.0 * k, y) for k, y in enumerate(heights)]
    try:
        chain, _ = smooth(points, tolerance)
    except GeometryError:
        return
    assert off(chain, points) <= tolerance + 1e-9
    assert len(chain) == fewest(points, tolerance)


def fewest(points, tolerance):
    last, best = len(points) - 1, inf
    ways = [directions(points, k, tolerance) for k in range(last + 1)]
    for count in range(last):
        for inner in combinations(range(1, last), count):
            knots = (0, *inner, last)
            for taken in product(*(ways[k] for k in knots)):
                spans = [
                    (biarc(points[i], u, points[j], v), points[i + 1 : j])
                    for (i, u), (j, v) in pairwise(zip(knots, taken, strict=True))
                ]
                pieces = sum(len(span) for span, _ in spans)
                if pieces < best and all(_will_do(*span, tolerance) for span in spans):
                    best = pieces
    return best


def _will_do(span, between, tolerance):
    forward = all(
        abs(s.sweep) <= pi / 2 and s.direction(0)[0] > 0 and s.direction(1)[0] > 0 for s in span
    )
    return forward and all(min(s.distance(p) for s in span) <= tolerance for p in between)


def test_too_many_stations_and_none_that_runs_forward():
    with pytest.raises(GeometryError, match="thin them"):
        smooth([(k, 0) for k in range(200)], 1)
    with pytest.raises(GeometryError, match=r"station 3|station 2"):
        smooth([(0, 0), (2, 90), (4, -90), (6, 90)], 0.1)
