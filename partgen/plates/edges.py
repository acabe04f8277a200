"""Edges of a plate: pieces of an outline from corner to corner, or those that lie on something."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import atan2

from partgen.geometry.chain import Chain, length
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment

CORNER = 0.5  # rad; an arc that turns more is a corner, not part of an edge
BEND = 0.3  # rad; a sharper corner parts two edges
SHORT = 10.0  # mm; an edge shorter than this is a toe or a snipe, not welded but named
LEAST = 0.5  # mm; what is shorter is no edge
ON = 0.01  # mm


def edges_of(outline: Outline) -> list[Chain]:
    """Return the edges of an outline: parted at corners, corner arcs left out."""
    segments = list(outline.segments)
    first = next((k for k in range(len(segments)) if _parts(segments[k - 1], segments[k])), 0)
    edges: list[list[Segment]] = [[]]
    before: Segment | None = None
    for s in (*segments[first:], *segments[:first]):
        if before is None or _parts(before, s):
            edges.append([])
        if not _is_corner(s):
            edges[-1].append(s)
        before = s
    return [tuple(e) for e in edges if length(e) >= LEAST]


def edges_where(outline: Outline, lies: Callable[[Point], bool]) -> list[Chain]:
    """Return the pieces of an outline whose lines and arcs lie on something.

    Args:
        outline: whose pieces.
        lies: tells whether a point does; asked at both ends and the middle of each.
    """
    segments = list(outline.segments)
    there = [all(lies(p) for p in (s.start, s.at(0.5), s.end)) for s in segments]
    first = next((k for k, hit in enumerate(there) if not hit), 0)
    edges: list[list[Segment]] = [[]]
    for k in range(len(segments)):
        at = (first + k) % len(segments)
        if there[at]:
            edges[-1].append(segments[at])
        elif edges[-1]:
            edges.append([])
    return [tuple(e) for e in edges if length(e) >= LEAST]


def edges_on_line(outline: Outline, axis: int, at: float) -> list[Chain]:
    """Return the edges on a line: x = ``at`` for axis 0, y = ``at`` for axis 1 [mm]."""
    return edges_where(outline, lambda p: abs(p[axis] - at) <= ON)


def edge_at(outlines: Sequence[Outline], point: Point) -> tuple[Chain, float]:
    """Return the edge nearest to a point, from corner to corner, and how far it is [mm].

    The edge goes on while it does not turn sharply; one that begins straight ends before an arc
    that is a corner; one that is an arc takes all that runs on from it, as round a circle.
    """
    away, number, at = min(
        (s.distance(point), n, k)
        for n, outline in enumerate(outlines)
        for k, s in enumerate(outline.segments)
    )
    segments = outlines[number].segments
    return _grown(segments, at, not _is_corner(segments[at])), away


def _grown(segments: Sequence[Segment], at: int, stop_at_corner: bool) -> Chain:
    chain, count = [segments[at]], len(segments)
    for step in (1, -1):
        here = at
        while len(chain) < count:
            after = (here + step) % count
            a, b = (here, after) if step > 0 else (after, here)
            if _turn(segments[a], segments[b]) > BEND:
                break
            if stop_at_corner and _is_corner(segments[after]):
                break
            chain.insert(len(chain) if step > 0 else 0, segments[after])
            here = after
    return tuple(chain)


def is_closed(chain: Chain) -> bool:
    """Tell whether a chain ends where it begins."""
    (x0, y0), (x1, y1) = chain[0].start, chain[-1].end
    return abs(x0 - x1) <= ON and abs(y0 - y1) <= ON


def _is_corner(s: Segment) -> bool:
    return abs(s.sweep) > CORNER


def _parts(a: Segment, b: Segment) -> bool:
    return _is_corner(a) or _is_corner(b) or _turn(a, b) > BEND


def _turn(a: Segment, b: Segment) -> float:
    (ax, ay), (bx, by) = a.direction(1.0), b.direction(0.0)
    return abs(atan2(ax * by - ay * bx, ax * bx + ay * by))
