"""Part of an ellipse as arcs that meet tangentially: the edge that lies on a tube cut at an angle.

Pairs of arcs (biarcs) through points of the ellipse, with its tangents there; both arcs of a pair
leave their ends with equal tangent lengths. A tube of radius R, cut by a plane that is skewed by
phi from square, is an ellipse with the semi-axes R and R / cos(phi).
"""

from __future__ import annotations

from itertools import pairwise
from math import atan2, cos, hypot, pi, radians, sin, sqrt, tan

from partgen.errors import GeometryError
from partgen.outline import SAME, Outline, Vertex
from partgen.segment import Point, Segment

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
    for pairs in range(1, MOST_PAIRS + 1):
        chain = _chain(across, up, a, b, pairs)
        if _deviation(across, up, a, b, chain) <= tolerance:
            return chain
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


def biarc(p: Point, along_p: Point, q: Point, along_q: Point) -> tuple[float, Point, float]:
    """Return bulge, meeting point and bulge of two arcs that leave p and reach q along directions.

    Args:
        p: start [mm].
        along_p: unit direction at ``p``.
        q: end [mm].
        along_q: unit direction at ``q``; not far from ``along_p``.
    """
    vx, vy = q[0] - p[0], q[1] - p[1]
    tx, ty = along_p[0] + along_q[0], along_p[1] + along_q[1]
    reach = vx * tx + vy * ty
    bend = 2 * (1 - along_p[0] * along_q[0] - along_p[1] * along_q[1])
    square = vx * vx + vy * vy
    if bend <= 1e-12:
        arm = square / (2 * reach)
    else:
        arm = (sqrt(reach * reach + bend * square) - reach) / bend
    middle = (
        (p[0] + q[0] + arm * (along_p[0] - along_q[0])) / 2,
        (p[1] + q[1] + arm * (along_p[1] - along_q[1])) / 2,
    )
    first = _turn(along_p, (middle[0] - p[0], middle[1] - p[1]))
    second = _turn((q[0] - middle[0], q[1] - middle[1]), along_q)
    return tan(first / 2), middle, tan(second / 2)


def _turn(a: Point, b: Point) -> float:
    return atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def _point(across: float, up: float, t: float) -> Point:
    return across * cos(t), up * sin(t)


def _direction(across: float, up: float, t: float, way: float) -> Point:
    x, y = -across * sin(t) * way, up * cos(t) * way
    return x / hypot(x, y), y / hypot(x, y)


def _chain(across: float, up: float, a: float, b: float, pairs: int) -> list[Vertex]:
    way = 1.0 if b > a else -1.0
    knots = [a + (b - a) * k / pairs for k in range(pairs + 1)]
    chain: list[Vertex] = []
    for s, t in pairwise(knots):
        p, q = _point(across, up, s), _point(across, up, t)
        first, middle, second = biarc(
            p, _direction(across, up, s, way), q, _direction(across, up, t, way)
        )
        chain += [Vertex(*p, first), Vertex(*middle, second)]
    return [*chain, Vertex(*_point(across, up, b))]


def _deviation(across: float, up: float, a: float, b: float, chain: list[Vertex]) -> float:
    """Return the greatest distance from points of the ellipse to their pair of arcs [mm]."""
    arcs = [Segment(v.x, v.y, w.x, w.y, v.bulge) for v, w in pairwise(chain)]
    pairs = len(arcs) // 2
    worst = 0.0
    for k in range(pairs * SAMPLES + 1):
        at = _point(across, up, a + (b - a) * k / (pairs * SAMPLES))
        pair = min(k // SAMPLES, pairs - 1)
        worst = max(worst, min(arcs[2 * pair].distance(at), arcs[2 * pair + 1].distance(at)))
    return worst
