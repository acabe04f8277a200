"""What a plate's drawing has to say, once each: openings, bends, radii, where and how large.

*Ordinate*: a distance from the datum, shared by all openings and bend lines that have it.
*Callout*: the size of one or more equal openings, bends, or radii of the outside edge.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import dist, sqrt

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.measure import shown
from partgen.packet.datum import Datum
from partgen.packet.size_text import bend_text, window_text
from partgen.plates.plate import Hole, Mark, Plate, Window

TOGETHER = 0.005  # mm; nearer values print alike and share one ordinate
FLATTEST = 1.5  # an arc's radius over the plate's length, beyond which nobody measures it
PART = 0.3  # where along a bend line its letter stands
UP_RIGHT = (sqrt(0.5), sqrt(0.5))


@dataclass(frozen=True)
class Ordinate:
    """A distance from the datum.

    Attributes:
        axis: 0 for x, 1 for y.
        at: position in the drawing [mm].
        value: distance from the datum [mm].
        reach: how far across its line runs, the other coordinate of the farthest opening [mm].
        of: the openings and bends it places.
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
        of: names of the openings and bends; empty for radii.
    """

    text: str
    targets: tuple[Point, ...]
    ways: tuple[Point, ...]
    of: tuple[str, ...] = ()


def ordinates(at: Datum) -> list[Ordinate]:
    """Return the places of all openings and bend lines, x first, each value once."""
    plate = at.plate
    centres = [(f"hole {h.name}", (h.x, h.y)) for h in plate.holes]
    centres += [(f"window {w.name}", _middle(w.outline)) for w in plate.windows]
    found = []
    for axis in (0, 1):
        for group in _together([*centres, *_bend_places(plate, axis)], axis):
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


def bends(plate: Plate) -> list[tuple[str, Mark]]:
    """Return a plate's bend lines by name, in order."""
    lines = [mark for mark in plate.bends if len(mark.path) > 1]
    return [(f"bend {k}", mark) for k, mark in enumerate(lines, 1)]


def _bend_places(plate: Plate, axis: int) -> Iterable[tuple[str, Point]]:
    """Yield what places bend lines on an axis: the near end of one that is square to it.

    A slanting line has both its ends on both axes.
    """
    for name, bend in bends(plate):
        ends = sorted((bend.path[0], bend.path[-1]), key=lambda p: p[1 - axis])
        spans = [abs(ends[1][k] - ends[0][k]) for k in (0, 1)]
        if spans[axis] <= TOGETHER:
            yield name, ends[0]
        elif spans[1 - axis] > TOGETHER:
            yield from ((name, end) for end in ends)


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
    """Return the sizes of openings and bends and the radii of the edge, equal ones together."""
    sizes: dict[str, list[tuple[str, str, Point]]] = {}
    for hole in at.plate.holes:
        text = f"Ø{shown(hole.diameter, unit)} for {hole.bolt.size}"
        sizes.setdefault(text, []).append((f"hole {hole.name}", hole.name, _rim(hole)))
    for window in at.plate.windows:
        name, text = window.name, window_text(window.outline, unit)
        sizes.setdefault(text, []).append((f"window {name}", name, _on(window)))
    for name, bend in bends(at.plate):
        sizes.setdefault(bend_text(bend, unit), []).append((name, name[5:], _along(bend)))
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


def gentle(outline: Outline) -> list[Segment]:
    """Return the arcs of an outside edge too flat for a shop to measure: a template shows them."""
    x0, y0, x1, y1 = outline.box
    long = FLATTEST * max(x1 - x0, y1 - y0)
    return [s for s in outline.segments if s.bulge and s.radius > long]


def radii(outline: Outline, unit: str) -> list[Callout]:
    """Return the radii of the outside edge, largest first; a round plate gets its diameter.

    Gentle ones are left out.
    """
    if outline.circle_of:
        x, y, diameter = outline.circle_of
        target = x + diameter / 2 * UP_RIGHT[0], y + diameter / 2 * UP_RIGHT[1]
        return [Callout(f"Ø{shown(diameter, unit)} outside", (target,), (UP_RIGHT,))]
    groups: dict[str, list[Segment]] = {}
    arcs = sorted((s for s in outline.segments if s.bulge), key=lambda s: -s.radius)
    for arc in arcs[len(gentle(outline)) :]:
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


def _counted(text: str, names: list[str]) -> str:
    """Return a size with how many there are of it, and their names: the first and the last."""
    count = f"{len(names)} x " if len(names) > 1 else ""
    listed = names if len(names) < 3 else [names[0], "...", names[-1]]
    return f"{count}{text} ({', '.join(listed)})"


def _middle(outline: Outline) -> Point:
    """Return the centre of a window: of its circle, or of its area."""
    if outline.circle_of:
        return outline.circle_of[0], outline.circle_of[1]
    return outline.centroid


def _along(bend: Mark) -> Point:
    """Return a place on a bend line."""
    (x0, y0), (x1, y1) = sorted((bend.path[0], bend.path[-1]))
    return x0 + PART * (x1 - x0), y0 + PART * (y1 - y0)


def _rim(hole: Hole) -> Point:
    reach = hole.diameter / 2
    return hole.x + reach * UP_RIGHT[0], hole.y + reach * UP_RIGHT[1]


def _on(window: Window) -> Point:
    """Return the point of a window's edge farthest to the upper right."""
    return max(
        (s.at(0.5) for s in window.outline.segments), key=lambda p: (round(p[0] + p[1], 6), p)
    )
