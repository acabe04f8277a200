"""Cuts that micro-joints hold open, in files of our own: closed again across the known gap.

The head of such a file says how wide the gaps are. Each lies on one line or arc of the edge, so the
cut goes on past its end, on the same line or arc, and meets the next run's start a gap further.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, dist, floor, hypot, tan, tau

from partgen.dxf.paths import Path
from partgen.dxf.tags import DxfError
from partgen.geometry.segment import Point, Segment
from partgen.measure import per_unit

SLACK = 0.02  # mm; the head of the file rounds the gap
OFF = 1e-3  # mm; further beside its line or arc a start does not go on with it
SIZE = re.compile(r"([0-9]*\.?[0-9]+) (mm|in)\b")


@dataclass(frozen=True)
class Held:
    """A cut read from a file.

    Attributes:
        path: closed, also where micro-joints hold it open; open if nothing closes it.
        first: number of the path it comes from, of its first run where it is held.
        joints: how many micro-joints hold it.
    """

    path: Path
    first: int
    joints: int = 0


def size_said(comments: Sequence[str], sign: str) -> float:
    """Return the size that the head of a file states after ``sign`` [mm]; 0 if it states none."""
    for comment in comments:
        size = SIZE.match(comment.removeprefix(sign)) if comment.startswith(sign) else None
        if size:
            return float(size[1]) * per_unit(size[2])
    return 0.0


def closed_across(paths: Sequence[Path], gap: float) -> list[Held]:
    """Return paths with those closed that micro-joints hold open, each where its first run stands.

    Args:
        paths: of what is cut, in the order of the file.
        gap: left open at each micro-joint [mm].

    Raises:
        DxfError: an open path does not go on a gap past its end.
    """
    runs = [p for p in paths if not p.closed]
    following = _following(runs, gap)
    place = {id(p): k for k, p in enumerate(runs)}
    found: list[Held] = []
    used: set[int] = set()
    for first, path in enumerate(paths):
        if path.closed:
            found.append(Held(path, first))
            continue
        k, segments, joints = place[id(path)], list[Segment](), 0
        while k not in used:
            used.add(k)
            bridge, after = following[k]
            segments += [*runs[k].segments, bridge]
            joints, k = joints + 1, after
        if joints:
            found.append(Held(Path(tuple(segments), True, path.label), first, joints))
    return found


def _following(runs: Sequence[Path], gap: float) -> list[tuple[Segment, int]]:
    """Return, for each run, what closes the gap past its end, and the run that it leads to.

    Raises:
        DxfError: none, or several, or the same for two runs.
    """
    size = gap + SLACK
    cells: dict[tuple[int, int], list[int]] = {}
    for k, run in enumerate(runs):
        cells.setdefault(_cell(run.segments[0].start, size), []).append(k)
    found: list[tuple[Segment, int]] = []
    for run in runs:
        last = run.segments[-1]
        near = (k for cell in _around(last.end, size) for k in cells.get(cell, ()))
        ways = [(b, k) for k in near if (b := _bridge(last, runs[k].segments[0], gap))]
        if len(ways) != 1 or any(ways[0][1] == k for _, k in found):
            x, y = last.end
            raise DxfError(
                f"{run.label}: this file says that micro-joints hold its edges, but from "
                f"({x:.6g}, {y:.6g}) mm the cut does not go on after {gap:.6g} mm; take the file "
                "made without --joints"
            )
        found.append(ways[0])
    return found


def _cell(point: Point, size: float) -> tuple[int, int]:
    return floor(point[0] / size), floor(point[1] / size)


def _around(point: Point, size: float) -> Iterator[tuple[int, int]]:
    i, j = _cell(point, size)
    yield from ((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1))


def _bridge(last: Segment, first: Segment, gap: float) -> Segment | None:
    """Return the line or arc on which both segments lie, as long as the gap between; else None."""
    if bool(last.bulge) != bool(first.bulge):
        return None
    if not last.bulge:
        bridge = Segment(*last.end, *first.start)
        (ux, uy), (vx, vy) = last.direction(1.0), first.direction(0.0)
        dx, dy = bridge.x1 - bridge.x0, bridge.y1 - bridge.y0
        straight = hypot(ux - vx, uy - vy) <= OFF and abs(ux * dy - uy * dx) <= OFF
        ahead = ux * dx + uy * dy
        return bridge if straight and abs(ahead - gap) <= SLACK else None
    same = dist(last.centre, first.centre) <= OFF and abs(last.radius - first.radius) <= OFF
    if not same or last.bulge * first.bulge < 0:
        return None
    (cx, cy), side = last.centre, 1 if last.bulge > 0 else -1
    ax, ay, bx, by = last.x1 - cx, last.y1 - cy, first.x0 - cx, first.y0 - cy
    turn = _angle(ax, ay, bx, by) * side % tau
    bridge = Segment(*last.end, *first.start, side * tan(turn / 4))
    return bridge if abs(turn * last.radius - gap) <= SLACK else None


def _angle(ax: float, ay: float, bx: float, by: float) -> float:
    return atan2(ax * by - ay * bx, ax * bx + ay * by)
