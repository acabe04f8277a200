"""Where a link that leans touches the edge of the plates that hold it.

Between ears half a gap g apart, a round link whose half width is w at a place s along it and v to
the side touches the plate there where sqrt(w^2 - v^2) / cos beta + s tan beta = g (plane geometry,
as for the ear's own edge). What counts is the metal that lies farthest along the link, in the
direction it has in each state, and as far to both sides as the swing's margin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, sqrt

import numpy as np
import shapely

from partgen.linkage.axle import Vec
from partgen.linkage.misalignment import MOST, half_width, link_limit
from partgen.linkage.turning import Turning
from partgen.plates.plate import Plate

ACROSS = 21  # lines along the link
STEP = 1.0  # degrees from one direction to the next
CLOSE = 1e-6  # mm


@dataclass(frozen=True)
class Edge:
    """Where a link comes nearest to touching the edge of its plates.

    Attributes:
        limit: lean at which it touches, in the direction it has there [degrees].
        lean: that it makes there [degrees].
    """

    limit: float
    lean: float


def plate_edge(turning: Turning, plates: Sequence[Plate]) -> Edge | None:
    """Return where a link comes nearest to touching its plates' edge; None with no gap.

    Args:
        turning: the link.
        plates: the two that hold it, as drawn.
    """
    half_gap = turning.end.half_gap
    if half_gap is None or not plates:
        return None
    angles, limits = _limits(turning, half_gap, plates)
    margin = turning.range.margin + STEP
    found = []
    for angle, lean in turning.leans:
        near = limits[np.abs(angles - angle) <= margin]
        found.append(Edge(float(np.min(near)), lean))
    return min(found, key=lambda edge: edge.limit - edge.lean)


def _limits(turning: Turning, half_gap: float, plates: Sequence[Plate]) -> tuple[Vec, Vec]:
    """Return directions over the whole range, and the lean at which the link touches in each."""
    first, last = turning.range.first, turning.range.last
    angles = np.linspace(first, last, max(2, ceil((last - first) / STEP) + 1))
    asides = np.linspace(-turning.half, turning.half, ACROSS)
    limits = np.full(len(angles), MOST)
    for view in (metal(plate) for plate in plates):
        for k, angle in enumerate(angles):
            reach = _reach(view, turning, float(np.radians(angle)), asides)
            touch = [
                _limit(turning, half_gap, float(s), float(v))
                for v, s in zip(asides, reach, strict=True)
                if s > 0
            ]
            limits[k] = min([limits[k], *touch])
    return angles, limits


def clear_from(turning: Turning, lean: float) -> float | None:
    """Return how far along a link its plates may reach at a lean; None where they need no cut [mm].

    Args:
        turning: the link.
        lean: that it must be able to make [degrees].
    """
    half_gap = turning.end.half_gap
    low, high = 0.0, turning.link.length
    if half_gap is None or _limit(turning, half_gap, high, 0.0) >= lean:
        return None
    while high - low > CLOSE:
        middle = (low + high) / 2
        free = _limit(turning, half_gap, middle, 0.0) >= lean
        low, high = (middle, high) if free else (low, middle)
    return low


def _limit(turning: Turning, half_gap: float, s: float, v: float) -> float:
    wide = half_width(turning.link, turning.end, s)
    if abs(v) >= wide:
        return MOST
    return link_limit(half_gap, sqrt(wide * wide - v * v), s)


def _reach(metal: shapely.Polygon, turning: Turning, angle: float, asides: Vec) -> Vec:
    """Return how far along the link the metal reaches on each line beside its middle [mm]."""
    c, s = np.cos(angle), np.sin(angle)
    turn, pivot = np.array([[c, -s], [s, c]]), np.array(turning.pivot)
    lines = np.array([[(0.0, v), (turning.link.length, v)] for v in asides]) @ turn.T + pivot
    cut = shapely.intersection(shapely.linestrings(lines), metal)
    points, owner = shapely.get_coordinates(cut, return_index=True)
    found = np.zeros(len(asides))
    np.maximum.at(found, owner, (points - pivot) @ np.array([c, s]))
    return found


def metal(plate: Plate) -> shapely.Polygon:
    """Return a view of a plate's metal, its holes filled: they hold a bolt."""
    edge = plate.outline.polygon("outside")
    windows = [w.outline.polygon("inside") for w in plate.windows]
    view: shapely.Polygon = shapely.difference(edge, shapely.union_all(windows))
    return view
