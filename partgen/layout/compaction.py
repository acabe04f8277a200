"""Exact compaction: each piece slides toward the sheet's start, then across, until it touches.

Outlines with half the gap round them are polygons here; how far one can slide is exact: the least
distance, along the way, between the edges that face each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from partgen.layout.piece import turned_rings
from partgen.layout.placing import Filling
from partgen.layout.shape import Shape
from partgen.layout.stock import Stock

PASSES = 12
SHAKES = 4  # times that pieces step aside
WAYS = ((0, 1), (1, 1), (1, -1))  # axis and sign: along the sheet, to one side, to the other
FEW = 80  # pieces; more are not shaken
MOST = 1500  # pieces; more are left on the grid
REACH = 30.0  # mm; what is nearer than this is looked at first
LEAST = 0.01  # mm; slides shorter than this are not worth another pass
THIN = 1e-7  # mm; edges that face each other over less than this pass each other
INSIDE = 1e-3  # mm; edges this far past each other still touch


@dataclass(eq=False)
class Loose:
    """A piece off the grid.

    Attributes:
        item: index of what is placed.
        shape: the way it is turned.
        x: of its box's lower left corner, from the start of the usable length [mm].
        y: the same, across [mm].
    """

    item: int
    shape: Shape
    x: float
    y: float

    @property
    def end(self) -> float:
        """Far side of the box [mm]."""
        return self.x + self.shape.length


def loosened(filling: Filling) -> list[Loose]:
    """Return the pieces of a filling, free of its grid."""
    cell = filling.board.grid.cell
    return [Loose(s.item, s.shape, s.column * cell, s.row * cell) for s in filling.spots]


def compact(pieces: list[Loose], stock: Stock) -> None:
    """Slide ``pieces`` toward the sheet's start and to one side until nothing moves any more.

    Then the same after pieces have stepped aside, as long as that makes the used length shorter.
    """
    if not pieces or len(pieces) > MOST:
        return
    along, low, high = slides = tuple(_Slide(pieces, stock, *way) for way in WAYS)
    _settle(pieces, (along, low), slides)
    for _ in range(SHAKES if len(pieces) <= FEW else 0):
        before = [(p.x, p.y) for p in pieces]
        end = max(p.end for p in pieces)
        for k in sorted(range(len(pieces)), key=lambda k: pieces[k].x):
            _step_aside(pieces[k], k, slides)
        _settle(pieces, (high, along), slides)
        _settle(pieces, (low, along), slides)
        if max(p.end for p in pieces) > end - LEAST:
            for p, (x, y) in zip(pieces, before, strict=True):
                p.x, p.y = x, y
            return


def _step_aside(piece: Loose, k: int, slides: Sequence[_Slide]) -> None:
    """Move one piece to either side if it can slide on along the sheet from there."""
    along, *sides = slides
    for aside in sides:
        y = piece.y
        if aside.push(k) > 0.0 and along.push(k) <= LEAST:
            piece.y = y
        for slide in slides:
            slide.follow(k)


def _settle(pieces: list[Loose], ways: Sequence[_Slide], slides: Sequence[_Slide]) -> None:
    """Slide all pieces in each of ``ways`` in turn until nothing moves."""
    for _ in range(PASSES):
        far = 0.0
        for way in ways:
            for k in sorted(range(len(pieces)), key=way.room_to_wall):
                moved = way.push(k)
                if moved > 0.0:
                    far = max(far, moved)
                    for slide in slides:
                        slide.follow(k)
        if far < LEAST:
            break


class _Slide:
    """Slides along one axis: 0 is along the sheet, 1 across it.

    Args:
        pieces: what slides, in place.
        stock: the sheet.
        axis: 0 or 1.
        sign: 1 toward 0, -1 away from it.
    """

    def __init__(self, pieces: list[Loose], stock: Stock, axis: int, sign: int) -> None:
        self._pieces, self._axis, self._sign = pieces, axis, sign
        self._limit = stock.usable[axis]
        self._front, self._bare, back = [], [], []
        for p in pieces:
            rings = turned_rings(p.shape.body.clear, p.shape.turn, p.shape.x, p.shape.y)
            self._front.append(_faces(rings, axis, sign))
            back.append(_faces(rings, axis, -sign) * (-1, 1, -1, 1))
            rings = turned_rings(p.shape.body.bare, p.shape.turn, p.shape.x, p.shape.y)
            self._bare.append(_faces(rings, axis, sign))
        counts = [len(faces) for faces in back]
        self._owner = np.repeat(np.arange(len(pieces)), counts)
        self._ends = np.cumsum([0, *counts])
        self._local = np.concatenate(back)
        self._back = self._local.copy()
        self.follow_all()
        blocked = stock.blocked_rings()
        self._wall = None
        if blocked is not None:
            self._wall = _faces(blocked, axis, -sign) * (-1, 1, -1, 1)

    def room_to_wall(self, k: int) -> float:
        """Return how far the box of piece ``k`` is from the side it slides to [mm]."""
        p = self._pieces[k]
        low, size = (p.x, p.shape.length) if self._axis == 0 else (p.y, p.shape.width)
        return low if self._sign > 0 else self._limit - low - size

    def follow_all(self) -> None:
        """Take note of where all pieces are now."""
        for k in range(len(self._pieces)):
            self.follow(k)

    def follow(self, k: int) -> None:
        """Take note of where piece ``k`` is now."""
        rows = slice(self._ends[k], self._ends[k + 1])
        self._back[rows] = self._local[rows] + self._shift(k)

    def push(self, k: int) -> float:
        """Slide piece ``k`` as far as it goes and return how far [mm]."""
        room = min(self.room_to_wall(k), self._room(k))
        if room <= 0.0:
            return 0.0
        if self._axis == 0:
            self._pieces[k].x -= self._sign * room
        else:
            self._pieces[k].y -= self._sign * room
        return room

    def _shift(self, k: int) -> np.ndarray:
        p = self._pieces[k]
        u, v = (p.x, p.y) if self._axis == 0 else (p.y, p.x)
        return np.array([self._sign * u, v, self._sign * u, v])

    def _room(self, k: int) -> float:
        front, back = self._front[k] + self._shift(k), self._back
        v0, v1 = front[:, 1].min(), front[:, 3].max()
        u0, u1 = front[:, ::2].min(), front[:, ::2].max() + INSIDE
        near = (back[:, 1] < v1) & (back[:, 3] > v0) & (self._owner != k)
        faces = back[near]
        first, last = faces[:, ::2].min(axis=1), faces[:, ::2].max(axis=1)
        room = _clearance(front, faces[(first < u1) & (last > u0 - REACH)])
        if room > REACH:
            room = _clearance(front, faces[first < u1])
        if self._wall is not None:
            room = min(room, _clearance(self._bare[k] + self._shift(k), self._wall))
        return room


def _faces(rings: list[np.ndarray], axis: int, sign: int) -> np.ndarray:
    """Return the edges that bound metal on one side along ``axis``.

    Args:
        rings: round metal, which is on the left of every edge [mm].
        axis: 0 or 1.
        sign: 1 for the side toward 0, -1 for the other.

    Returns:
        Rows (sign times along, across, sign times along, across), across ascending [mm].
    """
    start = np.concatenate(rings)
    end = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    rise = end[:, 1 - axis] - start[:, 1 - axis]
    up = (sign > 0) == (axis == 1)
    keep = rise > THIN if up else rise < -THIN
    first, last = (start[keep], end[keep]) if up else (end[keep], start[keep])
    u, v = axis, 1 - axis
    return np.column_stack([sign * first[:, u], first[:, v], sign * last[:, u], last[:, v]])


def _clearance(front: np.ndarray, back: np.ndarray) -> float:
    """Return how far ``front`` can slide down before it meets ``back``; infinite if never [mm]."""
    a, b = front[:, None, :], back[None, :, :]
    begin, end = np.maximum(a[..., 1], b[..., 1]), np.minimum(a[..., 3], b[..., 3])
    i, j = np.nonzero(end - begin > THIN)
    if not len(i):
        return float("inf")
    p, q, begin, end = front[i], back[j], begin[i, j], end[i, j]
    at_begin, at_end = _along(p, begin) - _along(q, begin), _along(p, end) - _along(q, end)
    ahead = at_begin + at_end >= -2 * INSIDE
    if not ahead.any():
        return float("inf")
    return max(0.0, float(np.minimum(at_begin, at_end)[ahead].min()))


def _along(faces: np.ndarray, across: np.ndarray) -> np.ndarray:
    part = (across - faces[:, 1]) / (faces[:, 3] - faces[:, 1])
    return np.asarray(faces[:, 0] + part * (faces[:, 2] - faces[:, 0]))
