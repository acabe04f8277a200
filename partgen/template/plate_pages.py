"""The pages of one plate: its edges at full size, its holes, the rail's edge, words, marks."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from partgen.cautions import ON_PAPER
from partgen.geometry.segment import Point
from partgen.job.build import Build
from partgen.packet.rail_line import face_up, rail_line
from partgen.plates.plate import Mark, Plate
from partgen.template.bars import bars
from partgen.template.paper import SIDE, TOP, Paper
from partgen.template.pdf import Pages
from partgen.template.plate_words import name_words, rail_words
from partgen.template.tiles import Tile, Tiling, tiling

ROUND = 8.0  # mm shown beyond the plate
EDGE, FINE = 0.3, 0.15  # mm, widths of lines
ARM = 6.0  # mm a hole's centre lines stand out
CROSS, RING = 5.0, 1.6  # mm, of a registration mark
LONGEST = 1200.0  # mm, largest plate that is promised
DASHES = {"scribe": (2.0, 1.5), "bend": (6.0, 1.5, 1.0, 1.5), "drill": ()}
SCREENING = f"Paper check. {ON_PAPER}"


@dataclass(frozen=True)
class PlatePages:
    """A plate laid over its pages.

    Attributes:
        plate: as it is drawn.
        paper: upright or lying, whichever takes fewer pages.
        tiling: what each page shows.
        rail: the rail's lower edge, if the plate lies on one [mm].
    """

    plate: Plate
    paper: Paper
    tiling: Tiling
    rail: tuple[Point, ...]


def plate_pages(plate: Plate, build: Build, paper: Paper) -> PlatePages:
    """Return how a plate is laid over pages, the paper turned if that saves any."""
    rail = rail_line(plate, build)
    shapes: list[shapely.Geometry] = [plate.outline.polygon("outside")]
    if rail:
        shapes.append(shapely.LineString(rail))
    shown = shapely.union_all(shapes).buffer(0.5)
    x0, y0, x1, y1 = shown.bounds
    box = (x0 - ROUND, y0 - ROUND, x1 + ROUND, y1 + ROUND)
    holes = [(hole.x, hole.y) for hole in plate.holes]
    ways = [(sheet, tiling(box, sheet.window, shown, holes)) for sheet in (paper, paper.lying)]
    sheet, tiles = min(ways, key=lambda way: len(way[1].tiles))
    return PlatePages(plate, sheet, tiles, rail)


def draw(pages: Pages, laid: PlatePages, build: Build, stamp: str) -> None:
    """Draw all pages of a plate; ``stamp`` is printed across the top if there is one."""
    for tile in laid.tiling.tiles:
        pages.start(laid.paper)
        window = laid.paper.window
        pages.view(tile.box, (0.0, SIDE))
        _plate(pages, laid, build)
        _marks(pages, laid.tiling)
        pages.whole()
        corners = [(0.0, SIDE), (window[0], SIDE), (window[0], SIDE + window[1])]
        pages.line([*corners, (0.0, SIDE + window[1]), (0.0, SIDE)], FINE)
        bars(pages, window)
        _head(pages, laid, tile, build, stamp)
        pages.end()


def _plate(pages: Pages, laid: PlatePages, build: Build) -> None:
    plate = laid.plate
    for outline in plate.outlines:
        pages.outline(outline, EDGE)
    for hole in plate.holes:
        _cross(pages, (hole.x, hole.y), hole.diameter / 2 + ARM)
    for mark in plate.marks:
        _mark(pages, mark)
    if laid.rail:
        pages.line(laid.rail, FINE, (8.0, 3.0))
        rail_words(pages, laid.rail, plate, laid.tiling)
    name_words(pages, plate, build, laid.rail, laid.tiling)


def _mark(pages: Pages, mark: Mark) -> None:
    if len(mark.path) == 1:
        _cross(pages, mark.path[0], ARM)
    else:
        pages.line(mark.path, FINE, DASHES[mark.kind])


def _cross(pages: Pages, at: Point, arm: float) -> None:
    pages.line([(at[0] - arm, at[1]), (at[0] + arm, at[1])], FINE)
    pages.line([(at[0], at[1] - arm), (at[0], at[1] + arm)], FINE)


def _marks(pages: Pages, laid: Tiling) -> None:
    for number, at in enumerate(laid.marks, 1):
        _cross(pages, at, CROSS)
        ring = [(RING, 0.0), (0.0, RING), (-RING, 0.0), (0.0, -RING), (RING, 0.0)]
        pages.line([(at[0] + dx, at[1] + dy) for dx, dy in ring], FINE)
        pages.words(f"{number}", (at[0] + 1.0, at[1] + 2.6), 2.0)


def _head(pages: Pages, laid: PlatePages, tile: Tile, build: Build, stamp: str) -> None:
    """Write what the page is and how to print it."""
    plate, most = laid.plate, laid.paper.window[0] + SIDE
    y = SIDE + laid.paper.window[1]
    across, down = (100 * s for s in laid.paper.stretch)
    revision = f", revision {plate.revision}" if plate.revision else ""
    made = "" if across == down == 100 else f" For bars that printed {across:g} and {down:g} mm."
    lines = [
        f"{build.job.name}: {plate.label}{revision}",
        f"Column {tile.column} of {laid.tiling.columns}, row {tile.row} of {laid.tiling.rows}. "
        f"Full size: print at 100 %, no fit to page, and measure the bars on both axes.{made}",
        f"Lay marks of one number on each other. You see the {face_up(plate, build)}.",
        stamp or SCREENING,
    ]
    for k, (text, height) in enumerate(zip(lines, (3.0, 2.0, 2.0, 2.0), strict=True)):
        bold = k == 0 or (k == 3 and bool(stamp))
        pages.words(text, (0.0, y + TOP - 4.0 - 4.2 * k), height, most=most, bold=bold)
