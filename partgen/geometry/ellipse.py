"""Part of an ellipse as arcs that meet tangentially: the edge that lies on a tube cut at an angle.

Pairs of arcs (biarcs) through points of the ellipse, with its tangents there. A tube of radius R,
cut by a plane that is skewed by phi from square, is an ellipse of semi-axes R and R / cos(phi).
"""

from __future__ import annotations

from itertools import pairwise
from math import atan2, cos, hypot, pi, radians, sin, tan

from partgen.errors import GeometryError
from partgen.geometry.biarc import biarc
from partgen.geometry.outline import SAME, Outline, Vertex
from partgen.geometry.segment import Point, Segment

TOLERANCE = 0.05  # mm
MOST_PAIRS = 64
SAMPLES = 32  # points of the ellipse looked at for each pair of arcs


def ellipse_arcs(
    across: float, up: float, start: float, end: float, tolerance: float = TOLERANCE
) -> list[Vertex]:
    """Return arcs along an ellipse about (0, 0); the last vertex ends them.

    Args:
        across: semi-axis along x [mm].
        up: semi-axis along y [mm].
        start: parameter t of (across cos t, up sin t) where it starts [degrees].
        end: where it ends; less than ``start`` runs clockwise [degrees].
        tolerance: greatest distance between ellipse and arcs [mm].

    Raises:
        GeometryError: no room between the ends, or the tolerance cannot be met.
    """
    a, b = radians(start), radians(end)
    if not 1e-6 < abs(b - a) <= 2 * pi:
        raise GeometryError(f"an arc from {start:g} to {end:g} degrees is none")
    if abs(across - up) <= SAME:
        first, last = _point(across, up, a), _point(across, up, b)
        return [Vertex(*first, tan((b - a) / 4)), Vertex(*last)]
    for count in range(1, MOST_PAIRS + 1):
        pairs = _pairs(across, up, a, b, count)
        if _deviation(across, up, a, b, pairs) <= tolerance:
            arcs = [arc for pair in pairs for arc in pair]
            return [*(Vertex(s.x0, s.y0, s.bulge) for s in arcs), Vertex(*arcs[-1].end)]
    raise GeometryError(f"no {2 * MOST_PAIRS} arcs follow the ellipse within {tolerance:g} mm")


def spliced(outline: Outline, chain: list[Vertex]) -> Outline:
    """Return an outline with its straight way from the chain's first point to its last replaced.

    Raises:
        GeometryError: the outline crosses itself with the chain.
    """
    kept = list(outline.vertices)
    first = chain[0]
    at = min(range(len(kept)), key=lambda k: hypot(kept[k].x - first.x, kept[k].y - first.y))
    return Outline.of([*kept[:at], *chain[:-1], *kept[at + 1 :]])


def _point(across: float, up: float, t: float) -> Point:
    return across * cos(t), up * sin(t)


def _heading(across: float, up: float, t: float, way: float) -> float:
    return atan2(up * cos(t) * way, -across * sin(t) * way)


def _pairs(across: float, up: float, a: float, b: float, count: int) -> list[list[Segment]]:
    way = 1.0 if b > a else -1.0
    knots = [a + (b - a) * k / count for k in range(count + 1)]
    return [
        biarc(
            _point(across, up, s),
            _heading(across, up, s, way),
            _point(across, up, t),
            _heading(across, up, t, way),
        )
        for s, t in pairwise(knots)
    ]


def _deviation(across: float, up: float, a: float, b: float, pairs: list[list[Segment]]) -> float:
    """Return the greatest distance from points of the ellipse to their pair of arcs [mm]."""
    worst, step = 0.0, (b - a) / (len(pairs) * SAMPLES)
    for number, pair in enumerate(pairs):
        for k in range(SAMPLES + 1):
            at = _point(across, up, a + step * (number * SAMPLES + k))
            worst = max(worst, min(arc.distance(at) for arc in pair))
    return worst
