"""Everything that is cut on a sheet, to keep leads and pierces clear of it; exact distances."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np
import shapely

from partgen.geometry.segment import Point, Segment, closest


class Obstacles:
    """The lines and arcs of many chains, found by where they are."""

    def __init__(self, chains: Sequence[Sequence[Segment]]) -> None:
        self._segments = [(k, s) for k, chain in enumerate(chains) for s in chain]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        boxes = [s.box for _, s in self._segments]
        return shapely.STRtree([shapely.box(*box) for box in boxes])

    def is_clear(self, probe: Segment, room: float, *, but: int = -1) -> bool:
        """Tell whether a segment keeps ``room`` mm from every outline except number ``but``."""
        near = self._near(probe.box, room, but)
        return all(closest(probe, s)[0] >= room for s in near)

    def is_free(self, at: Point, room: float, *, but: int = -1) -> bool:
        """Tell whether a point keeps ``room`` mm from every outline except number ``but``."""
        return all(s.distance(at) >= room for s in self._near((*at, *at), room, but))

    def all_free(self, places: Sequence[Point], room: float) -> list[Point]:
        """Return those of many points that keep ``room`` mm from every outline."""
        if not places:
            return []
        at = np.array(places)
        probes = shapely.box(*(at - room).T, *(at + room).T)
        pairs = self._tree.query(probes)
        touched: set[int] = set()
        for k, m in pairs.T.tolist():
            if k not in touched and self._segments[m][1].distance(places[k]) < room:
                touched.add(k)
        return [place for k, place in enumerate(places) if k not in touched]

    def _near(
        self, box: tuple[float, float, float, float], room: float, but: int
    ) -> Iterator[Segment]:
        """Yield the segments whose box is less than ``room`` from a box."""
        x0, y0, x1, y1 = box
        found = self._tree.query(shapely.box(x0 - room, y0 - room, x1 + room, y1 + room))
        for owner, s in (self._segments[k] for k in found.tolist()):
            if owner != but:
                yield s
