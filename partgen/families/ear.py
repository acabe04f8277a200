"""Ears let into a plate's lower edge: flanks from two roots, tangent to the metal of the holes.

Ears whose roots overlap become one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, atan2, hypot, inf

from pydantic import Field

from partgen.errors import GeometryError
from partgen.fields import At, Entry, Name, Size
from partgen.geometry.belt import Pin, belt
from partgen.geometry.path import Path
from partgen.geometry.rounding import Corner
from partgen.geometry.segment import Point, Segment

FLANK = 0.5  # how much an ear widens to its root, per length of flank; common practice, no source


@dataclass(frozen=True)
class Ear:
    """The metal round one or more holes for one bolt.

    Attributes:
        holes: centres, the pivot first [mm].
        radius: of the metal about each [mm].
        root: half its width where it leaves the edge; default from the depth of its holes [mm].
    """

    holes: tuple[Point, ...]
    radius: float
    root: float | None = None

    def lies_inside(self, lower: Path) -> bool:
        """Tell whether the metal round every hole is already above the edge."""
        return all(
            y - lower.height(x) >= self.radius and lower.distance((x, y)) >= self.radius
            for x, y in self.holes
        )

    def roots(self, lower: Path) -> tuple[float, float]:
        """Return where its flanks leave the edge: x of the rear and of the front root [mm]."""
        reach = [self._half(lower, x, y) for x, y in self.holes]
        xs = [x for x, _ in self.holes]
        return (
            min(x - r for x, r in zip(xs, reach, strict=True)),
            max(x + r for x, r in zip(xs, reach, strict=True)),
        )

    def _half(self, lower: Path, x: float, y: float) -> float:
        if self.root is not None:
            return self.root
        return self.radius + FLANK * max(lower.height(x) - y, 0.0)


class EarEntry(Entry):
    """One more ear on the same two plates, for a joint and a bolt of the same kind.

    Attributes:
        pivot: the bolt's centre in the rail's side view [mm].
        adjust: further holes for the same bolt, to choose from [mm].
        ear_radius: metal round each hole; default as the first ear's [mm].
        root: half the ear's width where it leaves the body [mm].
        name: shown in findings.
    """

    pivot: At
    adjust: tuple[At, ...] = Field(default=(), max_length=20)
    ear_radius: Size | None = None
    root: Size | None = None
    name: Name | None = None

    def ear(self, radius: float) -> Ear:
        """Return the ear; ``radius`` is the first ear's [mm]."""
        return Ear((self.pivot, *self.adjust), self.ear_radius or radius, self.root)


def under(lower: Path, ears: Sequence[Ear], corner: float, blend: float) -> list[Corner]:
    """Return the lower edge of a body with its ears, each segment with its corner's radius.

    Args:
        lower: the edge without ears, from the rear to the front [mm].
        ears: in any order.
        corner: radius where the edge begins [mm].
        blend: radius at the roots and at sharp inside kicks [mm].

    Raises:
        GeometryError: a root lies off the edge, or a hole's metal cannot be reached.
    """
    hanging = [(ear.roots(lower), ear) for ear in ears if not ear.lies_inside(lower)]
    result: list[Corner] = []
    x = lower.start[0]
    for (left, right), group in _together(hanging):
        if left <= lower.start[0] or right >= lower.end[0]:
            raise GeometryError(
                f"the ear's root (x = {left:g} to {right:g} mm) is wider than the body's lower "
                f"edge (x = {lower.start[0]:g} to {lower.end[0]:g} mm); "
                "reach further or set a smaller root"
            )
        result += _plain(lower.between(x, left), blend, first=bool(result))
        flanks = _flanks((left, lower.height(left)), (right, lower.height(right)), group)
        result += [(s, blend if k == 0 else 0.0) for k, s in enumerate(flanks)]
        x = right
    result += _plain(lower.between(x, lower.end[0]), blend, first=bool(result))
    result[0] = (result[0][0], corner)
    return result


def _plain(edge: Path, blend: float, *, first: bool) -> list[Corner]:
    """Return a stretch of edge; ``first`` says that an ear's root comes before it."""
    return [(s, blend if first and k == 0 else 0.0) for k, s in enumerate(edge.segments)]


def _together(
    hanging: Sequence[tuple[tuple[float, float], Ear]],
) -> list[tuple[tuple[float, float], list[Ear]]]:
    """Return ears in order, those whose roots overlap as one."""
    groups: list[tuple[tuple[float, float], list[Ear]]] = []
    for (left, right), ear in sorted(hanging, key=lambda h: h[0]):
        if groups and left <= groups[-1][0][1]:
            (first, last), members = groups[-1]
            groups[-1] = ((first, max(last, right)), [*members, ear])
        else:
            groups.append(((left, right), [ear]))
    return groups


def _flanks(left: Point, right: Point, ears: Sequence[Ear]) -> list[Segment]:
    """Return the belt from one root under every hole's metal to the other root."""
    here, goal = Pin(*left), Pin(*right)
    rest = [Pin(*hole, ear.radius) for ear in ears for hole in ear.holes]
    for root in (here, goal):
        if any(_heading(root, pin) == inf for pin in rest):
            raise GeometryError(
                f"the ear's root at ({root.x:g}, {root.y:g}) mm lies within the metal of its "
                "hole; set a larger root"
            )
    chain = [here]
    while here is not goal:
        found = min([*rest, goal], key=lambda pin: _heading(here, pin))
        if found is not goal:
            rest.remove(found)
        chain.append(found)
        here = found
    return list(belt(chain).segments[:-1])


def _heading(a: Pin, b: Pin) -> float:
    """Return the direction of the tangent that keeps both pins on its left [rad]."""
    away = hypot(b.x - a.x, b.y - a.y)
    if away <= abs(a.radius - b.radius):
        return inf
    return atan2(b.y - a.y, b.x - a.x) + asin((a.radius - b.radius) / away)
