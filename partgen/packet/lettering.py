"""The letters of a drawing: each beside the thing it names and on nothing else, or on a leader.

A letter keeps off texts, openings, the plate's edge and every line of the drawing; that of an
opening or a bend stands on the metal. Where a thing has no such place beside it, its letter stands
right of the plate, on a leader with a dot.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from partgen.geometry.nearness import point_distances
from partgen.geometry.segment import Point
from partgen.packet.datum import Datum, turned_point
from partgen.packet.dimensions import Callout
from partgen.packet.words import Words, spread

SMALLER = 0.8  # of the size of figures
REACHES = (0.8, 1.1, 1.4, 1.8)  # from thing to letter, in sizes of figures
TURNS = (0.0, 30.0, -30.0, 60.0, -60.0, 90.0, -90.0, 135.0, -135.0, 180.0)
CLEAR = 0.5  # in sizes of figures, from a letter's middle to the plate's edge
BESIDE, ABOVE = 0.16, 0.08  # in sizes of figures, round a letter; wide ones take more than others
VIEW_ERROR = 0.05  # mm
Line = Sequence[Point]
Thing = tuple[int, int]  # number of a callout, number of one of its targets


@dataclass(frozen=True)
class Lettering:
    """Where the letters stand.

    Attributes:
        words: the letters.
        leaders: for each, points from its letter to what it names.
    """

    words: tuple[Words, ...]
    leaders: tuple[tuple[Point, ...], ...]


def lettering(
    at: Datum,
    callouts: Sequence[Callout],
    letters: Sequence[str],
    size: float,
    words: Sequence[Words],
    lines: Sequence[Line],
) -> Lettering:
    """Return letters for callouts.

    Args:
        at: the plate as it lies in the drawing.
        callouts: what is named.
        letters: one for each of them.
        size: of the figures [mm].
        words: texts that are there already.
        lines: those of the drawing.
    """
    things = [(k, n) for k, c in enumerate(callouts) for n in range(len(c.targets))]
    led: set[Thing] = set()
    while True:
        ends, leaders = _leaders(at, callouts, letters, size, led)
        room = _Room(at, size, [*words, *ends], [*lines, *leaders])
        stuck = {
            (k, n)
            for k, n in things
            if (k, n) not in led and not room.has_taken(letters[k], callouts[k], n)
        }
        if not stuck:
            return Lettering((*room.placed, *ends), tuple(leaders))
        led |= stuck


def _leaders(
    at: Datum, callouts: Sequence[Callout], letters: Sequence[str], size: float, led: set[Thing]
) -> tuple[list[Words], list[tuple[Point, ...]]]:
    """Return letters right of the plate, one for each callout, and leaders to what is led."""
    groups = [
        (letters[k], [c.targets[n] for n in range(len(c.targets)) if (k, n) in led])
        for k, c in enumerate(callouts)
    ]
    groups = sorted((g for g in groups if g[1]), key=lambda g: (g[1][0][1], g[0]))
    places = spread([targets[0][1] for _, targets in groups], 1.3 * size)
    column = at.size[0] + 1.8 * size
    ends: list[Words] = []
    leaders: list[tuple[Point, ...]] = []
    for (letter, targets), place in zip(groups, places, strict=True):
        ends.append(Words(letter, column + 0.3 * size, place, size, "start"))
        leaders += [((column, place), (column - 0.8 * size, place), t) for t in targets]
    return ends, leaders


class _Room:
    """What letters have to keep off."""

    def __init__(
        self, at: Datum, size: float, words: Sequence[Words], lines: Sequence[Line]
    ) -> None:
        self.placed: list[Words] = []
        self._size = size
        self._width = at.size[0]
        self._edge = at.plate.outline
        self._metal = self._edge.polygon("inside", VIEW_ERROR)
        self._boxes = np.array([w.box for w in words]).reshape(-1, 4)
        cut = [o.polygon("outside", VIEW_ERROR) for _, o in at.plate.named_openings]
        pairs = [pair for line in lines for pair in pairwise(line)]
        drawn = shapely.linestrings(np.array(pairs).reshape(-1, 2, 2))
        self._taken = shapely.STRtree([*cut, *drawn])

    def has_taken(self, letter: str, callout: Callout, number: int) -> bool:
        """Set a letter beside one of a callout's targets; tell whether there was room."""
        spots = list(_spots(letter, callout.targets[number], callout.ways[number], self._size))
        middles = np.array([(words.x, words.y) for words in spots])
        free = self._are_free(middles, np.array([words.box for words in spots]))
        if callout.of:
            free &= shapely.contains_xy(self._metal, middles)
        if not free.any():
            return False
        words = spots[int(free.argmax())]
        self.placed.append(words)
        self._boxes = np.vstack([self._boxes, words.box])
        return True

    def _are_free(self, middles: np.ndarray, boxes: np.ndarray) -> np.ndarray:
        """Tell of letters, by their middles (n, 2) and boxes (n, 4), which keep off all else."""
        free: np.ndarray = boxes[:, :2].min(axis=1) >= -CLEAR * self._size
        free &= boxes[:, 2] <= self._width + SMALLER * self._size
        free &= point_distances(middles, [self._edge])[:, 0] > CLEAR * self._size
        wide, high = BESIDE * self._size, ABOVE * self._size
        x0, y0, x1, y1 = (boxes + np.array([-wide, -high, wide, high])).T[:, :, None]
        left, low, right, top = self._boxes.T
        free &= ~((left <= x1) & (right >= x0) & (low <= y1) & (top >= y0)).any(axis=1)
        around = shapely.box(x0[free, 0], y0[free, 0], x1[free, 0], y1[free, 0])
        free[np.flatnonzero(free)[self._taken.query(around, predicate="intersects")[0]]] = False
        return free


def _spots(letter: str, target: Point, way: Point, size: float) -> Iterator[Words]:
    """Yield places for a letter: near first, straight ahead first."""
    for reach in REACHES:
        for turn in TURNS:
            dx, dy = turned_point(way, turn)
            x, y = target[0] + reach * size * dx, target[1] + reach * size * dy
            yield Words(letter, x, y, SMALLER * size)
