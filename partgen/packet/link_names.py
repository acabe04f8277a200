"""Names of links beside their lines, where they cover as little as possible of what is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from partgen.geometry.segment import Segment
from partgen.packet.line_drawing import Point

ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a link, from its end at the frame
ASIDE = (1.1, -1.1, 1.9, -1.9, 3.2, -3.2)  # heights of the letters, up and down
LETTER = 0.6  # width of a letter over its height
SHORTEST = 1e-6  # mm


def name_places(
    links: Sequence[tuple[str, Point, Point]], lines: Sequence[Sequence[Point]], size: float
) -> list[Point]:
    """Return the middle of each link's name.

    Args:
        links: name, start and end of each [mm].
        lines: everything that is drawn, the links too, as open lines [mm].
        size: of the letters [mm].
    """
    drawn = [
        Segment(*a, *b)
        for chain in lines
        for a, b in pairwise(chain)
        if hypot(a[0] - b[0], a[1] - b[1]) > SHORTEST
    ]
    found: list[Point] = []
    for name, start, end in links:
        best = max(
            _candidates(start, end, size),
            key=lambda p, name=name: _room(p, name, drawn, found, size),  # type: ignore[misc]
        )
        found.append(best)
    return found


def _candidates(start: Point, end: Point, size: float) -> list[Point]:
    (x0, y0), (x1, y1) = start, end
    return [
        (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part + aside * size)
        for aside in ASIDE
        for part in ALONG
    ]


def _room(
    at: Point, name: str, drawn: Sequence[Segment], others: Sequence[Point], size: float
) -> float:
    """Return how far the name's middle line is from what is drawn, at most its height [mm]."""
    half = LETTER * size * len(name) / 2
    own = Segment(at[0] - half, at[1], at[0] + half, at[1])
    points = [own.at(k / 6) for k in range(7)]
    away = min((s.distance(p) for s in drawn for p in points), default=size)
    near = min((hypot(at[0] - x, (at[1] - y) * 2) for x, y in others), default=9 * size)
    return round(min(away, near - half, size), 3)
