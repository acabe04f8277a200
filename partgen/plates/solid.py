"""A plate, or a stretch of rail, placed in space.

ISO 8855 axes: x forward, y left, z up; for a mount, y is counted from the middle of its rail. A
solid is an outline in a plane and a depth square to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.plate import Plate

Vector = tuple[float, float, float]
FORWARD: Vector = (1.0, 0.0, 0.0)
LEFT: Vector = (0.0, 1.0, 0.0)
UP: Vector = (0.0, 0.0, 1.0)
DOWN: Vector = (0.0, 0.0, -1.0)
STEP = 0.15  # rad of an arc from one drawn point to the next


@dataclass(frozen=True)
class Frame:
    """Where a drawing lies in space.

    Attributes:
        origin: of the drawing [mm].
        u: where its x points, a unit vector.
        v: where its y points, a unit vector square to ``u``.
    """

    origin: Vector
    u: Vector
    v: Vector

    @cached_property
    def normal(self) -> Vector:
        """The unit vector out of the drawing, towards its reader."""
        (a, b, c), (d, e, f) = self.u, self.v
        return b * f - c * e, c * d - a * f, a * e - b * d

    def at(self, point: Point, out: float = 0.0) -> Vector:
        """Return where a point of the drawing lies, ``out`` of its plane [mm]."""
        x, y = point
        axes = zip(self.origin, self.u, self.v, self.normal, strict=True)
        a, b, c = (o + x * u + y * v + out * n for o, u, v, n in axes)
        return a, b, c

    @property
    def pieces(self) -> int:
        """Into how many pieces a line is drawn."""
        return 1

    def way(self, point: Point) -> Vector:
        """Return the unit vector out of the plate at a point, towards the drawing's reader."""
        return self.normal


@dataclass(frozen=True)
class Solid:
    """One piece of an assembly.

    Attributes:
        name: shown in the picture.
        outlines: its openings, and its outside edge last, as drawn [mm].
        frame: where the drawing lies.
        depth: from the drawing's plane, along its normal; negative behind it [mm].
        apart: which way it moves when the assembly is pulled apart, in steps.
        holes: centres of its bolt holes, as drawn, by name [mm].
    """

    name: str
    outlines: tuple[Outline, ...]
    frame: Frame
    depth: float
    apart: Vector = (0.0, 0.0, 0.0)
    holes: tuple[tuple[str, Point], ...] = ()

    @classmethod
    def of(cls, plate: Plate, frame: Frame, depth: float, apart: Vector, name: str = "") -> Solid:
        """Return a plate placed in space; ``name`` is the plate's own by default."""
        holes = tuple((h.name, (h.x, h.y)) for h in plate.holes)
        return cls(name or plate.name, plate.outlines, frame, depth, apart, holes)

    def moved(self, step: float) -> Solid:
        """Return the solid pulled apart by ``step`` [mm]."""
        x, y, z = (o + step * a for o, a in zip(self.frame.origin, self.apart, strict=True))
        return replace(self, frame=replace(self.frame, origin=(x, y, z)))

    def loop(self, outline: Outline, out: float) -> list[Vector]:
        """Return points round one of its outlines, ``out`` of the drawing's plane [mm]."""
        return [self.frame.at(p, out) for p in _points(outline, self.frame.pieces)]

    @cached_property
    def unbent(self) -> Solid:
        """The solid with its bends left out."""
        plain = Frame(self.frame.origin, self.frame.u, self.frame.v)
        return replace(self, frame=plain)

    @cached_property
    def box(self) -> tuple[Vector, Vector]:
        """Least and greatest coordinates [mm]."""
        return extents(p for out in (0.0, self.depth) for p in self.loop(self.outlines[-1], out))


def extents(points: Iterable[Vector]) -> tuple[Vector, Vector]:
    """Return the least and the greatest coordinates of points [mm]."""
    x, y, z = zip(*points, strict=True)
    return (min(x), min(y), min(z)), (max(x), max(y), max(z))


def _points(outline: Outline, pieces: int) -> Iterator[Point]:
    for s in outline.segments:
        n = ceil(abs(s.sweep) / STEP) or pieces
        yield from (s.at(k / n) for k in range(n))
