"""In which order the plates of a sheet are cut, and what to watch while they are.

Inside before outside: all that lies in a window is cut before that window, a plate's openings
before its edge. Among plates the nearest next, but not right beside the one just cut, so that heat
can leave (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist, fsum

import numpy as np

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.layout.inside import is_inside
from partgen.layout.mask import TOUCH
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement
from partgen.layout.steady import ticks


@dataclass(frozen=True)
class Cut:
    """One contour.

    Attributes:
        placement: index into the layout's placements [-].
        outline: index into the piece's outlines, the last is the edge [-].
        start: a corner of the contour where cutting begins and ends [mm].
    """

    placement: int
    outline: int
    start: Point


@dataclass(frozen=True)
class CutOrder:
    """All contours of one sheet in order.

    Attributes:
        cuts: in order.
        travel: way between contours, from the sheet's (0, 0) to the first included [mm].
        bound: no order can travel less than this [mm].
    """

    cuts: tuple[Cut, ...]
    travel: float
    bound: float


@dataclass(frozen=True, eq=False)
class _Plate:
    index: int
    outlines: tuple[Outline, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        return self.outlines[-1].box


def cut_order(
    layout: Layout, pieces: Sequence[Piece], sheet: str, number: int, *, cool: float = 0.0
) -> CutOrder:
    """Return the order of cutting of one sheet.

    Args:
        layout: the layout.
        pieces: what was placed.
        sheet: name of the stock.
        number: which of its copies.
        cool: a plate whose box is nearer than this to the one just cut waits, if another can be
            cut instead [mm].
    """
    plates = _plates(layout, pieces, sheet, number)
    hosts = _hosts(plates)
    waiting, cuts = set(range(len(plates))), list[Cut]()
    here, last = (0.0, 0.0), None
    while waiting:
        free = [k for k in sorted(waiting) if not any(hosts[g] == k for g in waiting)]
        far = [k for k in free if last is None or _apart(plates[k], plates[last]) >= cool - TOUCH]
        last = min(far or free, key=lambda k: ticks(_nearest(plates[k].outlines[-1], here)[0]))
        waiting.remove(last)
        for cut in _contours(plates[last], here):
            cuts.append(cut)
            here = cut.start
    points = [(0.0, 0.0), *(c.start for c in cuts)]
    travel = fsum(dist(a, b) for a, b in pairwise(points))
    return CutOrder(tuple(cuts), travel, _bound(plates))


def tip_ups(layout: Layout, pieces: Sequence[Piece], slats: float) -> list[Placement]:
    """Return the plates that may tip between slats, wherever these are.

    A plate can tip if its centre of gravity is nearer than the slats' spacing to its end across the
    slats, which run across the longer side of the sheet.

    Args:
        layout: the layout.
        pieces: what was placed.
        slats: spacing of the slats [mm].
    """
    kinds = {p.name: p for p in pieces}
    along = {(u.sheet, u.number): 0 if u.along == "x" else 1 for u in layout.used}
    found = []
    for p in layout.placements:
        axis = along[p.sheet, p.number]
        outlines = kinds[p.piece].placed(p.x, p.y, p.turn)
        moment = fsum(o.area * o.centroid[axis] for o in outlines[:-1])
        whole = outlines[-1]
        middle = (whole.area * whole.centroid[axis] - moment) / kinds[p.piece].area
        if min(middle - whole.box[axis], whole.box[axis + 2] - middle) < slats:
            found.append(p)
    return found


def _plates(layout: Layout, pieces: Sequence[Piece], sheet: str, number: int) -> list[_Plate]:
    kinds = {p.name: p for p in pieces}
    return [
        _Plate(k, kinds[p.piece].placed(p.x, p.y, p.turn))
        for k, p in enumerate(layout.placements)
        if (p.sheet, p.number) == (sheet, number)
    ]


def _hosts(plates: list[_Plate]) -> list[int | None]:
    """Return, for each plate, the smallest plate in whose opening it lies."""
    hosts: list[int | None] = []
    by_size = sorted(range(len(plates)), key=lambda k: plates[k].outlines[-1].area)
    for k, plate in enumerate(plates):
        first = plate.outlines[-1].vertices[0]
        over = (
            m
            for m in by_size
            if m != k and any(is_inside((first.x, first.y), o) for o in plates[m].outlines[:-1])
        )
        hosts.append(next(over, None))
    return hosts


def _apart(a: _Plate, b: _Plate) -> float:
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = a.box, b.box
    return dist((0, 0), (max(0.0, bx0 - ax1, ax0 - bx1), max(0.0, by0 - ay1, ay0 - by1)))


def _contours(plate: _Plate, here: Point) -> list[Cut]:
    """Return a plate's openings, nearest next, then its edge."""
    cuts = []
    waiting = list(range(len(plate.outlines) - 1))
    while waiting:
        k = min(waiting, key=lambda k: ticks(_nearest(plate.outlines[k], here)[0]))
        waiting.remove(k)
        here = _nearest(plate.outlines[k], here)[1]
        cuts.append(Cut(plate.index, k, here))
    here = _nearest(plate.outlines[-1], here)[1]
    return [*cuts, Cut(plate.index, len(plate.outlines) - 1, here)]


def _nearest(outline: Outline, here: Point) -> tuple[float, Point]:
    found = [(dist(here, (v.x, v.y)), (v.x, v.y)) for v in outline.vertices]
    return min(found, key=lambda near: ticks(near[0]))


def _bound(plates: list[_Plate]) -> float:
    """Return the length of the shortest tree that joins a corner of every contour and (0, 0)."""
    corners = [np.zeros((1, 2))]
    for plate in plates:
        corners += [np.array([(v.x, v.y) for v in o.vertices]) for o in plate.outlines]
    owner = np.repeat(np.arange(len(corners)), [len(c) for c in corners])
    points = np.concatenate(corners)
    away = np.full(len(corners), np.inf)
    done = np.zeros(len(corners), dtype=bool)
    at, total = 0, 0.0
    for _ in range(len(corners) - 1):
        done[at] = True
        steps = points[:, None, :] - corners[at][None, :, :]
        near = np.sqrt((steps**2).sum(axis=2)).min(axis=1)
        np.minimum.at(away, owner, near)
        at = int(np.where(done, np.inf, away).argmin())
        total += float(away[at])
    return total
