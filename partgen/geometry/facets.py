"""Facets on a common circle made one arc again: what a program broke into short straight lines.

A run of facets counts where at least four straight lines, none longer than 1.5 times their middle
length and none turning more than 30 degrees, have all their ends on one circle within 0.01 mm. A
hexagon or an octagon that is meant stays one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan, atan2, degrees, dist, fsum, hypot, pi, tan
from statistics import median

from partgen.geometry.outline import Vertex
from partgen.geometry.segment import Point

ON_CIRCLE = 0.01  # mm
FEWEST = 4  # facets
WIDEST = 30.0  # degrees that a facet may turn
UNEVEN = 1.5  # longest facet over the middle one
LEAST_TURN = 5.0  # degrees of the whole arc
LEAST_BOW = 10 * ON_CIRCLE  # mm between the arc's middle and its chord
Arc = tuple[int, float]  # facets, radius [mm]


@dataclass(frozen=True)
class Spot:
    """A corner of the chain.

    Attributes:
        at: the point [mm].
        off: how far it was moved [mm].
    """

    at: Point
    off: float


def rounded(
    vertices: Sequence[Vertex], moved: Sequence[float] = ()
) -> tuple[list[Vertex], list[Arc]]:
    """Return a closed chain with its facets as arcs, and for each arc its facets and radius.

    Args:
        vertices: corners in order; the last one joins the first [mm].
        moved: how far each was moved to close a gap; it may lie off a circle by that [mm].
    """
    chain, off = list(vertices), list(moved) or [0.0] * len(vertices)
    whole = _whole_circle(chain, off)
    if whole is not None:
        return whole
    if len(chain) <= FEWEST:
        return chain, []
    at = _after_longest(chain)
    chain, off = chain[at:] + chain[:at], off[at:] + off[:at]
    points = [Spot((v.x, v.y), d) for v, d in zip(chain, off, strict=True)]
    points.append(points[0])
    most = _straights(chain)
    made: list[Vertex] = []
    arcs: list[Arc] = []
    k = 0
    while k < len(chain):
        run = _longest_run(points, k, most[k])
        if run is None:
            made.append(chain[k])
            k += 1
            continue
        last, bulge, radius = run
        made.append(Vertex(*points[k].at, bulge))
        arcs.append((last - k, radius))
        k = last
    return made, arcs


def circle_through(a: Point, b: Point, c: Point) -> tuple[Point, float] | None:
    """Return centre and radius of the circle through three points, or None if they are in line.

    Examples:
        >>> circle_through((5, 0), (0, 5), (-5, 0))
        ((0.0, 0.0), 5.0)
    """
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    cross = 2 * (ux * vy - uy * vx)
    u, v = ux * ux + uy * uy, vx * vx + vy * vy
    if abs(cross) <= 1e-9 * max(u, v):
        return None
    x, y = (vy * u - uy * v) / cross, (ux * v - vx * u) / cross
    return (a[0] + x, a[1] + y), hypot(x, y)


def _whole_circle(chain: list[Vertex], off: list[float]) -> tuple[list[Vertex], list[Arc]] | None:
    count = len(chain)
    if count < 360 / WIDEST or any(v.bulge for v in chain):
        return None
    spots = [Spot((v.x, v.y), d) for v, d in zip(chain, off, strict=True)]
    thirds = (spots[: count // 3], spots[count // 3 : -count // 3], spots[-count // 3 :])
    found = circle_through(*(min(third, key=lambda s: s.off).at for third in thirds))
    if found is None:
        return None
    centre, radius = found
    points = [spot.at for spot in (*spots, spots[0])]
    turns = [_turn(centre, p, q) for p, q in pairwise(points)]
    even = _even(points)
    if not even or not _on(spots, centre, radius) or abs(abs(fsum(turns)) - 2 * pi) > 0.01:
        return None
    if max(abs(degrees(t)) for t in turns) > WIDEST + 1e-6:
        return None
    (x, y), r = centre, radius
    return [Vertex(x + r, y, 1.0), Vertex(x - r, y, 1.0)], [(count, radius)]


def _after_longest(chain: list[Vertex]) -> int:
    """Return which vertex ends the longest way, or an arc: no run of facets goes across it."""
    following = [*chain[1:], chain[0]]
    spans = [
        (bool(a.bulge), dist((a.x, a.y), (b.x, b.y))) for a, b in zip(chain, following, strict=True)
    ]
    return (max(range(len(chain)), key=spans.__getitem__) + 1) % len(chain)


def _straights(chain: list[Vertex]) -> list[int]:
    """Return for each vertex how many straight ways follow it, up to the chain's end."""
    counts, count = [], 0
    for vertex in reversed(chain):
        count = 0 if vertex.bulge else count + 1
        counts.append(count)
    return counts[::-1]


def _longest_run(points: list[Spot], first: int, most: int) -> tuple[int, float, float] | None:
    """Return where the run of facets from ``first`` ends, its bulge and radius, or None."""
    if most < FEWEST or _arc(points[first : first + FEWEST + 1]) is None:
        return None
    count, step = FEWEST, 1
    while step:  # longer and longer steps while they hold, then shorter ones
        longer = min(count + step, most)
        holds = longer > count and _arc(points[first : first + longer + 1]) is not None
        count, step = (longer, 2 * step) if holds else (count, step // 2)
    run = points[first : first + count + 1]
    bulge, radius = _arc(run) or (0.0, 0.0)
    bow = abs(bulge) * dist(run[0].at, run[-1].at) / 2
    if bow < LEAST_BOW or degrees(4 * atan(abs(bulge))) < LEAST_TURN:
        return None
    return first + count, bulge, radius


def _arc(spots: list[Spot]) -> tuple[float, float] | None:
    """Return bulge and radius if the points lie on one arc like facets, else None."""
    points = [spot.at for spot in spots]
    first, last = int(spots[0].off > 0), -1 - int(spots[-1].off > 0)
    found = circle_through(points[first], points[len(points) // 2], points[last])
    if found is None:
        return None
    centre, radius = found
    turns = [degrees(_turn(centre, p, q)) for p, q in pairwise(points)]
    whole = fsum(turns)
    alike = all(t > 0 for t in turns) or all(t < 0 for t in turns)
    if not alike or max(map(abs, turns)) > WIDEST + 1e-6 or abs(whole) > 350:
        return None
    bulge = tan(whole / 4 * pi / 180)
    if not _on(spots, centre, radius) or not _even(points):
        return None
    return bulge, radius


def _on(spots: Sequence[Spot], centre: Point, radius: float) -> bool:
    return all(abs(dist(s.at, centre) - radius) <= ON_CIRCLE + s.off for s in spots)


def _even(points: Sequence[Point]) -> bool:
    spans = [dist(p, q) for p, q in pairwise(points)]
    return max(spans) <= UNEVEN * median(spans)


def _turn(centre: Point, p: Point, q: Point) -> float:
    """Return the angle from p to q about the centre, within half a turn [rad]."""
    ax, ay, bx, by = p[0] - centre[0], p[1] - centre[1], q[0] - centre[0], q[1] - centre[1]
    return atan2(ax * by - ay * bx, ax * bx + ay * by)
