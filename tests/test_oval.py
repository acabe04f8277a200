"""Four-arc oval: its extents, tangent joins, and how near an ellipse it comes."""

from itertools import pairwise
from math import cos, pi, sin

import pytest

from partgen.errors import GeometryError
from partgen.geometry.oval import oval
from partgen.geometry.rounding import turns


@pytest.mark.parametrize(("length", "width"), [(70, 40), (30, 29), (120, 25)])
def test_extents_and_tangency(length, width):
    shape = oval(length, width, (12, -7))
    assert shape.box == pytest.approx(
        (12 - length / 2, -7 - width / 2, 12 + length / 2, -7 + width / 2)
    )
    assert max(abs(t) for t in turns(shape)) < 1e-9
    assert shape.is_same(shape.turned(180, (12, -7)))
    assert len(shape.segments) == 4
    radii = [s.radius for s in shape.segments]
    assert all(a != pytest.approx(b) for a, b in pairwise(radii))


def test_near_the_ellipse():
    """70 x 40: never more than 0.6 mm from the ellipse of those axes."""
    shape = oval(70, 40)
    angles = [k * pi / 50 for k in range(100)]
    assert max(shape.distance((35 * cos(a), 20 * sin(a))) for a in angles) < 0.6
    assert shape.area == pytest.approx(pi * 35 * 20, rel=0.01)


def test_turned():
    assert oval(70, 40, (5, 5), 90).box == pytest.approx((-15, -30, 25, 40))


def test_a_circle_is_no_oval():
    with pytest.raises(GeometryError, match="longer than wide"):
        oval(40, 40)
