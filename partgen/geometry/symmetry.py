"""Whether one set of outlines and lines, turned and moved, is another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, degrees, dist

import numpy as np

from partgen.geometry.outline import SAME, Outline, cos_sin
from partgen.geometry.segment import Point

Line = tuple[str, tuple[Point, ...]]  # its kind, and points joined by straight lines [mm]


def congruent(
    mine: tuple[Outline, ...],
    theirs: tuple[Outline, ...],
    my_lines: Sequence[Line] = (),
    their_lines: Sequence[Line] = (),
) -> bool:
    """Tell whether outlines and lines, turned and moved, are others; the last outline is the shell.

    Args:
        mine: outlines of the first set, its shell last.
        theirs: outlines of the second set, its shell last.
        my_lines: lines of the first set; either end may be its beginning.
        their_lines: lines of the second set.
    """
    return any(
        _same_set([_carried(o, *placement) for o in mine], theirs)
        and _same_lines([(kind, _led(path, *placement)) for kind, path in my_lines], their_lines)
        for placement in _placements(mine, theirs, my_lines, their_lines)
    )


def _placements(
    mine: tuple[Outline, ...],
    theirs: tuple[Outline, ...],
    my_lines: Sequence[Line],
    their_lines: Sequence[Line],
) -> Iterator[tuple[float, Point, Point]]:
    """Yield each turn [degrees] about a point, and where that point goes, worth a try."""
    odd = next((o for o in reversed(mine) if o.circle_of is None), None)
    if odd is None:
        here = [*(o.centroid for o in mine), *(p for _, path in my_lines for p in path)]
        there = [*(o.centroid for o in theirs), *(p for _, path in their_lines for p in path)]
        yield from _disc_placements(here, there, mine[-1].centroid, theirs[-1].centroid)
        return
    first = odd.segments[0]
    for other in (o for o in theirs if len(o.segments) == len(odd.segments)):
        for k in _beginnings(odd, other):
            target = other.segments[k]
            turn = _heading(target.start, target.end) - _heading(first.start, first.end)
            yield degrees(turn), first.start, target.start


def _beginnings(mine: Outline, theirs: Outline) -> Iterator[int]:
    """Yield each segment of ``theirs`` from which on chords and bulges are those of ``mine``."""
    here, there = (np.array([(s.chord, s.bulge) for s in o.segments]) for o in (mine, theirs))
    twice = np.concatenate([there, there])
    for k in range(len(there)):
        away = np.abs(twice[k : k + len(here)] - here)
        if away[0].max() <= SAME and away.max() <= 30 * SAME:  # whoever is to meet within 10
            yield k


def _disc_placements(
    mine: list[Point], theirs: list[Point], here: Point, there: Point
) -> Iterator[tuple[float, Point, Point]]:
    """Yield the turns of a disc: one point off its centre onto each of the other's."""
    arms = [_heading(here, p) for p in mine if dist(here, p) > SAME]
    goals = [_heading(there, p) for p in theirs if dist(there, p) > SAME]
    for goal in goals if arms else [0.0]:
        yield degrees(goal - (arms or [0.0])[0]), here, there


def _heading(a: Point, b: Point) -> float:
    return atan2(b[1] - a[1], b[0] - a[0])


def _carried(outline: Outline, turn: float, start: Point, target: Point) -> Outline:
    return outline.turned(turn, start).moved(target[0] - start[0], target[1] - start[1])


def _led(path: tuple[Point, ...], turn: float, start: Point, target: Point) -> tuple[Point, ...]:
    c, s = cos_sin(turn)
    arms = [(x - start[0], y - start[1]) for x, y in path]
    return tuple((target[0] + c * x - s * y, target[1] + s * x + c * y) for x, y in arms)


def _same_set(mine: list[Outline], theirs: tuple[Outline, ...]) -> bool:
    left = list(theirs)
    for outline in mine:
        for k, other in enumerate(left):
            if _same_shape(outline, other):
                del left[k]
                break
        else:
            return False
    return not left


def _same_shape(a: Outline, b: Outline) -> bool:
    if a.circle_of and b.circle_of:
        return all(abs(p - q) <= SAME for p, q in zip(a.circle_of, b.circle_of, strict=True))
    return a.is_same(b, 10 * SAME)


def _same_lines(mine: Sequence[Line], theirs: Sequence[Line]) -> bool:
    left = list(theirs)
    for kind, path in mine:
        for k, (other_kind, other) in enumerate(left):
            if kind == other_kind and (_meet(path, other) or _meet(path, other[::-1])):
                del left[k]
                break
        else:
            return False
    return not left


def _meet(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    return len(a) == len(b) and all(dist(p, q) <= 10 * SAME for p, q in zip(a, b, strict=True))
