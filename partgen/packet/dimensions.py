"""What a plate's drawing has to say: where each opening is, how large, and every radius, once each.

*Ordinate*: a distance from the datum, shared by all openings that have it. *Callout*: the size of
one or more equal openings, or of equal radii of the outside edge.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan2, degrees, dist, pi, sqrt

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.measure import shown
from partgen.packet.datum import Datum
from partgen.plates.plate import Hole, Window

TOGETHER = 0.005  # mm; nearer values print alike and share one ordinate
UP_RIGHT = (sqrt(0.5), sqrt(0.5))


@dataclass(frozen=True)
class Ordinate:
    """A distance from the datum.

    Attributes:
        axis: 0 for x, 1 for y.
        at: position in the drawing [mm].
        value: distance from the datum [mm].
        reach: how far across its line runs, the other coordinate of the farthest opening [mm].
        of: the openings it places.
    """

    axis: int
    at: float
    value: float
    reach: float
    of: tuple[str, ...]


@dataclass(frozen=True)
class Callout:
    """A size.

    Attributes:
        text: as printed.
        targets: a point on each thing it speaks of [mm].
        ways: from each target to where there is room for a letter, unit vectors.
        of: names of the openings; empty for radii.
    """

    text: str
    targets: tuple[Point, ...]
    ways: tuple[Point, ...]
    of: tuple[str, ...] = ()


def ordinates(at: Datum) -> list[Ordinate]:
    """Return the places of all openings, x first, each value once."""
    centres = [(f"hole {h.name}", (h.x, h.y)) for h in at.plate.holes]
    centres += [(f"window {w.name}", _middle(w.outline)) for w in at.plate.windows]
    found = []
    for axis in (0, 1):
        for group in _together(centres, axis):
            first = group[0][1]
            found.append(
                Ordinate(
                    axis,
                    first[axis],
                    at.value(first, axis),
                    max(p[1 - axis] for _, p in group),
                    tuple(name for name, _ in group),
                )
            )
    return found


def _together(centres: list[tuple[str, Point]], axis: int) -> Iterable[list[tuple[str, Point]]]:
    group: list[tuple[str, Point]] = []
    for entry in sorted(centres, key=lambda c: (c[1][axis], c[0])):
        if group and entry[1][axis] - group[0][1][axis] > TOGETHER:
            yield group
            group = []
        group.append(entry)
    if group:
        yield group


def callouts(at: Datum, unit: str) -> list[Callout]:
    """Return the sizes of all openings and the radii of the outside edge, equal ones together."""
    sizes: dict[str, list[tuple[str, str, Point]]] = {}
    for hole in at.plate.holes:
        text = f"Ø{shown(hole.diameter, unit)} {hole.bolt.size}"
        sizes.setdefault(text, []).append((f"hole {hole.name}", hole.name, _rim(hole)))
    for window in at.plate.windows:
        name, text = window.name, window_text(window.outline, unit)
        sizes.setdefault(text, []).append((f"window {name}", name, _on(window)))
    found = [
        Callout(
            _counted(text, [name for _, name, _ in things]),
            tuple(target for _, _, target in things),
            (UP_RIGHT,) * len(things),
            tuple(label for label, _, _ in things),
        )
        for text, things in sizes.items()
    ]
    return found + radii(at.plate.outline, unit)


def radii(outline: Outline, unit: str) -> list[Callout]:
    """Return the radii of the outside edge, largest first; a round plate gets its diameter."""
    if outline.circle_of:
        x, y, diameter = outline.circle_of
        target = x + diameter / 2 * UP_RIGHT[0], y + diameter / 2 * UP_RIGHT[1]
        return [Callout(f"Ø{shown(diameter, unit)} outside", (target,), (UP_RIGHT,))]
    groups: dict[str, list[Segment]] = {}
    for arc in sorted((s for s in outline.segments if s.bulge), key=lambda s: -s.radius):
        kin = groups.setdefault(f"R{shown(arc.radius, unit)}", [])
        if not any(dist(arc.centre, other.centre) <= TOGETHER for other in kin):
            kin.append(arc)
    return [
        Callout(
            f"{len(arcs)} x {text}" if len(arcs) > 1 else text,
            tuple(arc.at(0.5) for arc in arcs),
            tuple(_to_metal(arc) for arc in arcs),
        )
        for text, arcs in groups.items()
    ]


def _to_metal(arc: Segment) -> Point:
    """Return the way into the metal at the middle of an arc of an anticlockwise outline."""
    along = arc.direction(0.5)
    return -along[1], along[0]


def window_text(outline: Outline, unit: str) -> str:
    """Return the size of a window: round, slot, rectangle with corner radius, or its extents."""
    if outline.circle_of:
        return f"Ø{shown(outline.circle_of[2], unit)}"
    straight = [s for s in outline.segments if not s.bulge]
    arcs = [s for s in outline.segments if s.bulge]
    radius = f" R{shown(min(s.radius for s in arcs), unit)}" if arcs else ""
    along = max(straight, key=lambda s: s.length, default=None)
    turn = 0.0 if along is None else degrees(atan2(along.y1 - along.y0, along.x1 - along.x0))
    x0, y0, x1, y1 = outline.turned(-turn).box
    length, width = shown(x1 - x0, unit), shown(y1 - y0, unit)
    tilt = turn % 90.0
    tilt = tilt - 90.0 if tilt > 45.0 else tilt
    at = f" at {abs(tilt):.1f}°" if abs(tilt) > 0.05 else ""
    if len(straight) == 2 and len(arcs) == 2 and all(abs(abs(s.sweep) - pi) < 1e-6 for s in arcs):
        return f"slot {length} x {width}{at}"
    return f"{length} x {width}{radius}{at}"


def _counted(text: str, names: list[str]) -> str:
    if len(names) == 1:
        return f"{text} {names[0]}"
    return f"{len(names)} x {text} {names[0]} ..."


def _middle(outline: Outline) -> Point:
    """Return the centre of a window: of its circle, or of its area."""
    if outline.circle_of:
        return outline.circle_of[0], outline.circle_of[1]
    return outline.centroid


def _rim(hole: Hole) -> Point:
    reach = hole.diameter / 2
    return hole.x + reach * UP_RIGHT[0], hole.y + reach * UP_RIGHT[1]


def _on(window: Window) -> Point:
    """Return the point of a window's edge farthest to the upper right."""
    return max(
        (s.at(0.5) for s in window.outline.segments), key=lambda p: (round(p[0] + p[1], 6), p)
    )
