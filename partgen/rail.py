"""A frame member as measured: width, depth, corner radius and its lower edge in side view.

Side view: x forward, y up, both in mm, drawn with forward to the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from pydantic import Field, field_validator

from partgen.errors import GeometryError
from partgen.fields import At, Entry, Margin, Size, Text
from partgen.segment import Point, Segment


class Rail(Entry):
    """``[rail.NAME]``: a rail between straight stations.

    Attributes:
        section: name of a tube section of the library that gives what is not typed here.
        width: outside width, across the vehicle [mm].
        depth: outside height [mm].
        corner_radius: outside corner radius of the section [mm].
        lower_edge: stations along the lower edge, x rising; none for a straight rail at y = 0 [mm].
    """

    section: Text | None = None
    width: Size
    depth: Size
    corner_radius: Margin = 0.0
    lower_edge: tuple[At, ...] = Field(default=(), max_length=1000)

    @field_validator("lower_edge")
    @classmethod
    def _stations_rise(cls, stations: tuple[Point, ...]) -> tuple[Point, ...]:
        if len(stations) == 1:
            raise ValueError("one station is no edge; give two or more, or none if it is straight")
        for k, (a, b) in enumerate(pairwise(stations), 1):
            if b[0] - a[0] < 1.0:
                raise ValueError(
                    f"station {k + 1} (x = {b[0]:g} mm) must lie at least 1 mm beyond station {k} "
                    f"(x = {a[0]:g} mm); sort them by x"
                )
        return stations

    def edge(self, inset: float, x0: float, x1: float) -> list[Point]:
        """Return the lower edge, moved up by ``inset`` square to itself, from x0 to x1 [mm].

        Raises:
            GeometryError: beyond the measured stations, or the stations are too near for the inset.
        """
        path = self._inset_path(inset, x0, x1)
        inner = [p for p in path[1:-1] if x0 + 1e-6 < p[0] < x1 - 1e-6]
        return [(x0, height_at(path, x0)), *inner, (x1, height_at(path, x1))]

    def _inset_path(self, inset: float, x0: float, x1: float) -> list[Point]:
        stations = self.lower_edge or ((x0 - 1.0, 0.0), (x1 + 1.0, 0.0))
        first, last = stations[0][0], stations[-1][0]
        if x0 < first - 1e-6 or x1 > last + 1e-6:
            raise GeometryError(
                f"the plate reaches from x = {x0:g} to {x1:g} mm, but the rail is measured from "
                f"x = {first:g} to {last:g} mm; add a station or shorten the plate"
            )
        path = inset_path(stations, inset)
        for k, (a, b) in enumerate(pairwise(path), 1):
            if b[0] <= a[0]:
                raise GeometryError(
                    f"lower_edge stations {k} and {k + 1} are too near each other to be followed "
                    f"{inset:g} mm inside the edge; leave one out"
                )
        return path

    def room(self, point: Point) -> float:
        """Return the distance from ``point`` to the lower edge, positive below it [mm]."""
        x, y = point
        path = self.lower_edge or ((x - self.depth, 0.0), (x + self.depth, 0.0))
        away = min(s.distance(point) for s in chain(path))
        return away if y < height_at(path, x) else -away


def inset_path(stations: tuple[Point, ...], inset: float) -> list[Point]:
    """Return a chain of straight lines moved left of its direction by ``inset``, mitred [mm].

    The ends are run on by 10 x inset, so that the moved chain still covers their x.
    """
    ways = [_way(a, b) for a, b in pairwise(stations)]
    path = []
    for k, (x, y) in enumerate(stations):
        u, v = ways[max(k - 1, 0)], ways[min(k, len(ways) - 1)]
        nx, ny = -(u[1] + v[1]), u[0] + v[0]
        scale = inset / (1 + u[0] * v[0] + u[1] * v[1])
        path.append((x + nx * scale, y + ny * scale))
    reach = 10 * abs(inset)
    (ux, uy), (vx, vy) = ways[0], ways[-1]
    path[0] = (path[0][0] - ux * reach, path[0][1] - uy * reach)
    path[-1] = (path[-1][0] + vx * reach, path[-1][1] + vy * reach)
    return path


def _way(a: Point, b: Point) -> Point:
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = float((dx * dx + dy * dy) ** 0.5)
    return dx / length, dy / length


def height_at(path: Sequence[Point], x: float) -> float:
    """Return y of a chain of straight lines at ``x``, its ends run on [mm]."""
    for (ax, ay), (bx, by) in pairwise(path):
        if x <= bx or (bx, by) == path[-1]:
            return ay + (by - ay) * (x - ax) / (bx - ax)
    return path[0][1]


def chain(path: Sequence[Point]) -> list[Segment]:
    """Return the straight segments through the points of ``path``."""
    return [Segment(*a, *b) for a, b in pairwise(path)]
