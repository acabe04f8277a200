"""A plate, or a stretch of rail, placed in space.

ISO 8855 axes: x forward, y left, z up; for a mount, y is counted from the middle of its rail. A
solid is an outline in a plane and a depth square to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import ceil, fsum
from typing import Self

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.plates.plate import Plate

Vector = tuple[float, float, float]
FORWARD: Vector = (1.0, 0.0, 0.0)
LEFT: Vector = (0.0, 1.0, 0.0)
UP: Vector = (0.0, 0.0, 1.0)
DOWN: Vector = (0.0, 0.0, -1.0)
RIGHT: Vector = (0.0, -1.0, 0.0)
LYING = {  # how a drawing lies in space: where its x and its y point
    "flat-across": (RIGHT, FORWARD),  # seen from above, x to the right
    "flat-along": (FORWARD, LEFT),  # seen from above, x forward
    "face": (RIGHT, UP),  # seen from behind, x to the right
    "side": (FORWARD, UP),  # seen from the right, x forward
}
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
        return cross(self.u, self.v)

    def at(self, point: Point, out: float = 0.0) -> Vector:
        """Return where a point of the drawing lies, ``out`` of its plane [mm]."""
        x, y = point
        axes = zip(self.origin, self.u, self.v, self.normal, strict=True)
        a, b, c = (o + x * u + y * v + out * n for o, u, v, n in axes)
        return a, b, c

    def steps(self, line: Segment) -> Sequence[float]:
        """Return the parts of a straight line at which it is drawn, so that it bends: from 0."""
        return (0.0,)

    @property
    def unbent(self) -> Frame:
        """The frame to sort pieces by: a plate whose ears lean counts as if they did not."""
        return self

    def direction(self, way: Vector) -> Vector:
        """Return a direction given in this frame's own axes u, v and normal."""
        a, b, c = way
        axes = zip(self.u, self.v, self.normal, strict=True)
        x, y, z = (a * u + b * v + c * n for u, v, n in axes)
        return x, y, z

    def point(self, at: Vector) -> Vector:
        """Return a point given in this frame's own axes u, v and normal [mm]."""
        x, y, z = (o + d for o, d in zip(self.origin, self.direction(at), strict=True))
        return x, y, z

    def within(self, space: Frame) -> Self:
        """Return this frame, given in the axes of ``space``, where that lies."""
        u, v = space.direction(self.u), space.direction(self.v)
        return replace(self, origin=space.point(self.origin), u=u, v=v)

    def mirrored(self, at: Vector, way: Vector) -> Self:
        """Return the frame mirrored in the plane through ``at`` square to the unit ``way``.

        What lay ``out`` of it then lies as far on its other side.
        """
        reach: Vector = tuple(o - a for o, a in zip(self.origin, at, strict=True))  # type: ignore[assignment]
        x, y, z = (a + r for a, r in zip(at, _flipped(reach, way), strict=True))
        u, v = _flipped(self.u, way), _flipped(self.v, way)
        return replace(self, origin=(x, y, z), u=u, v=v)

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
        is_named: whether its name is written into the picture.
        seams: those of its openings that tabs fill once it is put together [mm].
        seated: its outside edge without tabs, which are out of sight then, if it has any [mm].
        is_inside: whether another piece hides it once it is put together.
        parted_at: how deep others sit on it, where it is parted to be drawn in their order [mm].
    """

    name: str
    outlines: tuple[Outline, ...]
    frame: Frame
    depth: float
    apart: Vector = (0.0, 0.0, 0.0)
    holes: tuple[tuple[str, Point], ...] = ()
    is_named: bool = True
    seams: tuple[Outline, ...] = ()
    seated: Outline | None = None
    is_inside: bool = False
    parted_at: tuple[float, ...] = ()

    @classmethod
    def of(cls, plate: Plate, frame: Frame, depth: float, apart: Vector, name: str = "") -> Solid:
        """Return a plate placed in space; ``name`` is the plate's own by default."""
        holes = tuple((h.name, (h.x, h.y)) for h in plate.holes)
        filled = tuple(w.outline for w in plate.windows if w.is_filled)
        return cls(name or plate.name, plate.outlines, frame, depth, apart, holes, seams=filled)

    @cached_property
    def together(self) -> tuple[Solid, ...]:
        """The solid as it is seen once it is put together: tabs in their slots, in its parts."""
        if self.is_inside:
            return ()
        openings = tuple(o for o in self.outlines[:-1] if o not in self.seams)
        whole = replace(self, outlines=(*openings, self.seated or self.outlines[-1]), seated=None)
        if not self.parted_at:
            return (whole,)
        ends = (0.0, *sorted(self.parted_at), self.depth)
        return tuple(
            replace(
                whole,
                frame=replace(self.frame, origin=self.frame.at((0.0, 0.0), a)),
                depth=b - a,
            )
            for a, b in pairwise(ends)
        )

    def moved(self, step: float) -> Solid:
        """Return the solid pulled apart by ``step`` [mm]."""
        x, y, z = (o + step * a for o, a in zip(self.frame.origin, self.apart, strict=True))
        return replace(self, frame=replace(self.frame, origin=(x, y, z)))

    def within(self, space: Frame) -> Solid:
        """Return the solid, given in the axes of ``space``, where that lies."""
        frame = self.frame.within(space)
        return replace(self, frame=frame, apart=space.direction(self.apart))

    def mirrored(self, at: Vector, way: Vector) -> Solid:
        """Return the solid mirrored in the plane through ``at`` square to the unit ``way``."""
        frame = self.frame.mirrored(at, way)
        return replace(self, frame=frame, depth=-self.depth, apart=_flipped(self.apart, way))

    def loop(self, outline: Outline, out: float) -> list[Vector]:
        """Return points round one of its outlines, ``out`` of the drawing's plane [mm]."""
        return [self.frame.at(p, out) for p in _points(outline, self.frame)]

    @cached_property
    def unbent(self) -> Solid:
        """The solid with its bends left out."""
        return replace(self, frame=self.frame.unbent)

    @cached_property
    def box(self) -> tuple[Vector, Vector]:
        """Least and greatest coordinates [mm]."""
        return extents(p for out in (0.0, self.depth) for p in self.loop(self.outlines[-1], out))


def extents(points: Iterable[Vector]) -> tuple[Vector, Vector]:
    """Return the least and the greatest coordinates of points [mm]."""
    x, y, z = zip(*points, strict=True)
    return (min(x), min(y), min(z)), (max(x), max(y), max(z))


def cross(a: Vector, b: Vector) -> Vector:
    """Return the vector square to two."""
    (ax, ay, az), (bx, by, bz) = a, b
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


def dot(a: Vector, b: Vector) -> float:
    """Return the sum of the products of the coordinates."""
    return fsum(p * q for p, q in zip(a, b, strict=True))


def _flipped(vector: Vector, way: Vector) -> Vector:
    twice = 2 * dot(vector, way)
    x, y, z = (c - twice * w for c, w in zip(vector, way, strict=True))
    return x, y, z


def _points(outline: Outline, frame: Frame) -> Iterator[Point]:
    for s in outline.segments:
        n = ceil(abs(s.sweep) / STEP)
        steps = [k / n for k in range(n)] if n else frame.steps(s)
        yield from (s.at(t) for t in steps)
