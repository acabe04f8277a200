"""Scribed text: which plate it is, which hand, which face is up; single strokes in the metal.

The text is set on the plate as it is cut, after mirroring, so it reads right on both hands. It
keeps ``KEEP`` from every cut and stays off other marks. Height from the cutting profile, down to
the profile's least height; a plate too small for that gets no text and a note says so.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees, hypot
from textwrap import wrap

import numpy as np
import shapely

from partgen.cut.loop import Lying, lying
from partgen.cut.strokes import strokes, text_size
from partgen.entries.cutting import Cutting
from partgen.geometry.outline import Outline, cos_sin
from partgen.geometry.segment import Point
from partgen.measure import length_text
from partgen.plates.plate import Mark, Plate

KEEP = 3.0  # mm from any cut; common practice, no source
VIEW_ERROR = 0.05  # mm, on the safe side
GRID = 24  # places tried along each side of the plate's box
SHRINK = 0.8  # one try to the next
EDGES = 2  # text also runs along this many of the longest straight edges
HANDS = {"left": "LEFT", "right": "RIGHT", "same": "BOTH SIDES SAME"}


def lettered(plate: Plate, process: Cutting) -> tuple[Plate, str]:
    """Return the plate with its text, and a note if there is no room for it, else nothing.

    Args:
        plate: as it goes on the table.
        process: height of letters.
    """
    marks, note = scribed(plate_text(plate), lying(plate), process)
    return (replace(plate, marks=(*plate.marks, *marks)) if marks else plate), note


def scribed(words: list[str], plate: Lying, process: Cutting) -> tuple[list[Mark], str]:
    """Return the strokes of words on a plate, and a note if there is no room, else nothing.

    Args:
        words: one to a line if they do not fit in one.
        plate: as it goes on the table.
        process: height of letters.
    """
    room = _room(plate)
    height = process.text_height
    while height >= process.least_text_height - 1e-9:
        for lines in _layouts(words):
            found = _place(plate.edge, room, lines, height)
            if found is not None:
                return found, ""
        height = _next_height(height, process.least_text_height)
    return [], (
        f"no room for text {length_text(process.least_text_height, 'mm')} high and "
        f"{KEEP:g} mm off every cut: mark it by hand"
    )


def plate_text(plate: Plate) -> list[str]:
    """Return what is scribed: identity and revision, hand, face, bends."""
    name = plate.key.upper() + (f" REV {plate.revision.upper()}" if plate.revision else "")
    words = [name, HANDS[plate.hand], "THIS FACE UP"]
    if plate.bends:
        words.append("BEND AT LINES")
    return words


def _next_height(height: float, least: float) -> float:
    return max(height * SHRINK, least) if height > least + 1e-9 else 0.0


def _layouts(words: list[str]) -> list[list[str]]:
    """Return ways to break the text into lines, few lines first."""
    whole = " ".join(words)
    ways = [[whole], words]
    for width in (24, 16, 12):
        broken = [line for word in words for line in wrap(word.replace("/", "/ "), width)]
        ways.append([line.replace("/ ", "/") for line in broken])
    return sorted({tuple(w): w for w in ways}.values(), key=len)


def _room(plate: Lying) -> shapely.Geometry:
    """Return where letters may be: the metal well off cuts and other marks."""
    cuts = [o.polygon("outside", VIEW_ERROR).exterior.coords for _, o in plate.openings]
    metal = shapely.Polygon(plate.edge.polygon("inside", VIEW_ERROR).exterior.coords, cuts)
    room = metal.buffer(-KEEP, quad_segs=16)
    drills = [m.path for m in plate.marks if m.kind == "drill"]
    lines = [shapely.LineString(m.path) for m in plate.marks if len(m.path) > 1]
    blocked = [line.buffer(KEEP) for line in lines]
    blocked += [
        shapely.Point(np.mean(p, axis=0)).buffer(KEEP + np.ptp(p, axis=0).max() / 2) for p in drills
    ]
    return room.difference(shapely.union_all(blocked)) if blocked else room


def _turns(edge: Outline) -> list[float]:
    """Return the directions text may run in, upright ones first [degrees]."""
    lines = [s for s in edge.segments if not s.bulge]
    longest = sorted(lines, key=lambda s: -round(s.length, 3))[:EDGES]
    slants = [degrees(atan2(s.y1 - s.y0, s.x1 - s.x0)) for s in longest]
    readable = [(a + 90) % 180 - 90 for a in slants]
    return list(dict.fromkeys([0.0, 90.0, *(round(a, 6) for a in readable)]))


def _place(
    edge: Outline, room: shapely.Geometry, lines: list[str], height: float
) -> list[Mark] | None:
    """Return the strokes where they fit, nearest to the plate's centre of area; else None."""
    width, tall = text_size(lines, height)
    if width * tall > room.area or width > _reach(room):
        return None
    shapely.prepare(room)
    for turn in _turns(edge):
        at = _free_place(edge, room, width, tall, turn)
        if at is not None:
            c, s = cos_sin(turn)
            return [
                Mark("scribe", tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in p))
                for p in strokes(lines, height)
            ]
    return None


def _reach(room: shapely.Geometry) -> float:
    """Return the diagonal of a room's box [mm]."""
    x0, y0, x1, y1 = room.bounds
    return hypot(x1 - x0, y1 - y0)


def _free_place(
    edge: Outline, room: shapely.Geometry, width: float, tall: float, turn: float
) -> Point | None:
    """Return a lower left corner where a turned box lies in the room."""
    x0, y0, x1, y1 = edge.box
    xs, ys = np.meshgrid(np.linspace(x0, x1, GRID + 1), np.linspace(y0, y1, GRID + 1))
    middles = np.column_stack([xs.ravel(), ys.ravel()])
    middles = np.vstack([np.array([edge.centroid]), middles])
    near = np.linalg.norm(middles - edge.centroid, axis=1)
    middles = middles[np.argsort(near.round(3), kind="stable")]
    c, s = cos_sin(turn)
    corners = np.array([[-width, -tall], [width, -tall], [width, tall], [-width, tall]]) / 2
    corners = corners @ np.array([[c, s], [-s, c]])
    boxes = shapely.polygons(middles[:, None, :] + corners[None, :, :])
    fits = np.flatnonzero(shapely.contains_properly(room, boxes))
    if not fits.size:
        return None
    x, y = middles[fits[0]] + corners[0]
    return float(x), float(y)
