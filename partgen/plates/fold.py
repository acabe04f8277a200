"""A plate bent once along a line, flat and in space.

Flat drawing: up to the line where the bend begins everything stays as it is; beyond it lie the
bend's developed length (its allowance) and then the leaning part, true to shape. In space the
middle layer of the plate follows an arc of the inside radius + half the thickness.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, radians, sin
from typing import Self

from partgen.errors import GeometryError
from partgen.geometry.bending import allowance, k_factor
from partgen.geometry.segment import Point, Segment
from partgen.plates.solid import Frame, Vector

PIECES = 24


@dataclass(frozen=True, kw_only=True)
class Fold:
    """One bend.

    Attributes:
        start: a point of the line where the bend begins [mm].
        down: unit direction in the flat drawing from there into the leaning part.
        angle: it leans by, positive to the side away from the drawing's reader [degrees].
        radius: inside [mm].
        thickness: of the plate [mm].
        reach: where along the line, counted from ``start``, the leaning part begins and ends [mm].
    """

    start: Point
    down: Point
    angle: float
    radius: float
    thickness: float
    reach: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def flat_length(self) -> float:
        """Developed length of the bend [mm]."""
        k = k_factor(self.radius, self.thickness)
        return allowance(self.angle, self.radius, self.thickness, k)

    @property
    def middle_radius(self) -> float:
        """Radius of the plate's middle layer in the bend [mm]."""
        return self.radius + self.thickness / 2

    def split(self, point: Point) -> tuple[float, float]:
        """Return how far a flat point lies along the bend's line and beyond it [mm]."""
        x, y = point[0] - self.start[0], point[1] - self.start[1]
        (dx, dy) = self.down
        return y * dx - x * dy, x * dx + y * dy

    def joined(self, along: float, beyond: float) -> Point:
        """Return the flat point that lies so far along the line and beyond it."""
        (x, y), (dx, dy) = self.start, self.down
        return x - along * dy + beyond * dx, y + along * dx + beyond * dy

    def flat(self, seen: Point, out: float, shared: float | None = None) -> Point:
        """Return where a hole's centre lies in the flat drawing.

        Args:
            seen: where the joint's centre is seen, square to the unbent plate.
            out: from halfway between two such plates to this one's middle layer, away from the
                reader [mm].
            shared: mean radius of both plates' middle layers; default this one's [mm].

        Raises:
            GeometryError: the hole comes to lie in the bend.
        """
        along, depth = self.split(seen)
        turn, side = radians(abs(self.angle)), 1.0 if self.angle > 0 else -1.0
        radius = self.middle_radius if shared is None else shared
        # Halfway between the ears, and then along the bolt's axis to this ear.
        centre = (depth - radius * sin(turn)) / cos(turn)
        beyond = centre + (radius - self.middle_radius - side * out) * sin(turn)
        if beyond <= 0:
            x, y = seen
            raise GeometryError(
                f"the hole at ({x:g}, {y:g}) mm lies {-beyond:.3g} mm within the bend; move it "
                "down, or begin the bend higher"
            )
        return self.joined(along, self.flat_length + beyond)

    def section(self, beyond: float) -> tuple[float, float, float]:
        """Return depth, lean [mm] and direction [rad] of the middle layer ``beyond`` the line."""
        turn, radius = radians(abs(self.angle)), self.middle_radius
        here = turn * min(1.0, beyond / self.flat_length)
        straight = max(0.0, beyond - self.flat_length)
        depth = radius * sin(here) + straight * cos(here)
        lean = radius * (1 - cos(here)) + straight * sin(here)
        side = 1.0 if self.angle > 0 else -1.0
        return depth, side * lean, side * here


@dataclass(frozen=True)
class BentFrame(Frame):
    """Where the drawing of a bent plate lies in space.

    Attributes:
        folds: its bends, none beyond another.
        middle: from the drawing's plane to the middle layer [mm].
    """

    folds: Sequence[Fold] = ()
    middle: float = 0.0

    def steps(self, line: Segment) -> Sequence[float]:
        """Return the parts of a straight line at which it is drawn."""
        return [k / PIECES for k in range(PIECES)] if self.folds else (0.0,)

    @property
    def unbent(self) -> Frame:
        """The frame without its bends."""
        return Frame(self.origin, self.u, self.v)

    def mirrored(self, at: Vector, way: Vector) -> Self:
        """Return the frame mirrored in a plane; its bends turn the other way."""
        folds = tuple(replace(fold, angle=-fold.angle) for fold in self.folds)
        return replace(super().mirrored(at, way), folds=folds, middle=-self.middle)

    def at(self, point: Point, out: float = 0.0) -> Vector:
        """Return where a point of the flat drawing lies, ``out`` of its plane [mm]."""
        fold, along, beyond = self._fold_at(point)
        if fold is None:
            return super().at(point, out)
        depth, lean, _ = fold.section(beyond)
        base = super().at(fold.joined(along, depth), self.middle - lean)
        way = self.way(point)
        x, y, z = (b + (out - self.middle) * w for b, w in zip(base, way, strict=True))
        return x, y, z

    def way(self, point: Point) -> Vector:
        """Return the unit vector out of the plate at a point, towards the drawing's reader."""
        fold, _, beyond = self._fold_at(point)
        if fold is None:
            return self.normal
        _, _, turn = fold.section(beyond)
        dx, dy = fold.down
        down = [dx * u + dy * v for u, v in zip(self.u, self.v, strict=True)]
        x, y, z = (cos(turn) * n + sin(turn) * d for n, d in zip(self.normal, down, strict=True))
        return x, y, z

    def _fold_at(self, point: Point) -> tuple[Fold | None, float, float]:
        for fold in self.folds:
            along, beyond = fold.split(point)
            if beyond > 0 and fold.reach[0] <= along <= fold.reach[1]:
                return fold, along, beyond
        return None, 0.0, 0.0
