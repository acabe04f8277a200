"""A closed chain of straight lines and circular arcs, exact: the shape that is cut.

Glossary: an *outline* bounds a plate or an opening; it runs anticlockwise. A shapely polygon is
only a view of it, with a stated chord error, and lies wholly inside or wholly outside as asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import atan2, ceil, cos, fsum, hypot, radians, sin, sqrt
from typing import Literal

import shapely

from partgen.errors import GeometryError
from partgen.geometry.segment import Point, Segment, closest

CHORD_ERROR = 0.01  # mm
SAME = 1e-6  # mm; two outlines closer than this everywhere are the same
Side = Literal["inside", "outside"]


@dataclass(frozen=True)
class Vertex:
    """A corner of an outline and the way to the next one.

    Attributes:
        x: position [mm].
        y: position [mm].
        bulge: of the segment to the next vertex; 0 is straight [-].
    """

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True)
class Outline:
    """A closed chain of lines and arcs, anticlockwise.

    Attributes:
        vertices: the corners in order; the last one joins the first [mm].
    """

    vertices: tuple[Vertex, ...]

    @classmethod
    def of(cls, vertices: Iterable[Vertex]) -> Outline:
        """Return an outline through ``vertices``, turned anticlockwise, doubled points dropped.

        Raises:
            GeometryError: fewer than two points left, no area, or it crosses itself.
        """
        kept = _without_doubles(list(vertices))
        if len(kept) < 2:
            raise GeometryError("an outline needs at least two different points")
        outline = cls(tuple(kept))
        if outline.area < 0:
            outline = outline._backwards()
        if outline.area <= SAME:
            raise GeometryError("an outline has no area; check its sizes")
        outline._refuse_crossing()
        return outline

    @classmethod
    def circle(cls, x: float, y: float, diameter: float) -> Outline:
        """Return a circle about (x, y): two half circles [mm]."""
        r = diameter / 2
        return cls((Vertex(x + r, y, 1.0), Vertex(x - r, y, 1.0)))

    @classmethod
    def slot(cls, x: float, y: float, length: float, width: float, angle: float = 0.0) -> Outline:
        """Return a round-ended slot about (x, y); ``length`` over all [mm], ``angle`` [degrees].

        Raises:
            GeometryError: the slot is not longer than wide.
        """
        if not length > width > 0:
            raise GeometryError(f"slot {length:g} x {width:g} mm: it must be longer than wide")
        r, half = width / 2, (length - width) / 2
        corners = (
            Vertex(x - half, y - r),
            Vertex(x + half, y - r, 1.0),
            Vertex(x + half, y + r),
            Vertex(x - half, y + r, 1.0),
        )
        return cls(corners).turned(angle, (x, y))

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """The lines and arcs in order."""
        pairs = zip(self.vertices, (*self.vertices[1:], self.vertices[0]), strict=True)
        return tuple(Segment(a.x, a.y, b.x, b.y, a.bulge) for a, b in pairs)

    @cached_property
    def circle_of(self) -> tuple[float, float, float] | None:
        """Centre and diameter if the outline is one circle, else None [mm]."""
        if len(self.segments) != 2 or any(v.bulge != 1.0 for v in self.vertices):
            return None
        first = self.segments[0]
        return first.centre[0], first.centre[1], 2 * first.radius

    @cached_property
    def area(self) -> float:
        """Exact area [mm2]."""
        return fsum(
            (s.x0 * s.y1 - s.x1 * s.y0) / 2 + s.radius**2 / 2 * (s.sweep - sin(s.sweep))
            for s in self.segments
        )

    @cached_property
    def length(self) -> float:
        """Exact length of the outline [mm]."""
        return fsum(s.length for s in self.segments)

    @cached_property
    def centroid(self) -> Point:
        """Exact centre of area [mm]."""
        mx = my = 0.0
        for s in self.segments:
            cross = (s.x0 * s.y1 - s.x1 * s.y0) / 2
            mx += cross * (s.x0 + s.x1) / 3
            my += cross * (s.y0 + s.y1) / 3
            if s.bulge:
                cap = s.radius**2 / 2 * (s.sweep - sin(s.sweep))
                middle = s.start_angle + s.sweep / 2
                arm = 2 / 3 * s.radius**3 * sin(s.sweep / 2) ** 3
                mx += cap * s.centre[0] + arm * cos(middle)
                my += cap * s.centre[1] + arm * sin(middle)
        return mx / self.area, my / self.area

    @cached_property
    def boxes(self) -> tuple[tuple[float, float, float, float], ...]:
        """Exact extents of each segment: least x, least y, greatest x, greatest y [mm]."""
        return tuple(s.box for s in self.segments)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Exact extents: least x, least y, greatest x, greatest y [mm]."""
        boxes = self.boxes
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )

    def distance(self, point: Point) -> float:
        """Return the exact distance from ``point`` to the outline [mm]."""
        return min(s.distance(point) for s in self.segments)

    def moved(self, dx: float, dy: float) -> Outline:
        """Return the outline shifted by (dx, dy) [mm]."""
        return Outline(tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in self.vertices))

    def turned(self, angle: float, about: Point = (0.0, 0.0)) -> Outline:
        """Return the outline turned anticlockwise by ``angle`` [degrees]; quarters are exact."""
        c, s = cos_sin(angle)
        ox, oy = about
        return Outline(
            tuple(
                Vertex(
                    ox + c * (v.x - ox) - s * (v.y - oy),
                    oy + s * (v.x - ox) + c * (v.y - oy),
                    v.bulge,
                )
                for v in self.vertices
            )
        )

    def mirrored(self) -> Outline:
        """Return the outline mirrored left to right (x to -x), still anticlockwise."""
        return Outline(tuple(Vertex(-v.x, v.y, v.bulge) for v in self._backwards(1).vertices))

    def _backwards(self, sign: int = -1) -> Outline:
        """Return the chain the other way round from the same point, bulges times ``sign``."""
        v = self.vertices
        bulges = [sign * p.bulge for p in reversed(v)]
        points = (v[0], *reversed(v[1:]))
        return Outline(tuple(Vertex(p.x, p.y, b) for p, b in zip(points, bulges, strict=True)))

    def polygon(self, side: Side, chord_error: float = CHORD_ERROR) -> shapely.Polygon:
        """Return a shapely polygon that lies inside, or outside, the exact outline.

        Args:
            side: "inside" never shows metal that is not there, "outside" never hides any.
            chord_error: greatest distance between polygon and outline [mm].
        """
        points: list[Point] = []
        for s in self.segments:
            points.append(s.start)
            if s.bulge:
                cut = (s.bulge > 0) == (side == "inside")
                points.extend(_chords(s, chord_error) if cut else _tangents(s, chord_error))
        return shapely.Polygon(points)

    def is_same(self, other: Outline, tolerance: float = SAME) -> bool:
        """Tell whether two outlines are one chain, whichever vertex is first; within [mm]."""
        mine, theirs = self.vertices, other.vertices
        if len(mine) != len(theirs):
            return False
        return any(
            all(_near(a, b, tolerance) for a, b in zip(mine, theirs[k:] + theirs[:k], strict=True))
            for k, first in enumerate(theirs)
            if _near(mine[0], first, tolerance)
        )

    def _refuse_crossing(self) -> None:
        view = self.polygon("inside", 0.001)
        if not view.is_valid:
            why = shapely.is_valid_reason(view)
            raise GeometryError(f"an outline crosses itself ({why.lower()} mm); check its sizes")


