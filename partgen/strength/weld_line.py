"""Line-weld groups by the elastic method, for any drawn path of lines and arcs.

The weld is a line of length 1 thick: length, centroid and second moments come from the path in
closed form; throat area is 0.707 h times the length. A force in the plane adds shear F/L and, by
its moment, M r/J; a moment across the plane adds M y/I. The worst point is looked for at all ends
and, on arcs, at the farthest points. Stress is force for each length of weld over 0.707 h.
Method: machine design handbooks (Shigley, ch. 9). Not covered: the plastic reserve, gaps between
parts, base metal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, fsum, hypot, sin

from partgen.errors import GeometryError
from partgen.geometry.segment import Point, Segment
from partgen.strength.capacity import need_positive
from partgen.strength.fillet_weld import THROAT

STEPS = 32  # points looked at along each arc; second moments are exact


@dataclass(frozen=True)
class WeldLine:
    """A weld path.

    Attributes:
        path: lines and arcs, joined or not [mm].
    """

    path: tuple[Segment, ...]

    def __post_init__(self) -> None:
        """Refuse a path without length.

        Raises:
            GeometryError: there is nothing to weld.
        """
        if not fsum(s.length for s in self.path) > 0:
            raise GeometryError("a weld path has no length; draw at least one line or arc")

    @classmethod
    def through(cls, points: Sequence[Point]) -> WeldLine:
        """Return a path of straight lines through ``points``."""
        return cls(tuple(Segment(*a, *b) for a, b in pairwise(points)))

    @cached_property
    def length(self) -> float:
        """Length [mm]."""
        return fsum(s.length for s in self.path)

    @cached_property
    def centroid(self) -> Point:
        """Centre of the line [mm]."""
        moments = [_first(s) for s in self.path]
        return fsum(m[0] for m in moments) / self.length, fsum(m[1] for m in moments) / self.length

    @cached_property
    def seconds(self) -> tuple[float, float, float]:
        """Ix (about the axis along x), Iy and Ixy about the centroid [mm3]."""
        cx, cy = self.centroid
        parts = [_second(s, cx, cy) for s in self.path]
        return fsum(p[0] for p in parts), fsum(p[1] for p in parts), fsum(p[2] for p in parts)

    @property
    def polar(self) -> float:
        """J = Ix + Iy about the centroid [mm3]."""
        return self.seconds[0] + self.seconds[1]

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Where the stress is looked at [mm]."""
        found: list[Point] = []
        for s in self.path:
            steps = STEPS if s.bulge else 1
            found += [s.at(k / steps) for k in range(steps + 1)]
        return tuple(found)

    def in_plane(self, force: Point, at: Point) -> float:
        """Return the greatest force for each length of weld, force in the weld's plane [N/mm].

        Args:
            force: components [N].
            at: where it acts [mm].
        """
        cx, cy = self.centroid
        moment = (at[0] - cx) * force[1] - (at[1] - cy) * force[0]
        share = (force[0] / self.length, force[1] / self.length)
        twist = moment / self.polar
        return max(
            hypot(share[0] - twist * (y - cy), share[1] + twist * (x - cx)) for x, y in self.points
        )

    def out_of_plane(self, force: float, moment: Point) -> float:
        """Return the greatest force for each length of weld, square to the weld's plane [N/mm].

        Args:
            force: square to the plane [N].
            moment: about axes along x and y through the centroid [N mm].

        Raises:
            GeometryError: the path is straight and the moment turns about it.
        """
        cx, cy = self.centroid
        ix, iy, ixy = self.seconds
        mx, my = moment
        root = ix * iy - ixy * ixy
        if root <= 1e-9 * max(ix * iy, 1e-12):
            return max(abs(force / self.length + t) for t in self._on_one_line(mx, my))
        along = (mx * iy + my * ixy) / root
        across = -(my * ix + mx * ixy) / root
        return max(
            abs(force / self.length + along * (y - cy) + across * (x - cx)) for x, y in self.points
        )

    def _on_one_line(self, mx: float, my: float) -> list[float]:
        cx, cy = self.centroid
        far = max(self.points, key=lambda p: hypot(p[0] - cx, p[1] - cy))
        reach = hypot(far[0] - cx, far[1] - cy)
        ux, uy = (far[0] - cx) / reach, (far[1] - cy) / reach
        about, square = mx * ux + my * uy, mx * uy - my * ux
        if abs(about) > 1e-9 * max(abs(mx), abs(my), 1e-12):
            raise GeometryError("a straight weld cannot carry a moment about its own line")
        return [square / self.polar * ((x - cx) * ux + (y - cy) * uy) for x, y in self.points]


def throat_stress(flow: float, leg: float) -> float:
    """Return the stress in the throat of a fillet carrying ``flow`` N/mm [MPa]."""
    need_positive(leg=leg)
    return flow / (THROAT * leg)


def _first(s: Segment) -> Point:
    """Return the first moments of a line or arc about the axes [mm2]."""
    if not s.bulge:
        return s.length * (s.x0 + s.x1) / 2, s.length * (s.y0 + s.y1) / 2
    (cx, cy), r, a = s.centre, s.radius, s.start_angle
    b, way = a + s.sweep, 1 if s.sweep > 0 else -1
    return (
        s.length * cx + way * r * r * (sin(b) - sin(a)),
        s.length * cy - way * r * r * (cos(b) - cos(a)),
    )


def _second(s: Segment, ox: float, oy: float) -> tuple[float, float, float]:
    """Return the integrals of y^2, x^2 and xy along a line or arc about (ox, oy) [mm3]."""
    if not s.bulge:
        x, y, u, v = s.x0 - ox, s.y0 - oy, s.x1 - ox, s.y1 - oy
        return (
            s.length * (y * y + y * v + v * v) / 3,
            s.length * (x * x + x * u + u * u) / 3,
            s.length * (2 * x * y + 2 * u * v + x * v + u * y) / 6,
        )
    cx, cy, r, a = s.centre[0] - ox, s.centre[1] - oy, s.radius, s.start_angle
    b, way = a + s.sweep, 1 if s.sweep > 0 else -1
    p, sines, cosines = b - a, sin(b) - sin(a), cos(b) - cos(a)
    twice = (sin(2 * b) - sin(2 * a)) / 4
    xx = cx * cx * p + 2 * cx * r * sines + r * r * (p / 2 + twice)
    yy = cy * cy * p - 2 * cy * r * cosines + r * r * (p / 2 - twice)
    xy = cx * cy * p - cx * r * cosines + cy * r * sines + r * r * (sin(b) ** 2 - sin(a) ** 2) / 2
    return way * r * yy, way * r * xx, way * r * xy
