"""A belt stretched round pins: the way families draw an outline.

A pin has a centre and a radius: positive where the belt wraps it with the metal inside (an ear
round its bolt hole), negative where it is a concave blend, zero for a corner. Consecutive pins are
joined by their common tangent, so every arc is tangent to its lines exactly. A corner may carry a
blend, a tangent arc that rounds it whichever way it turns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, copysign, hypot, isfinite, pi, sqrt, tan

from partgen.errors import GeometryError
from partgen.geometry.outline import SAME, Outline, Vertex
from partgen.geometry.segment import Point

FLAT = 1e-9  # rad; a turn smaller than this is none


@dataclass(frozen=True)
class Pin:
    """One pin of a belt.

    Attributes:
        x: centre [mm].
        y: centre [mm].
        radius: positive convex, negative concave, zero a corner [mm].
        blend: radius that rounds a corner; only where ``radius`` is zero [mm].
    """

    x: float
    y: float
    radius: float = 0.0
    blend: float = 0.0


@dataclass(frozen=True)
class _Wrap:
    """Where the belt meets a pin, where it leaves it, and the bulge between."""

    arrive: Point
    leave: Point
    bulge: float


def belt(pins: Sequence[Pin]) -> Outline:
    """Return the outline of a belt run anticlockwise round ``pins``.

    Args:
        pins: at least two, in the order the belt meets them.

    Raises:
        GeometryError: two pins have no common tangent, a blend does not fit on its edges, or the
            belt crosses itself or turns inside out.
    """
    if len(pins) < 2:
        raise GeometryError("an outline needs at least two pins")
    if not all(isfinite(v) for p in pins for v in (p.x, p.y, p.radius, p.blend)):
        raise GeometryError("an outline has a size that is no finite number")
    ways = [_tangent(a, b) for a, b in zip(pins, [*pins[1:], pins[0]], strict=True)]
    wraps = [_wrap(pin, ways[k - 1], ways[k]) for k, pin in enumerate(pins)]
    vertices: list[Vertex] = []
    for k, wrap in enumerate(wraps):
        _need_room(wrap, wraps[(k + 1) % len(wraps)], ways[k], pins[k], pins[(k + 1) % len(pins)])
        if wrap.bulge:
            vertices.append(Vertex(*wrap.arrive, wrap.bulge))
        vertices.append(Vertex(*wrap.leave))
    if any(pin.radius for pin in pins) and Outline(tuple(vertices)).area < -SAME:
        raise GeometryError(
            "the outline turns inside out: its pins run clockwise or a concave one reaches across"
        )
    return Outline.of(vertices)


def corners(points: Sequence[Point], blend: float = 0.0) -> list[Pin]:
    """Return corner pins at ``points``, each with the same ``blend`` [mm]."""
    return [Pin(x, y, 0.0, blend) for x, y in points]


def rectangle(width: float, height: float, blend: float = 0.0, at: Point = (0.0, 0.0)) -> Outline:
    """Return a rectangle about ``at`` with rounded corners [mm].

    Raises:
        GeometryError: the blend is larger than half the smaller side.
    """
    (x, y), w, h = at, width / 2, height / 2
    return belt(corners([(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)], blend))


def turns_inward(before: Pin, pin: Pin, after: Pin) -> bool:
    """Tell whether a belt turns right at a pin: a corner that would be re-entrant there.

    Raises:
        GeometryError: two pins have no common tangent.
    """
    arriving, leaving = _tangent(before, pin), _tangent(pin, after)
    return arriving[0] * leaving[1] - arriving[1] * leaving[0] < -FLAT


def _tangent(a: Pin, b: Pin) -> Point:
    """Return the unit direction of the belt from pin ``a`` to pin ``b``."""
    dx, dy = b.x - a.x, b.y - a.y
    away = hypot(dx, dy)
    if away <= abs(a.radius - b.radius):
        raise GeometryError(
            f"no edge can join the radius {abs(a.radius):g} at ({a.x:g}, {a.y:g}) and the radius "
            f"{abs(b.radius):g} at ({b.x:g}, {b.y:g}) mm: they are only {away:g} mm apart"
        )
    sine = (a.radius - b.radius) / away
    cosine = sqrt(1 - sine * sine)
    return (dx * cosine - dy * sine) / away, (dx * sine + dy * cosine) / away


def _wrap(pin: Pin, arriving: Point, leaving: Point) -> _Wrap:
    turn = atan2(
        arriving[0] * leaving[1] - arriving[1] * leaving[0],
        arriving[0] * leaving[0] + arriving[1] * leaving[1],
    )
    if pin.radius:
        return _round_pin(pin, turn, arriving, leaving)
    if not pin.blend or abs(turn) <= FLAT:
        return _Wrap((pin.x, pin.y), (pin.x, pin.y), 0.0)
    trim = pin.blend * tan(abs(turn) / 2)
    return _Wrap(
        (pin.x - arriving[0] * trim, pin.y - arriving[1] * trim),
        (pin.x + leaving[0] * trim, pin.y + leaving[1] * trim),
        tan(turn / 4),
    )


def _round_pin(pin: Pin, turn: float, arriving: Point, leaving: Point) -> _Wrap:
    if abs(turn) > FLAT and (turn > 0) != (pin.radius > 0):
        turn = copysign(2 * pi - abs(turn), pin.radius)
    if abs(turn) > 1.6 * pi:
        raise GeometryError(
            f"the outline would loop round the radius {abs(pin.radius):g} at "
            f"({pin.x:g}, {pin.y:g}) mm; move it out or make its neighbours narrower"
        )
    r = pin.radius
    return _Wrap(
        (pin.x + arriving[1] * r, pin.y - arriving[0] * r),
        (pin.x + leaving[1] * r, pin.y - leaving[0] * r),
        tan(turn / 4) if abs(turn) > FLAT else 0.0,
    )


def _need_room(here: _Wrap, there: _Wrap, way: Point, a: Pin, b: Pin) -> None:
    dx, dy = there.arrive[0] - here.leave[0], there.arrive[1] - here.leave[1]
    room = dx * way[0] + dy * way[1]
    if room < -1e-9:
        raise GeometryError(
            f"the edge from ({a.x:g}, {a.y:g}) to ({b.x:g}, {b.y:g}) mm is {-room:.3g} mm too "
            f"short for the radii {a.blend or abs(a.radius):g} and {b.blend or abs(b.radius):g} mm"
        )
