"""Check of a layout on exact outlines; shares nothing with the code that places.

Every distance is between lines and arcs; boxes only tell which are worth measuring.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isfinite

import numpy as np
import shapely

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Segment, closest
from partgen.layout.inside import is_inside
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement
from partgen.layout.sheet import Sheet

SLACK = 1e-6  # mm; a distance may be this much short
VIEW_ERROR = 1e-4  # mm; chord error where a margin of 0 lets a plate touch the sheet's edge


@dataclass(frozen=True, eq=False)
class _Chains:
    """Outlines with the boxes of their segments."""

    outlines: tuple[Outline, ...]

    @cached_property
    def segments(self) -> list[Segment]:
        return [s for o in self.outlines for s in o.segments]

    @cached_property
    def boxes(self) -> np.ndarray:
        return np.array([s.box for s in self.segments])


@dataclass(frozen=True, eq=False)
class _Placed:
    """A placement with its outlines: turned, but not moved; ``at`` says where it is."""

    placement: Placement
    piece: Piece
    chains: _Chains

    @property
    def at(self) -> tuple[float, float]:
        return self.placement.x, self.placement.y

    @property
    def name(self) -> str:
        return f"plate '{self.placement.piece}' {self.placement.copy}"

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        (x, y), (x0, y0, x1, y1) = self.at, self.chains.outlines[-1].box
        return x0 + x, y0 + y, x1 + x, y1 + y

    def holds(self, x: float, y: float) -> bool:
        """Tell whether a point is in the metal."""
        here = (x - self.at[0], y - self.at[1])
        *openings, edge = self.chains.outlines
        return is_inside(here, edge) and not any(is_inside(here, o) for o in openings)

    def corner(self) -> tuple[float, float]:
        first = self.chains.outlines[-1].vertices[0]
        return first.x + self.at[0], first.y + self.at[1]


def verify(
    layout: Layout,
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    *,
    gap: float,
    margin: float,
    fixed: Sequence[Placement] = (),
) -> list[str]:
    """Return what is wrong with ``layout``, one line a fault; nothing if all is well.

    Args:
        layout: what to check.
        pieces: what was to be placed.
        sheets: the stock it was to be placed on.
        gap: least distance between the cuts of two plates [mm].
        margin: least distance to the sheet's edge and openings [mm].
        fixed: what must lie just there; its turn need not be one of those allowed.
    """
    kinds = {p.name: p for p in pieces}
    stock = {s.name: s for s in sheets}
    given = set(fixed)
    faults = [*_miscounted(layout, pieces), *_parted(layout, kinds)]
    faults += [
        f"plate '{p.piece}' {p.copy} is fixed on sheet '{p.sheet}' {p.number}, and not there"
        for p in fixed
        if p not in set(layout.placements)
    ]
    turned: dict[tuple[str, float], _Chains] = {}
    groups: dict[tuple[str, int], list[_Placed]] = {}
    for p in layout.placements:
        wrong = _strange(p, kinds, stock, given)
        faults += wrong
        if wrong:
            continue
        piece = kinds[p.piece]
        chains = turned.setdefault((p.piece, p.turn), _Chains(piece.placed(0.0, 0.0, p.turn)))
        groups.setdefault((p.sheet, p.number), []).append(_Placed(p, piece, chains))
    for (name, number), placed in groups.items():
        where = f"on sheet '{name}' {number}"
        faults += _off_sheet(placed, stock[name], margin, where)
        faults += _too_near(placed, gap, where)
    return faults


def _miscounted(layout: Layout, pieces: Sequence[Piece]) -> Iterator[str]:
    counts = Counter((p.piece, p.copy) for p in layout.placements)
    wanted = {(p.name, copy) for p in pieces for copy in range(1, p.count + 1)}
    for name, copy in sorted(wanted - set(counts)):
        yield f"plate '{name}' {copy} is missing"
    for name, copy in sorted(set(counts) - wanted):
        yield f"plate '{name}' {copy} was not asked for"
    for (name, copy), n in sorted(counts.items()):
        if n > 1:
            yield f"plate '{name}' {copy} is placed {n} times"


def _parted(layout: Layout, kinds: dict[str, Piece]) -> Iterator[str]:
    """Name the words whose pieces should share a sheet and do not."""
    sheets: dict[str, set[tuple[str, int]]] = {}
    for p in layout.placements:
        if p.piece in kinds and kinds[p.piece].together:
            sheets.setdefault(kinds[p.piece].together, set()).add((p.sheet, p.number))
    for word, where in sorted(sheets.items()):
        if len(where) > 1:
            yield f"'{word}' should be together, but is on {len(where)} sheets"


def _strange(
    p: Placement, kinds: dict[str, Piece], stock: dict[str, Sheet], given: set[Placement]
) -> list[str]:
    """Return what makes a placement impossible to measure, or not allowed."""
    who = f"plate '{p.piece}' {p.copy}"
    if p.piece not in kinds:
        return [f"{who} is unknown"]
    if p.sheet not in stock or not 1 <= p.number <= stock[p.sheet].count:
        return [f"{who} is on sheet '{p.sheet}' {p.number}, which there is not"]
    if not all(isfinite(v) for v in (p.x, p.y, p.turn)):
        return [f"{who} is placed at a number that is not finite"]
    off = (abs((p.turn - t + 180.0) % 360.0 - 180.0) for t in kinds[p.piece].turns)
    if p not in given and min(off) > 1e-9:
        return [f"{who} is turned by {p.turn:g} degrees, which is not allowed"]
    return []


def _off_sheet(placed: list[_Placed], sheet: Sheet, margin: float, where: str) -> Iterator[str]:
    edge = _Chains((sheet.outline,))
    holes = [_Chains((o,)) for o in sheet.openings]
    for p in placed:
        if margin <= SLACK:
            yield from _outside(p, sheet, where)
            continue
        near = _distance(p.chains, p.at, edge, (0.0, 0.0), margin)
        if near < margin - SLACK:
            yield f"{p.name} {where}: {near:.6f} mm to the sheet's edge, {margin:g} asked"
        elif not is_inside(p.corner(), sheet.outline):
            yield f"{p.name} {where} is off the sheet"
        for hole in holes:
            near = _distance(p.chains, p.at, hole, (0.0, 0.0), margin)
            first = hole.outlines[0].vertices[0]
            if near < margin - SLACK:
                yield f"{p.name} {where}: {near:.6f} mm to an opening of it, {margin:g} asked"
            elif p.holds(first.x, first.y) or is_inside(p.corner(), hole.outlines[0]):
                yield f"{p.name} {where} lies over an opening of it"


def _outside(p: _Placed, sheet: Sheet, where: str) -> Iterator[str]:
    """Check a plate that may touch the sheet's edge, on views of both."""
    x, y = p.at
    metal = Piece(p.piece.name, p.piece.placed(x, y, p.placement.turn)).metal("inside", VIEW_ERROR)
    edge = sheet.outline.polygon("outside", VIEW_ERROR).buffer(SLACK, join_style="mitre")
    if not edge.covers(metal):
        yield f"{p.name} {where} reaches over the sheet's edge"
    for hole in sheet.openings:
        if hole.polygon("inside", VIEW_ERROR).buffer(-SLACK, join_style="mitre").intersects(metal):
            yield f"{p.name} {where} reaches into an opening of it"


