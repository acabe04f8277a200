"""Swing: a link's silhouette turned about its bolt through the whole range, and what it nears.

The silhouette, in the plane of the ears: housing as a circle, shoulder, tube. It is turned from
full bump to full droop with a margin beyond, and the exact distance of its lines and arcs to each
obstacle is taken at close angles; the least is then narrowed down. Not covered: how the link looks
narrower as it leans out of the plane of the ears (it is taken at its full width and length).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial

import numpy as np
import shapely

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt
from partgen.geometry.nearness import box_gaps, nearest_pair
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.linkage.obstacle import Obstacle, ends_of
from partgen.linkage.points import End, Link

STEP = 1.0  # degrees between the angles tried first
NARROW = 40  # halvings of the step round the least


@dataclass(frozen=True)
class Range:
    """How far a link turns about its bolt, in the rail's side view.

    Attributes:
        ride: direction from the bolt along the link at ride [degrees].
        low: least turn from ride [degrees].
        high: greatest turn from ride [degrees].
        low_case: where it is least.
        high_case: where it is greatest.
        margin: beyond both [degrees].
    """

    ride: float
    low: float
    high: float
    low_case: str
    high_case: str
    margin: float

    @property
    def first(self) -> float:
        """First direction, with the margin [degrees]."""
        return self.ride + self.low - self.margin

    @property
    def last(self) -> float:
        """Last direction, with the margin [degrees]."""
        return self.ride + self.high + self.margin

    def case(self, angle: float) -> str:
        """Say where in the travel a direction is."""
        turn = angle - self.ride
        if turn <= self.low:
            return _beyond(self.low_case, self.low - turn)
        if turn >= self.high:
            return _beyond(self.high_case, turn - self.high)
        return f"turned {turn:+.1f} deg from ride"


def _beyond(case: str, margin: float) -> str:
    return f"{case} + {margin:.1f} deg" if margin > 0.05 else case


@dataclass(frozen=True)
class Nearest:
    """Where a link comes nearest to an obstacle.

    Attributes:
        clearance: least distance; 0 where they meet [mm].
        obstacle: its name.
        angle: direction of the link there [degrees].
        at: point on the obstacle's line [mm].
    """

    clearance: float
    obstacle: str
    angle: float
    at: Point


def silhouette(link: Link, end: End, reach: float) -> Outline:
    """Return a link seen along its bolt at ``end``: the bolt at (0, 0), the link along +x [mm].

    Args:
        link: the link.
        end: its end at the bolt.
        reach: how much of its length counts; the tube's full width is always in it [mm].

    Raises:
        GeometryError: shank and shoulder are longer than the link.
    """
    h = link.tube / 2
    body = end.joint.body_diameter / 2 if end.joint else h
    neck = end.shank_diameter / 2 if end.shank_diameter else h
    start = max(end.to_tube, 0.0)
    full = start + link.shoulder
    if full >= link.length:
        raise GeometryError(f"link {link.label}: shank and shoulder are longer than the link")
    upper = [(full, h)]
    if neck < h:
        upper = [(full, h), (start, neck)] if link.shoulder else [(start, h), (start, neck)]
    upper = [(x, y) for x, y in upper if x * x + y * y > body * body]
    lower = [(x, -y) for x, y in reversed(upper)]
    last = min(link.length, max(reach, full + h, body + h))
    far = [(last, -h), (last, h)]
    return belt([Pin(0.0, 0.0, body), *(Pin(x, y) for x, y in [*lower, *far, *upper])])


def nearest(
    shape: Outline, pivot: Point, first: float, last: float, obstacles: Sequence[Obstacle]
) -> list[Nearest]:
    """Return how near the turning ``shape`` comes to each obstacle.

    Args:
        shape: silhouette, bolt at (0, 0), link along +x [mm].
        pivot: the bolt in the rail's side view [mm].
        first: first direction [degrees].
        last: last direction [degrees].
        obstacles: what is in the way.
    """
    steps = max(1, round((last - first) / STEP))
    angles = [first + (last - first) * k / steps for k in range(steps + 1)]
    turned = cache(partial(_Turned.of, shape, pivot))  # obstacles are met at the same angles
    return [_nearest(turned, angles, obstacle) for obstacle in obstacles]


@dataclass(frozen=True)
class _Turned:
    """A silhouette at one angle.

    Attributes:
        outline: its edge [mm].
        view: inside that, for points.
        boxes: of its lines and arcs; shape (n, 4) [mm].
    """

    outline: Outline
    view: shapely.Polygon
    boxes: np.ndarray

    @classmethod
    def of(cls, shape: Outline, pivot: Point, angle: float) -> _Turned:
        here = shape.turned(angle).moved(*pivot)
        return cls(here, here.polygon("inside", 0.05), np.array(here.boxes))


def _nearest(
    turned: Callable[[float], _Turned], angles: Sequence[float], obstacle: Obstacle
) -> Nearest:
    gaps = [_clearance(turned(angle), obstacle)[0] for angle in angles]
    k = min(range(len(gaps)), key=gaps.__getitem__)
    low, high = angles[max(k - 1, 0)], angles[min(k + 1, len(angles) - 1)]
    best, least = angles[k], gaps[k]
    span = (high - low) / 2
    for _ in range(NARROW):
        if least <= 0 or span < 1e-6:
            break
        span /= 2
        for angle in (best - span, best + span):
            if low <= angle <= high:
                gap = _clearance(turned(angle), obstacle)[0]
                if gap < least:
                    best, least = angle, gap
    return Nearest(least, obstacle.name, best, _clearance(turned(best), obstacle)[1])


def clearance(
    shape: Outline, pivot: Point, angle: float, obstacle: Obstacle
) -> tuple[float, Point]:
    """Return the distance from a silhouette at ``angle`` to an obstacle, and where on it [mm]."""
    return _clearance(_Turned.of(shape, pivot, angle), obstacle)


def _clearance(here: _Turned, obstacle: Obstacle) -> tuple[float, Point]:
    inside = np.flatnonzero(shapely.contains_xy(here.view, obstacle.ends))
    if len(inside):
        return 0.0, ends_of(obstacle)[inside[0]]
    corners = [(v.x, v.y) for v in here.outline.vertices]
    if any(obstacle.covers(corner) for corner in corners):
        return 0.0, corners[0]
    gaps = box_gaps(here.boxes, obstacle.boxes)
    away, _, at = nearest_pair(here.outline.segments, obstacle.segments, gaps)
    return max(0.0, away - obstacle.half), at
