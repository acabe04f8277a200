"""Everything that is cut on a sheet, to keep leads and pierces clear of it; exact distances."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np

from partgen.segment import Point, Segment, closest


class Obstacles:
    """The lines and arcs of many chains, found by where they are."""

    def __init__(self, chains: Sequence[Sequence[Segment]]) -> None:
        self._segments = [(k, s) for k, chain in enumerate(chains) for s in chain]

    @cached_property
    def _boxes(self) -> np.ndarray:
        return np.array([s.box for _, s in self._segments]).reshape(-1, 4)

    def is_clear(self, probe: Segment, room: float, *, but: int = -1) -> bool:
        """Tell whether a segment keeps ``room`` mm from every outline except number ``but``."""
        near = self._near(probe.box, room, but)
        return all(closest(probe, s)[0] >= room for s in near)

    def is_free(self, at: Point, room: float, *, but: int = -1) -> bool:
        """Tell whether a point keeps ``room`` mm from every outline except number ``but``."""
        return all(s.distance(at) >= room for s in self._near((*at, *at), room, but))

    def _near(
        self, box: tuple[float, float, float, float], room: float, but: int
    ) -> Iterator[Segment]:
        """Yield the segments whose box is less than ``room`` from a box."""
        low, high = np.array(box[:2]) - room, np.array(box[2:]) + room
        b = self._boxes
        near = (b[:, :2] < high).all(axis=1) & (b[:, 2:] > low).all(axis=1)
        for owner, s in (self._segments[k] for k in np.flatnonzero(near).tolist()):
            if owner != but:
                yield s
