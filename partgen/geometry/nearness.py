"""Exact distances of many points and outlines at once: what a segment does one by one.

Points against lines and arcs in one numpy step; outline against outline by boxes first, and exactly
only for the pairs of segments that can be the nearest. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

import numpy as np

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment, closest

Array = np.ndarray
ROUNDING = 1e-6  # mm; numpy and math differ by less


def point_distances(points: Array, outlines: Sequence[Outline]) -> Array:
    """Return the distance of each point to each outline.

    Args:
        points: shape (k, 2).
        outlines: n of them.

    Returns:
        Shape (k, n).
    """
    if not len(points) or not outlines:
        return np.zeros((len(points), len(outlines)))
    segments = [s for o in outlines for s in o.segments]
    starts = np.cumsum([0, *(len(o.segments) for o in outlines[:-1])])
    away = segment_distances(points, segments)
    nearest: Array = np.minimum.reduceat(away, starts, axis=1)
    return nearest


def segment_distances(points: Array, segments: Sequence[Segment]) -> Array:
    """Return the distance of each point, shape (k, 2), to each line or arc; shape (k, n)."""
    away = np.empty((len(points), len(segments)))
    arcs = np.array([bool(s.bulge) for s in segments])
    away[:, ~arcs] = _to_lines(points, [s for s in segments if not s.bulge])
    away[:, arcs] = _to_arcs(points, [s for s in segments if s.bulge])
    return away


def _to_lines(points: Array, lines: list[Segment]) -> Array:
    ends = np.array([(s.x0, s.y0, s.x1 - s.x0, s.y1 - s.y0) for s in lines])
    ends = ends.reshape(len(lines), 4)
    off = points[:, None, :] - ends[None, :, :2]
    way = ends[:, 2:]
    square = np.maximum((way * way).sum(axis=1), 1e-300)
    part = np.clip((off * way).sum(axis=2) / square, 0.0, 1.0)
    rest = off - part[:, :, None] * way
    away: Array = np.hypot(rest[:, :, 0], rest[:, :, 1])
    return away


def _to_arcs(points: Array, arcs: list[Segment]) -> Array:
    data = np.array(
        [(*s.centre, s.radius, s.x0, s.y0, s.x1, s.y1, s.start_angle, s.sweep) for s in arcs]
    ).reshape(len(arcs), 9)
    dx, dy = points[:, None, 0] - data[:, 0], points[:, None, 1] - data[:, 1]
    round_it = np.abs(np.hypot(dx, dy) - data[:, 2])
    turn = (np.arctan2(dy, dx) - data[:, 7]) % (2 * np.pi)
    sweep = data[:, 8]
    spans = np.where(sweep > 0, turn <= sweep, turn >= 2 * np.pi + sweep)
    ends = np.minimum(
        np.hypot(points[:, None, 0] - data[:, 3], points[:, None, 1] - data[:, 4]),
        np.hypot(points[:, None, 0] - data[:, 5], points[:, None, 1] - data[:, 6]),
    )
    away: Array = np.where(spans, round_it, ends)
    return away


def nearest(point: Point, segments: Sequence[Segment], boxes: Array) -> float:
    """Return the exact distance of a point to the nearest of many lines and arcs.

    Args:
        point: from where.
        segments: n of them.
        boxes: theirs, as :func:`box_gaps` takes them; shape (n, 4).
    """
    gaps = box_gaps(np.array([[*point, *point]]), boxes)[0]
    best = segments[int(gaps.argmin())].distance(point)
    near = np.flatnonzero(gaps <= best + ROUNDING).tolist()
    return min(segments[k].distance(point) for k in near)


def neighbours(points: Array, reach: Array, radius: Array) -> Iterator[tuple[list[int], list[int]]]:
    """Yield for each point which others are near it, and which may be the nearest of all.

    Both hold a few too many rather than one too few: what is measured exactly decides.

    Args:
        points: middles of circles; shape (n, 2).
        reach: how far from each point others are near it; shape (n,).
        radius: of the circles; what is nearest is told to their edges; shape (n,).
    """
    for k, point in enumerate(points):
        away = np.hypot(points[:, 0] - point[0], points[:, 1] - point[1])
        away[k] = np.inf
        edges = away - radius
        yield (
            np.flatnonzero(away <= reach[k] + ROUNDING).tolist(),
            np.flatnonzero(edges <= edges.min() + ROUNDING).tolist() if len(points) > 1 else [],
        )


def box_gaps(a: Array, b: Array) -> Array:
    """Return how far boxes lie apart, at most the distance of what is in them.

    Args:
        a: least x, least y, greatest x, greatest y; shape (n, 4).
        b: the same, shape (m, 4).

    Returns:
        Shape (n, m).
    """
    dx = np.maximum(a[:, None, 0] - b[:, 2], b[:, 0] - a[:, None, 2])
    dy = np.maximum(a[:, None, 1] - b[:, 3], b[:, 1] - a[:, None, 3])
    gaps: Array = np.hypot(np.maximum(dx, 0.0), np.maximum(dy, 0.0))
    return gaps


def between(a: Outline, b: Outline) -> float:
    """Return the exact least distance of two outlines that do not cross [mm].

    Neither lies inside the other's line: an opening and the outside edge, or two openings.
    """
    for one, other in ((a, b), (b, a)):
        if one.circle_of:
            x, y, diameter = one.circle_of
            away = other.distance((x, y)) - diameter / 2
            if away > 0:
                return away
    return _exact(a, b)


def _exact(a: Outline, b: Outline) -> float:
    gaps = box_gaps(np.array(a.boxes), np.array(b.boxes))
    return nearest_pair(a.segments, b.segments, gaps)[0]


def nearest_pair(
    a: Sequence[Segment], b: Sequence[Segment], gaps: Array
) -> tuple[float, Point, Point]:
    """Return the exact least distance of two chains, and where on each; the first of equals.

    Args:
        a: n lines and arcs.
        b: m of them.
        gaps: between their boxes, :func:`box_gaps`; shape (n, m).
    """
    every = gaps.ravel()
    best, found = inf, []
    for k in np.argsort(every, kind="stable").tolist():
        if every[k] > best + ROUNDING:
            break
        i, j = divmod(k, len(b))
        near = closest(a[i], b[j])
        best = min(best, near[0])
        found.append((near[0], k, near))
    return min(found)[2]
