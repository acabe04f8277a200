"""Ears that lean: bent along a line below the body, drawn flat and true to shape.

Both plates are bent by the same angle the same way, so that the ears stay parallel and the bolt
goes square through both; the pivot asked for is where the joint's centre is seen from the side.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

from partgen.errors import GeometryError
from partgen.families.ear import Ear
from partgen.fit.mount import Lean, closer
from partgen.geometry.crossing import crossings
from partgen.geometry.outline import Outline
from partgen.geometry.path import Path
from partgen.geometry.segment import Point, Segment
from partgen.plates.fold import Fold
from partgen.plates.plate import Mark

FAR = 1e4  # mm


def width_between(
    joint: float, near: float, far: float, angle: float, spread: float = 0.0
) -> float:
    """Return what ears that lean by ``angle`` [degrees] have to stand apart, along the vehicle's y.

    Args:
        joint: width that is clamped between them, square to the ears [mm].
        near: thickness of one ear [mm].
        far: thickness of the other [mm].
        angle: of both, outward positive [degrees].
        spread: by how much the outer plate's middle layer bends wider than the inner one's [mm].

    Examples:
        >>> round(width_between(57, 6, 6, 12), 3)
        58.407
    """
    plates = (near + far) / 2
    return (joint + plates + closer(angle, spread)) / cos(radians(angle)) - plates


def aside(fold: Fold, seen: Point, shared: float) -> float:
    """Return how far outward of the middle between the plates a leaning ear's joint sits [mm].

    Args:
        fold: one plate's bend.
        seen: where the joint's centre is seen, square to the unbent plate.
        shared: mean radius of both plates' middle layers in their bends [mm].
    """
    _, depth = fold.split(seen)
    turn = radians(abs(fold.angle))
    straight = (depth - shared * sin(turn)) / cos(turn)
    out = shared * (1 - cos(turn)) + straight * sin(turn)
    return out if fold.angle > 0 else -out


def lean_of(inner: Fold, outer: Fold) -> Lean:
    """Return how a mount's plates bend, as a web between them sees it, from their bends."""
    near, far = (0.0, outer.thickness) if inner.angle > 0 else (inner.thickness, 0.0)
    radii = inner.radius + near, outer.radius + far
    spread = outer.middle_radius - inner.middle_radius
    return Lean(inner.angle, inner.down, inner.start, *radii, spread, (inner, outer))


def leaning(
    ear: Ear,
    lower: Path,
    *,
    angle: float,
    radius: float,
    thickness: float,
    drop: float,
    out: float,
    shared: float,
) -> tuple[Ear, Fold]:
    """Return an ear as it is drawn flat, and its bend.

    Args:
        ear: with its holes where the joint's centre is seen.
        lower: the rail's lower edge.
        angle: of the lean, outward positive [degrees].
        radius: inside, of the bend [mm].
        thickness: of the plate [mm].
        drop: from the rail's lower edge to where the bend begins [mm].
        out: from the middle between the plates to this plate's, outward positive [mm].
        shared: mean radius of both plates' middle layers in their bends [mm].

    Raises:
        GeometryError: a hole's metal reaches into the bend.
    """
    x = ear.holes[0][0]
    down = lower.square(x)
    start = x + drop * down[0], lower.height(x) + drop * down[1]
    fold = Fold(start=start, down=down, angle=angle, radius=radius, thickness=thickness)
    holes = tuple(fold.flat(hole, out, shared) for hole in ear.holes)
    room = min(fold.split(hole)[1] for hole in holes) - fold.flat_length
    if room < ear.radius:
        px, py = ear.holes[0]
        raise GeometryError(
            f"the ear at ({px:g}, {py:g}) mm has {room:.4g} mm of flat between hole and bend; it "
            f"needs its radius, {ear.radius:g} mm: lower the pivot, or set a smaller bend_radius"
        )
    return Ear(holes, ear.radius, ear.root), fold


def across(outline: Outline, fold: Fold, beyond: float) -> tuple[float, float]:
    """Return where a line along the bend leaves the plate: how far back and forward [mm].

    Raises:
        GeometryError: the line does not cross the plate there.
    """
    line = Segment(*fold.joined(-FAR, beyond), *fold.joined(FAR, beyond))
    met = sorted(fold.split(p)[0] for s in outline.segments for p in crossings(line, s))
    before = [a for a in met if a <= 0]
    after = [a for a in met if a > 0]
    if not before or not after:
        raise GeometryError("the bend does not cross the ear; set a larger root, or another drop")
    return before[-1], after[0]


def bend_marks(outline: Outline, folds: list[Fold]) -> tuple[tuple[Mark, ...], tuple[Fold, ...]]:
    """Return a mark along the middle of each bend, and the bends with their reach."""
    marks, reaching = [], []
    for fold in folds:
        half = fold.flat_length / 2
        back, ahead = across(outline, fold, half)
        ends: tuple[Point, Point] = fold.joined(back, half), fold.joined(ahead, half)
        marks.append(Mark("bend", ends, fold.radius, -fold.angle))
        reaching.append(replace(fold, reach=across(outline, fold, 0.0)))
    return tuple(marks), tuple(reaching)