def _too_near(placed: list[_Placed], gap: float, where: str) -> Iterator[str]:
    boxes = np.array([p.box for p in placed])
    reach = boxes + np.array([-gap, -gap, gap, gap])
    tree = shapely.STRtree(shapely.box(*boxes.T))
    for k, m in tree.query(shapely.box(*reach.T)).T.tolist():
        if k >= m:
            continue
        a, b = placed[k], placed[m]
        near = _distance(a.chains, a.at, b.chains, b.at, gap)
        if near < gap - SLACK:
            yield f"{a.name} and {b.name} {where}: {near:.6f} mm between cuts, {gap:g} asked"
        elif a.holds(*b.corner()) or b.holds(*a.corner()):
            yield f"{a.name} and {b.name} {where} overlap"


def _distance(
    a: _Chains, at: tuple[float, float], b: _Chains, bt: tuple[float, float], enough: float
) -> float:
    """Return the exact distance between two placed chains, or ``enough`` if it is no less [mm]."""
    dx, dy = bt[0] - at[0], bt[1] - at[1]
    p, q = a.boxes, b.boxes + np.array([dx, dy, dx, dy])
    apart = np.maximum(
        np.maximum(q[None, :, 0] - p[:, None, 2], p[:, None, 0] - q[None, :, 2]),
        np.maximum(q[None, :, 1] - p[:, None, 3], p[:, None, 1] - q[None, :, 3]),
    )
    least = enough
    for i, j in np.argwhere(apart < enough).tolist():
        s, t = a.segments[i], b.segments[j]
        moved = Segment(t.x0 + dx, t.y0 + dy, t.x1 + dx, t.y1 + dy, t.bulge)
        least = min(least, closest(s, moved)[0])
    return least
