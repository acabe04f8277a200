"""How a drawing larger than a page is laid over several, with overlap and registration marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import shapely

from partgen.geometry.segment import Point

OVERLAP = 12.0  # mm
SHARES = (0.5, 0.25, 0.75, 0.0, 1.0)  # of what is left over, put before the drawing
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Tile:
    """What one page shows.

    Attributes:
        column: from the left, from 1.
        row: from the top, from 1.
        box: part of the drawing [mm].
    """

    column: int
    row: int
    box: Box


@dataclass(frozen=True)
class Tiling:
    """A drawing on its pages.

    Attributes:
        columns: how many across.
        rows: how many down.
        tiles: the pages that show something, row by row.
        marks: crosses that lie on two pages or more, in the order of their numbers [mm].
    """

    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    marks: tuple[Point, ...]


def tiling(
    box: Box, window: tuple[float, float], shown: shapely.Geometry, whole: Sequence[Point] = ()
) -> Tiling:
    """Return how ``box`` is laid over pages.

    Args:
        box: extents of the drawing [mm].
        window: width and height of the drawing on a page [mm].
        shown: what must be seen; pages that show nothing of it are left out.
        whole: points that seams keep away from as far as they can, the centres of holes [mm].
    """
    xs, ys = (_starts(box[k], box[k + 2], window[k], [p[k] for p in whole]) for k in (0, 1))
    tiles = []
    for row, y in enumerate(reversed(ys), 1):
        for column, x in enumerate(xs, 1):
            part = (x, y, x + window[0], y + window[1])
            if shapely.box(*part).intersects(shown):
                tiles.append(Tile(column, row, part))
    return Tiling(len(xs), len(ys), tuple(tiles), _marks(xs, ys, window, tiles))


def _starts(low: float, high: float, window: float, whole: Sequence[float]) -> list[float]:
    """Return where each page begins along one axis.

    What is left over goes to either end so that the seams miss ``whole``; else to both alike.
    """
    step = window - OVERLAP
    count = max(1, ceil((high - low - OVERLAP - 1e-9) / step))
    spare = (count - 1) * step + window - (high - low)
    ways = [[low - part * spare + k * step for k in range(count)] for part in SHARES]

    def room(starts: list[float]) -> float:
        seams = [start + OVERLAP / 2 for start in starts[1:]]
        return min((abs(s - w) for s in seams for w in whole), default=0.0)

    return max(ways, key=room)


def _marks(
    xs: list[float], ys: list[float], window: tuple[float, float], tiles: list[Tile]
) -> tuple[Point, ...]:
    """Return two marks on every seam between two pages that are there."""
    half = OVERLAP / 2
    spots = [(x + half, y + part * window[1]) for x in xs[1:] for y in ys for part in (0.25, 0.75)]
    spots += [(x + part * window[0], y + half) for y in ys[1:] for x in xs for part in (0.25, 0.75)]

    def pages(spot: Point) -> int:
        return sum(
            t.box[0] <= spot[0] <= t.box[2] and t.box[1] <= spot[1] <= t.box[3] for t in tiles
        )

    return tuple(spot for spot in spots if pages(spot) > 1)
