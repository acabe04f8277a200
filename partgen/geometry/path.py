"""An open chain of lines and arcs that runs forward (x rises), with its exact offset.

The edge of a rail is such a path. Its offset is again lines and arcs: a line moves, an arc keeps
its centre, a kick gets an arc about its station on one side and a sharp corner on the other, so
every point of it lies at the distance asked for.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import dist, hypot, sqrt, tan

import numpy as np

from partgen.errors import GeometryError
from partgen.geometry.crossing import crossings, offset, part_at, piece, turn_at
from partgen.geometry.nearness import Array, nearest, segment_distances
from partgen.geometry.segment import Point, Segment, closest
from partgen.measure import LONGEST

TANGENT = 1e-6  # rad; a smaller turn is none
FORWARD = 0.02  # least share of forward in a path's direction; a rail does not stand upright
SHORT = 1e-4  # mm; what is shorter is not there
AT_ONCE = 50  # segments of an offset that are held against the path


@dataclass(frozen=True)
class Path:
    """An open chain of lines and arcs, x rising.

    Attributes:
        segments: each begins where the one before ends [mm].
        marks: for each segment, the number of the station that it starts at or after.
    """

    segments: tuple[Segment, ...]
    marks: tuple[int, ...]

    @classmethod
    def of(cls, segments: Iterable[Segment], marks: Sequence[int] | None = None) -> Path:
        """Return a path; stations are counted from 1, one to each segment, unless ``marks`` say.

        Raises:
            GeometryError: it turns back or stands upright somewhere; the station is named.
        """
        chain = tuple(segments)
        path = cls(chain, tuple(marks or range(1, len(chain) + 1)))
        for s, mark in zip(chain, path.marks, strict=True):
            if s.x1 <= s.x0 or min(s.direction(0)[0], s.direction(1)[0]) < FORWARD:
                raise GeometryError(
                    f"the edge turns back or stands upright after station {mark} (x = {s.x0:g} "
                    "mm); x must rise all the way"
                )
        return path

    @classmethod
    def through(cls, points: Sequence[Point]) -> Path:
        """Return straight lines through ``points``, x rising."""
        return cls.of(Segment(*a, *b) for a, b in pairwise(points))

    @property
    def start(self) -> Point:
        """First point [mm]."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Last point [mm]."""
        return self.segments[-1].end

    @cached_property
    def _begins(self) -> list[float]:
        return [s.x0 for s in self.segments]

    def _index(self, x: float) -> int:
        return max(0, bisect_right(self._begins, x) - 1)

    def height(self, x: float) -> float:
        """Return y at ``x``; beyond its ends the path runs straight on [mm]."""
        if x < self.start[0]:
            return _run_on(self.start, self.segments[0].direction(0), x)
        if x > self.end[0]:
            return _run_on(self.end, self.segments[-1].direction(1), x)
        return _height(self.segments[self._index(x)], x)

    def square(self, x: float) -> Point:
        """Return the unit direction square to the path about ``x``, to its right: down."""
        dx, dy = 2.0, self.height(x + 1) - self.height(x - 1)
        return dy / hypot(dx, dy), -dx / hypot(dx, dy)

    def distance(self, point: Point) -> float:
        """Return the distance from ``point`` to the path, its ends run on [mm]."""
        return nearest(point, self._far.segments, self._far._boxes)

    @cached_property
    def _boxes(self) -> Array:
        return np.array([s.box for s in self.segments])

    def gap(self, other: Path) -> float:
        """Return the exact least distance to another path [mm]."""
        best = dist(self.start, other.start)
        for s in self.segments:
            near = range(other._index(s.x0 - best), other._index(s.x1 + best) + 1)
            best = min(best, *(closest(s, other.segments[k])[0] for k in near))
        return best

    @cached_property
    def _far(self) -> Path:
        return self.run_on(LONGEST)

    def run_on(self, reach: float) -> Path:
        """Return the path run straight on by ``reach`` [mm] at both ends."""
        first, last = self.segments[0], self.segments[-1]
        (ux, uy), (vx, vy) = first.direction(0), last.direction(1)
        before = (first.x0 - ux * reach, first.y0 - uy * reach)
        after = (last.x1 + vx * reach, last.y1 + vy * reach)
        chain, marks = list(self.segments), list(self.marks)
        if last.bulge:
            chain.append(Segment(*last.end, *after))
            marks.append(marks[-1])
        else:
            chain[-1] = Segment(*last.start, *after)
        if first.bulge:
            chain.insert(0, Segment(*before, *first.start))
            marks.insert(0, marks[0])
        else:
            chain[0] = Segment(*before, *chain[0].end)
        return Path(tuple(chain), tuple(marks))

    def between(self, x0: float, x1: float) -> Path:
        """Return the part from x0 to x1 [mm]; beyond its ends the path runs straight on."""
        beyond = max(self.start[0] - x0, x1 - self.end[0], 0.0)
        whole = self.run_on(2 * beyond / FORWARD + 1) if beyond else self
        i, j = whole._index(x0), whole._index(x1)
        if j > i and x1 - whole.segments[j].x0 <= SHORT:
            j -= 1
        if j > i and whole.segments[i].x1 - x0 <= SHORT:
            i += 1
        chain = list(whole.segments[i : j + 1])
        ends = (x0, whole.height(x0)), (x1, whole.height(x1))
        if i == j:
            chain = [piece(chain[0], *ends)]
        else:
            chain[0] = piece(chain[0], ends[0], chain[0].end)
            chain[-1] = piece(chain[-1], chain[-1].start, ends[1])
        return Path(tuple(chain), whole.marks[i : j + 1])

    def offset(self, left: float) -> Path:
        """Return the path moved square to itself, to the left (up) positive [mm].

        Exact: every point of it lies at that distance, and none nearer.

        Raises:
            GeometryError: a bend or a stretch is too small to be followed; its station is named.
        """
        if not left:
            return self
        chain: list[Segment] = []
        marks: list[int] = []
        for k, s in enumerate(self.segments):
            moved = offset(s, left)
            if moved is None:
                raise GeometryError(
                    f"the bend after station {self.marks[k]} (x = {s.x0:g} mm) has a radius of "
                    f"{s.radius:g} mm and cannot be followed {abs(left):g} mm inside it; "
                    "use a smaller shelf or a larger bend"
                )
            if chain:
                self._join(chain, marks, moved, k, left)
            chain.append(moved if not chain else _from(chain[-1].end, moved))
            marks.append(self.marks[k])
        return self._checked(Path(tuple(chain), tuple(marks)), left)

    def _checked(self, moved: Path, left: float) -> Path:
        """Refuse an offset that comes nearer to a far part of the path than asked for."""
        for first in range(0, len(moved.segments), AT_ONCE):
            few = moved.segments[first : first + AT_ONCE]
            points = [p for s in few for p in (s.start, s.at(0.5))]
            low = self._index(min(x for x, _ in points) - abs(left))
            high = self._index(max(x for x, _ in points) + abs(left))
            away = segment_distances(np.array(points), self.segments[low : high + 1])
            near = np.flatnonzero(away.min(axis=1) < abs(left) - SHORT)
            if len(near):
                raise self._too_near(moved.marks[first + near[0] // 2], left)
        return moved

    def _join(
        self, chain: list[Segment], marks: list[int], moved: Segment, k: int, left: float
    ) -> None:
        """Make the moved segments before and after station ``k`` meet; ``chain`` is changed."""
        turn = turn_at(self.segments[k - 1], self.segments[k])
        if abs(turn) <= TANGENT:
            return
        last = chain[-1]
        if turn * left < 0:
            chain.append(Segment(*last.end, *moved.start, tan(turn / 4)))
            marks.append(self.marks[k])
            return
        met = crossings(last, moved)
        if not met:
            raise self._too_near(self.marks[k], left)
        at = max(met, key=lambda p: part_at(last, p))
        if dist(at, last.start) <= SHORT or dist(at, moved.end) <= SHORT:
            raise self._too_near(self.marks[k], left)
        chain[-1] = piece(last, last.start, at)

    def _too_near(self, mark: int, left: float) -> GeometryError:
        return GeometryError(
            f"the edge is too rough at station {mark} to be followed {abs(left):g} mm inside; "
            "leave that station or its neighbour out, give the bend a radius, or use a smaller "
            "shelf"
        )


def _from(start: Point, s: Segment) -> Segment:
    """Return ``s`` from ``start``, a point on it or as good as."""
    return piece(s, start, s.end) if start != s.start else s


def _run_on(p: Point, way: Point, x: float) -> float:
    return p[1] + (x - p[0]) * way[1] / way[0]


def _height(s: Segment, x: float) -> float:
    if not s.bulge:
        return s.y0 + (s.y1 - s.y0) * (x - s.x0) / (s.x1 - s.x0)
    (cx, cy), r = s.centre, s.radius
    rise = sqrt(max(r * r - (x - cx) ** 2, 0.0))
    return cy - rise if s.bulge > 0 else cy + rise
