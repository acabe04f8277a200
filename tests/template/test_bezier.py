"""Arcs as Bezier curves, against the circle itself."""

from itertools import pairwise
from math import cos, hypot, pi, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry.segment import Segment
from partgen.template.bezier import ERROR, beziers, radius_error


def bend(p0, p1, p2, p3, t):
    """Point of a cubic, by its definition (de Casteljau)."""
    points = [p0, p1, p2, p3]
    while len(points) > 1:
        points = [((1 - t) * a[0] + t * b[0], (1 - t) * a[1] + t * b[1])
                  for a, b in pairwise(points)]  # fmt: skip
    return points[0]


@given(
    st.floats(0.5, 2000), st.floats(-6.2, 6.2).filter(lambda s: abs(s) > 0.01), st.floats(0, 6.2)
)
def test_curves_stay_on_the_circle(radius, sweep, start):
    arc = arc_of(radius, sweep, start)
    at = arc.start
    for first, second, end in beziers(arc):
        for k in range(1, 21):
            x, y = bend(at, first, second, end, k / 20)
            assert (
                abs(hypot(x - arc.centre[0], y - arc.centre[1]) - radius) <= ERROR + 1e-6 * radius
            )
        at = end
    assert at == arc.end


def arc_of(radius, sweep, start):
    return Segment(radius * cos(start), radius * sin(start), radius * cos(start + sweep),
                   radius * sin(start + sweep), tan(sweep / 4))  # fmt: skip


def test_the_formula_for_the_error_is_what_is_measured():
    worst = 0.0
    reach = 4 / 3 * tan(pi / 8)
    for k in range(2001):
        x, y = bend((1, 0), (1, reach), (reach, 1), (0, 1), k / 2000)
        worst = max(worst, abs(hypot(x, y) - 1))
    assert radius_error(pi / 2) == pytest.approx(worst, rel=0.001)
