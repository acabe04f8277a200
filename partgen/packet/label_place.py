"""Where a text fits in a picture: on a plate's metal, or beside a place and off every line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import atan2, cos, dist, pi, sin

import numpy as np
import shapely

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.packet.picture import Box, label, number
from partgen.packet.words import Words

SIZES = (1.0, 0.8, 0.6, 0.45, 0.3)  # of the letters asked for
ACROSS = 15  # places tried each way
WIDE = 0.6  # of a letter's height, its width
VIEW_ERROR = 0.5  # mm
STEP = 0.35  # of a letter's height, from one distance tried to the next
REACH = 12.0  # letters' heights; further off a text says nothing of its place
TURNS = 16  # directions tried at each distance
CLEAR = 0.35  # of a letter's height, left free about a text


def name_inside(
    name: str, outlines: Sequence[Outline], size: float, taken: Sequence[Box] = ()
) -> list[str]:
    """Return the name as SVG, wholly on metal, as near the middle as can be; nothing if no room.

    Args:
        name: of the plate.
        outlines: openings first, the outside edge last, where they lie [mm].
        size: height of the letters; made smaller where that helps [mm].
        taken: boxes that the name keeps off, as those of marks [mm].
    """
    *openings, edge = outlines
    metal = edge.polygon("inside", VIEW_ERROR)
    for opening in openings:
        metal = metal.difference(opening.polygon("outside", VIEW_ERROR))
    if taken:
        metal = metal.difference(shapely.union_all([shapely.box(*box) for box in taken]))
    shapely.prepare(metal)
    for part in SIZES:
        high = part * size
        wide, room = WIDE * high * len(name) + high, 1.5 * high
        for upright in (False, True):
            w, h = (room, wide) if upright else (wide, room)
            at = _place(metal, edge, w, h)
            if at is not None:
                text = label(name, *at, high)
                return [_upright(text, *at) if upright else text]
    return []


def _place(metal: shapely.Geometry, edge: Outline, w: float, h: float) -> Point | None:
    """Return the middle of a box wholly on metal, near the plate's middle; None if no room."""
    x0, y0, x1, y1 = edge.box
    if w > x1 - x0 or h > y1 - y0:
        return None
    middle = edge.centroid
    xs = np.append(np.linspace(x0 + w / 2, x1 - w / 2, ACROSS), middle[0])
    ys = np.append(np.linspace(y0 + h / 2, y1 - h / 2, ACROSS), middle[1])
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    boxes = shapely.box(x - w / 2, y - h / 2, x + w / 2, y + h / 2)
    fits = np.flatnonzero(shapely.contains(metal, boxes))
    if not len(fits):
        return None
    best = fits[np.hypot(x[fits] - middle[0], y[fits] - middle[1]).argmin()]
    return float(x[best]), float(y[best])


def _upright(text: str, x: float, y: float) -> str:
    """Return a label turned to read from below upwards."""
    turn = f'transform="rotate(-90 {number(x)} {number(-y)})"'
    return text.replace("<text ", f"<text {turn} ", 1)


def beside(
    text: Words, lines: Sequence[Sequence[Point]], taken: Sequence[Box], way: Point = (0.0, 1.0)
) -> Words:
    """Return a text moved to the nearest place where it lies on no line and no other text.

    Args:
        text: where it would best be; its anchor is taken as given.
        lines: open lines of the drawing, through points [mm].
        taken: what other texts cover [mm].
        way: direction to try first at each distance.
    """
    drawn = shapely.MultiLineString([line for line in lines if len(line) > 1])
    shapely.prepare(drawn)
    first = atan2(way[1], way[0])
    turns = sorted((pi * k / (TURNS / 2) for k in range(-TURNS // 2 + 1, TURNS // 2 + 1)), key=abs)
    for k in range(round(REACH / STEP) + 1):
        away = k * STEP * text.size
        for turn in turns if k else turns[:1]:
            moved = replace(
                text, x=text.x + away * cos(first + turn), y=text.y + away * sin(first + turn)
            )
            box = _about(moved.box, CLEAR * text.size)
            if not any(_meet(box, other) for other in taken) and not drawn.intersects(
                shapely.box(*box)
            ):
                return moved
    return text


def beside_any(
    places: Sequence[Point], text: Words, lines: Sequence[Sequence[Point]], taken: Sequence[Box]
) -> Words:
    """Return a text beside that one of several places where it has to be moved least.

    Args:
        places: such as points along a line that it names; the first of equals is taken [mm].
        text: what to place.
        lines: open lines of the drawing, through points [mm].
        taken: what other texts cover [mm].
    """
    tries = []
    for x, y in places:
        moved = beside(replace(text, x=x, y=y), lines, taken)
        still = (moved.x, moved.y) == (x, y)  # no room, or none needed
        tries.append((REACH * text.size if still else dist((x, y), (moved.x, moved.y)), moved))
    return min(tries, key=lambda found: round(found[0], 6))[1]


def _about(box: Box, room: float) -> Box:
    return box[0] - room, box[1] - room, box[2] + room, box[3] + room


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
