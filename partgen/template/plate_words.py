"""Words that stay on a template when it is cut out: what it is, which face, the rail's edge.

They are set whole on one page, clear of lines, as far as there is room.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import atan2, cos, degrees, dist, hypot, sin
from textwrap import wrap

import shapely

from partgen.entries.stock import Stock
from partgen.geometry.segment import Point
from partgen.job.build import Build
from partgen.packet.plates_section import HANDS
from partgen.packet.rail_line import face_up, forward
from partgen.plates.plate import Plate
from partgen.template.pdf import Pages
from partgen.template.tiles import Tiling

RAIL = "rail: this line on its lower edge"
RAIL_ROOM = 45.0  # mm; on less the words on the rail's edge become too small
CAPITAL, LEAST = 3.5, 1.2  # mm, height of capitals, wanted and least
WIDE, LINE = 0.8, 1.7  # width of a letter and height of a line over a capital's height
MOST = 26  # letters in a line
CLEAR = 8.0  # mm kept from other lines and from the page's edge


def rail_words(pages: Pages, rail: tuple[Point, ...], plate: Plate, tiling: Tiling) -> None:
    """Name the rail's edge below the longest straight piece of it that is on one page.

    A piece between the plate's cut lines if there is one that holds the words.
    """
    pieces = [
        shapely.intersection(shapely.LineString(ends), shapely.box(*tile.box))
        for ends in pairwise(rail)
        for tile in tiling.tiles
    ]
    cuts = plate.polygon("outside").boundary.buffer(CLEAR)
    clear = [part for p in pieces for part in shapely.get_parts(p.difference(cuts))]
    free, longest = _longest(clear), _longest(pieces)
    if free is not None and free.length >= RAIL_ROOM:
        longest = free
    if longest is None:
        return
    a, b = sorted(longest.coords)
    angle = atan2(b[1] - a[1], b[0] - a[0])
    along, below = 0.05 * dist(a, b), 4.0
    at = (
        a[0] + along * cos(angle) + below * sin(angle),
        a[1] + along * sin(angle) - below * cos(angle),
    )
    pages.words(RAIL, at, 2.5, angle=degrees(angle), most=0.9 * dist(a, b))


def _longest(pieces: Iterable[shapely.Geometry]) -> shapely.Geometry | None:
    lines = [p for p in pieces if p.geom_type == "LineString" and not p.is_empty]
    return max(lines, key=lambda p: p.length, default=None)


def name_words(
    pages: Pages, plate: Plate, build: Build, rail: tuple[Point, ...], tiling: Tiling
) -> None:
    """Write name, stock, face and forward where there is most room on the metal of one page."""
    stock = Stock(plate.thickness, plate.material.name).text(build.job.unit)
    name = [*wrap(plate.part, MOST), *wrap(f"{plate.name}, {HANDS[plate.hand]}", MOST)]
    lines = [*name, f"{plate.count} x {stock}"]
    if plate.revision:
        lines.append(f"revision {plate.revision}")
    lines += wrap(f"you see the {face_up(plate, build)}", MOST)
    way = forward(plate, build)
    if way:
        lines.append("forward >>>" if way == "right" else "<<< forward")
    (x, y), room = _room(plate, rail, tiling)
    size = hypot(WIDE * max(map(len, lines)), LINE * len(lines))
    height = max(LEAST, min(CAPITAL, room / size))
    top = y + LINE * height * (len(lines) - 1) / 2 - height / 2
    for k, text in enumerate(lines):
        at = (x, top - LINE * height * k)
        pages.words(text, at, height, middle=True, bold=k < len(name))


def _room(plate: Plate, rail: tuple[Point, ...], tiling: Tiling) -> tuple[Point, float]:
    """Return the middle and the diameter of the largest free circle on one page [mm]."""
    taken: list[shapely.Geometry] = [
        shapely.Point(hole.x, hole.y).buffer(hole.diameter / 2 + CLEAR) for hole in plate.holes
    ]
    taken += [shapely.Point(at).buffer(CLEAR) for at in tiling.marks]
    if rail:
        taken.append(shapely.LineString(rail).buffer(CLEAR))
    metal = plate.polygon("inside")
    free = metal.difference(shapely.union_all(taken))
    best: tuple[float, Point] = (
        0.0,
        (metal.representative_point().x, metal.representative_point().y),
    )
    for tile in tiling.tiles:
        x0, y0, x1, y1 = tile.box
        part = free.intersection(shapely.box(x0 + 2, y0 + 2, x1 - 2, y1 - 2))
        if part.area > 0:
            circle = shapely.maximum_inscribed_circle(part, tolerance=0.5)
            best = max(best, (2 * circle.length, circle.coords[0]))
    return best[1], best[0]
