"""Neck: the narrowest place of the plate itself, holes or not.

A neck is a shortest way through the metal from edge to edge: from both of its ends, the edges lead
away from each other whichever way one goes. The ends of a taper or a toe are no necks: there the
edges meet. The limit is the cutting profile's least web. Not covered: strength of the neck;
in an edge of more than ``MANY`` lines and arcs, necks wider than ``WIDE`` times the limit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, dist, inf, pi, radians

import numpy as np
import shapely

from partgen.geometry.crossing import part_at
from partgen.geometry.outline import SAME, Outline
from partgen.geometry.segment import Point, Segment, closest
from partgen.measure import point_text
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, judged
from partgen.shop import Shop

RULE = "neck"
MANY = 400  # lines and arcs; more than any edge that is drawn by its measures
WIDE = 3.0  # times the limit
QUARTER = radians(89)  # of a turn, and a little less
FOLLOWED, AT_ONCE = 1000, 1000  # segments followed from each, and held against all others
CREEP = (
    1e-6  # how much an edge may lead towards the other end and still count as square to the neck
)


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding, the narrowest neck; none where the plate has no neck."""
    required = shop.cutting.web(plate.thickness)
    many = len(plate.outline.segments) > MANY
    narrowest = neck(plate.outline, WIDE * required if many else inf)
    if narrowest is None:
        return []
    measured, (px, py), (qx, qy) = narrowest
    return [
        judged(
            RULE,
            (plate.key, f"{point_text((px, py))} to {point_text((qx, qy))}"),
            (measured, required),
            f"{shop.cutting.name}: {shop.cutting.source}",
            "widen the plate there",
        )
    ]


def neck(outline: Outline, widest: float = inf) -> tuple[float, Point, Point] | None:
    """Return the width of the narrowest neck and its two ends, or None [mm].

    Args:
        outline: of the plate.
        widest: width from which on none is looked for [mm].
    """
    segments, inside, best, least = outline.segments, None, None, widest
    corners = np.array([s.start for s in segments])
    for i, j, apart in _pairs(outline, widest):
        if apart >= least:
            break
        width, p, q = _nearest(segments[i], segments[j])
        if width <= SAME or width >= least:
            continue
        from_p, from_q = (_leaving(at, corners, segments) for at in (p, q))
        if _leads_away(from_p, p, q) and _leads_away(from_q, q, p):
            inside = inside or outline.polygon("outside").buffer(0.02)
            if inside.covers(shapely.LineString([p, q])):
                best, least = (width, p, q), width
    return best


def _pairs(outline: Outline, widest: float) -> Iterator[tuple[int, int, float]]:
    """Yield pairs of segments that may make a neck, those with the nearest boxes first."""
    boxes, straight = np.array(outline.boxes), _straight_on(outline.segments)
    every = _near(boxes, widest) if widest < inf else _all(len(boxes))
    kept = [pairs[:, _bent(pairs, straight)] for pairs in every]
    first, second = np.concatenate(kept, axis=1)
    one, other = boxes[first], boxes[second]
    apart = np.maximum(one[:, :2] - other[:, 2:], other[:, :2] - one[:, 2:])
    gaps = np.hypot(*np.maximum(apart, 0.0).T)
    for k in np.lexsort((second, first, gaps)):
        yield int(first[k]), int(second[k]), float(gaps[k])


def _all(count: int) -> Iterator[np.ndarray]:
    yield np.array(np.triu_indices(count, 2))


def _near(boxes: np.ndarray, widest: float) -> Iterator[np.ndarray]:
    """Yield pairs of boxes less than ``widest`` apart, as numbers of shape (2, n), some at once."""
    views = shapely.box(*boxes.T)
    tree = shapely.STRtree(views)
    for k in range(0, len(views), AT_ONCE):
        few = tree.query(views[k : k + AT_ONCE], predicate="dwithin", distance=widest)
        few[0] += k
        yield few[:, few[1] - few[0] >= 2]


def _straight_on(segments: Sequence[Segment]) -> np.ndarray:
    """Return for each segment how many after it the edge runs on without turning a quarter."""
    starts = np.array([atan2(*s.direction(0.0)[::-1]) for s in segments])
    sweeps = np.array([s.sweep for s in segments])
    turns = (np.roll(starts, -1) - starts - sweeps + pi) % (2 * pi) - pi
    way = np.tile(np.column_stack([sweeps, turns]).ravel(), 2)
    headings = np.concatenate([[0.0], np.cumsum(way)])
    reach, found = 2 * min(len(segments), FOLLOWED), []
    for k in range(len(segments)):
        run = headings[2 * k :][:reach]
        spread = np.maximum.accumulate(run) - np.minimum.accumulate(run)
        found.append(max(0, int(np.searchsorted(spread, QUARTER)) // 2 - 1))
    return np.array(found)


def _bent(pairs: np.ndarray, straight: np.ndarray) -> np.ndarray:
    """Tell for pairs of segments whether the edge turns a quarter from one to the other, both ways.

    Where it does not, its way on from either leads towards the other: there can be no neck.
    """
    first, second = pairs
    ahead = second - first
    bent: np.ndarray = (ahead > straight[first]) & (len(straight) - ahead > straight[second])
    return bent


def _nearest(a: Segment, b: Segment) -> tuple[float, Point, Point]:
    """Return what ``closest`` does, but halfway along where two edges run side by side."""
    width, p, q = closest(a, b)
    feet = [a.start, a.end, a.nearest(b.start), a.nearest(b.end)]
    level = [part_at(a, f) for f in feet if b.distance(f) <= width + SAME]
    if level:
        middle = a.at((min(level) + max(level)) / 2)
        if b.distance(middle) <= width + SAME:
            return width, middle, b.nearest(middle)
    return width, p, q


def _leaving(p: Point, corners: np.ndarray, segments: Sequence[Segment]) -> list[Segment]:
    """Return the edges that begin or end at ``p``, each as it leaves it."""
    away = np.hypot(*(corners - p).T)
    at = [int(k) for k in np.flatnonzero(away <= SAME)]
    return [s for k in at for s in (segments[k], segments[k - 1].reversed())]


def _leads_away(edges: Sequence[Segment], p: Point, q: Point) -> bool:
    """Tell whether no edge that begins or ends at ``p`` leads towards ``q``, nearest to it there.

    Between its ends, an edge is square to the way to its nearest point.
    """
    reach = dist(p, q)
    ux, uy = (q[0] - p[0]) / reach, (q[1] - p[1]) / reach
    return all(x * ux + y * uy <= CREEP for x, y in (s.direction(0.0) for s in edges))
