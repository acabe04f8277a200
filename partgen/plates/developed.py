"""A plate bent along several parallel lines, flat and in space: what a brake makes of a blank.

Flat drawing: flats from tangent to tangent, the developed length of a bend between them, square to
x. In space the middle layer of the plate follows arcs of the inside radius + half the thickness.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import Self

from partgen.geometry.segment import Point, Segment
from partgen.plates.solid import Frame, Vector

PIECES = 6  # of a line through one bend


@dataclass(frozen=True)
class Bend:
    """One bend square to x.

    Attributes:
        start: x in the flat drawing where it begins [mm].
        length: its developed length [mm].
        angle: it turns through, towards the drawing's reader positive [degrees].
        radius: of the plate's middle layer [mm].
    """

    start: float
    length: float
    angle: float
    radius: float


@dataclass(frozen=True)
class DevelopedFrame(Frame):
    """Where the drawing of such a plate lies in space; its first flat lies in the frame's plane.

    Attributes:
        bends: in their order along x.
        middle: from the drawing's plane to the middle layer [mm].
    """

    bends: Sequence[Bend] = ()
    middle: float = 0.0

    def profile(self, x: float) -> tuple[float, float, float]:
        """Return along u, out of the plane [mm] and direction [rad] of the middle layer."""
        along = out = turn = done = 0.0
        for bend in self.bends:
            flat = min(x, bend.start) - done
            along, out = along + flat * cos(turn), out + flat * sin(turn)
            if x <= bend.start:
                return along, out, turn
            part = min(1.0, (x - bend.start) / bend.length)
            side, after = (1.0 if bend.angle > 0 else -1.0), turn + radians(bend.angle) * part
            along += side * bend.radius * (sin(after) - sin(turn))
            out += side * bend.radius * (cos(turn) - cos(after))
            turn, done = after, bend.start + bend.length
            if x <= done:
                return along, out, turn
        rest = x - done
        return along + rest * cos(turn), out + rest * sin(turn), turn

    def steps(self, line: Segment) -> Sequence[float]:
        """Return the parts of a straight line at which it is drawn."""
        width = line.x1 - line.x0
        if abs(width) < 1e-9:
            return (0.0,)
        places = [b.start + b.length * k / PIECES for b in self.bends for k in range(PIECES + 1)]
        parts = sorted((x - line.x0) / width for x in places)
        return (0.0, *(t for t in parts if 1e-9 < t < 1 - 1e-9))

    def at(self, point: Point, out: float = 0.0) -> Vector:
        """Return where a point of the flat drawing lies, ``out`` of its plane [mm]."""
        along, up, _ = self.profile(point[0])
        base = super().at((along, point[1]), up + self.middle)
        way = self.way(point)
        x, y, z = (b + (out - self.middle) * w for b, w in zip(base, way, strict=True))
        return x, y, z

    def way(self, point: Point) -> Vector:
        """Return the unit vector out of the plate at a point, towards the drawing's reader."""
        turn = self.profile(point[0])[2]
        return self.direction((-sin(turn), 0.0, cos(turn)))

    def mirrored(self, at: Vector, way: Vector) -> Self:
        """Return the frame mirrored in a plane; its bends turn the other way."""
        bends = tuple(replace(bend, angle=-bend.angle) for bend in self.bends)
        return replace(super().mirrored(at, way), bends=bends, middle=-self.middle)