def cos_sin(angle: float) -> tuple[float, float]:
    """Return cosine and sine of ``angle`` [degrees], exact at quarter turns."""
    quarters, rest = divmod(angle, 90)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return cos(radians(angle)), sin(radians(angle))


def distance(a: Sequence[Segment], b: Sequence[Segment]) -> float:
    """Return the exact least distance between two chains [mm]."""
    return min(closest(s, t)[0] for s in a for t in b)


def _near(a: Vertex, b: Vertex, tolerance: float) -> bool:
    return hypot(a.x - b.x, a.y - b.y) <= tolerance and abs(a.bulge - b.bulge) <= tolerance


def _without_doubles(vertices: list[Vertex]) -> list[Vertex]:
    kept: list[Vertex] = []
    for k, v in enumerate(vertices):
        following = vertices[(k + 1) % len(vertices)]
        if hypot(v.x - following.x, v.y - following.y) > SAME:
            kept.append(v)
    return kept


def _steps(s: Segment, chord_error: float) -> int:
    """Return how many equal pieces keep ``s`` within ``chord_error`` of its chords and tangents."""
    half = atan2(sqrt(chord_error * (2 * s.radius + chord_error)), s.radius)  # acos(r / (r + e))
    return max(2, ceil(abs(s.sweep) / (2 * half)))


def _chords(s: Segment, chord_error: float) -> list[Point]:
    n = _steps(s, chord_error)
    return [s.at(k / n) for k in range(1, n)]


def _tangents(s: Segment, chord_error: float) -> list[Point]:
    n = _steps(s, chord_error)
    reach = 1 / cos(s.sweep / n / 2)
    middles = (s.at((k + 0.5) / n) for k in range(n))
    cx, cy = s.centre
    return [(cx + (x - cx) * reach, cy + (y - cy) * reach) for x, y in middles]
