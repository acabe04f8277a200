"""Features that break a plate's outside edge: cutouts, snipes, witness notches."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist
from typing import Self

from pydantic import Field, model_validator

from partgen.errors import GeometryError
from partgen.fields import Angle, At, Margin, Size
from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.crossing import meetings
from partgen.geometry.outline import Outline
from partgen.geometry.rounding import SHARP, round_where, turns
from partgen.geometry.segment import Point
from partgen.geometry.trim import less
from partgen.plates.feature import RADIUS, Feature

BLEND = 6.0  # mm, where a cutout breaks the edge; common practice, no source
NOTCH = 4.0  # mm; common practice, no source
ON_EDGE = 0.5  # mm from a snipe's end to the edge, which may be an arc
REACH = 25.0  # mm from where a snipe or notch is asked for to the corner or edge it finds


class Cutout(Feature):
    """A cut that breaks the outside edge: a notch for a body mount, relief for a line or exhaust.

    Attributes:
        at: its centre; with ``points`` the place they are counted from [mm].
        size: length along x and width along y of a rectangle before turning [mm].
        diameter: of a round one [mm].
        points: corners of a free one, from ``at`` [mm].
        radius: of its own corners [mm].
        angle: turned anticlockwise [degrees].
        blend: radius where it breaks the edge [mm].
    """

    size: tuple[Size, Size] | None = None
    diameter: Size | None = None
    points: tuple[At, ...] | None = Field(default=None, min_length=3, max_length=200)
    radius: Margin = RADIUS
    angle: Angle = 0.0
    blend: Margin = BLEND

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = [n for n in ("size", "diameter", "points") if getattr(self, n) is not None]
        if len(given) != 1:
            raise ValueError("give one of 'size', 'diameter' or 'points'")
        return self

    def outline(self) -> Outline:
        """Return the edge of what is cut away."""
        x, y = self.at
        if self.diameter is not None:
            return Outline.circle(x, y, self.diameter)
        if self.size is not None:
            whole = rectangle(*self.size, self.radius, self.at)
        else:
            whole = belt(corners([(x + dx, y + dy) for dx, dy in self.points or ()], self.radius))
        return whole.turned(self.angle, self.at)

    def cut(self, edge: Outline) -> Outline:
        """Return ``edge`` without the cutout.

        Raises:
            GeometryError: it does not break the edge, or breaks the plate in two.
        """
        left = less(edge, self.outline())
        x, y = self.at
        if left.openings or not left.mouths:
            raise GeometryError(
                f"cutout at ({x:g}, {y:g}) mm does not break the edge; move it out, or make it an "
                "opening"
            )
        if len(left.outlines) != 1:
            raise GeometryError(
                f"cutout at ({x:g}, {y:g}) mm leaves {len(left.outlines)} pieces; make it smaller"
            )
        return round_where(
            left.outlines[0],
            self.blend,
            lambda p, _: bool(self.blend) and any(dist(p, m) < 1e-4 for m in left.mouths),
        )


class Snipe(Feature):
    """A corner cut off, to clear a weld that runs through it.

    Attributes:
        leg: cut off along both edges [mm].
        radius: of a round snipe about the corner instead [mm].
    """

    leg: Size | None = None
    radius: Size | None = None

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if (self.leg is None) == (self.radius is None):
            raise ValueError("give either 'leg' or 'radius'")
        return self

    def cut(self, edge: Outline) -> Outline:
        """Return ``edge`` with its nearest corner cut off.

        Raises:
            GeometryError: no corner is near, or the snipe does not fit on its edges.
        """
        corner, before, after = self._corner(edge)
        (cx, cy), (ux, uy), (vx, vy) = corner, before, after
        if self.radius is not None:
            tool = Outline.circle(cx, cy, 2 * self.radius)
        else:
            leg = self.leg or 0.0
            p, q = (cx - ux * leg, cy - uy * leg), (cx + vx * leg, cy + vy * leg)
            out = cx - (p[0] + q[0]) / 2, cy - (p[1] + q[1]) / 2
            wide = (q[0] - p[0]) * 0.1, (q[1] - p[1]) * 0.1
            a = p[0] - wide[0], p[1] - wide[1]
            b = q[0] + wide[0], q[1] + wide[1]
            over = 2 * out[0], 2 * out[1]
            if max(edge.distance(p), edge.distance(q)) > ON_EDGE:
                raise GeometryError(_does_not_fit(corner))
            tool = belt(
                corners([(a[0] + over[0], a[1] + over[1]), a, b, (b[0] + over[0], b[1] + over[1])])
            )
        left = less(edge, tool)
        if len(left.outlines) != 1 or len(left.mouths) != 2:
            raise GeometryError(_does_not_fit(corner))
        return left.outlines[0]

    def _corner(self, edge: Outline) -> tuple[Point, Point, Point]:
        """Return the nearest outside corner and the directions into and out of it."""
        found = min(_outside_corners(edge), key=lambda c: dist(c[0], self.at), default=None)
        x, y = self.at
        if found is None or dist(found[0], self.at) > REACH:
            raise GeometryError(
                f"no outside corner within {REACH:g} mm of the snipe at ({x:g}, {y:g}) mm; give a "
                "corner of the plate"
            )
        return found


class Notch(Feature):
    """A witness notch: half a round hole in the edge, to set the plate to a scribed line.

    Attributes:
        diameter: of the round; it goes half of that deep [mm].
    """

    diameter: Size = NOTCH

    def cut(self, edge: Outline) -> Outline:
        """Return ``edge`` with the notch at its nearest place.

        Raises:
            GeometryError: no edge is near, or the notch meets a corner.
        """
        near = min((s.nearest(self.at) for s in edge.segments), key=lambda p: dist(p, self.at))
        x, y = self.at
        if dist(near, self.at) > REACH:
            raise GeometryError(f"no edge within {REACH:g} mm of the notch at ({x:g}, {y:g}) mm")
        left = less(edge, Outline.circle(*near, self.diameter))
        if len(left.outlines) != 1 or len(left.mouths) != 2:
            raise GeometryError(f"notch at ({x:g}, {y:g}) mm does not fit there; make it smaller")
        return left.outlines[0]


def _does_not_fit(corner: Point) -> str:
    x, y = corner
    return f"snipe at ({x:g}, {y:g}) mm does not fit on its edges; make it smaller"


def _outside_corners(edge: Outline) -> Iterator[tuple[Point, Point, Point]]:
    """Yield the outside corners, sharp or rounded, with the directions into and out of each."""
    segments = edge.segments
    for k, (s, turn) in enumerate(zip(segments, turns(edge), strict=True)):
        before, after = segments[k - 1], segments[(k + 1) % len(segments)]
        if turn >= SHARP:
            yield s.start, before.direction(1), s.direction(0)
        if s.bulge > 0 and not (before.bulge or after.bulge):
            for at in meetings(before, after):
                if dist(at, s.at(0.5)) < 2 * s.radius:
                    yield at, before.direction(1), after.direction(0)
