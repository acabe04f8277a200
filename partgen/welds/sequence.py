"""The sequence of welds: neighbours in time lie on different plates and at far ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import dist

from partgen.geometry.chain import Chain, length
from partgen.geometry.segment import Point
from partgen.welds.weld import Weld


def in_sequence(by_plate: Sequence[Sequence[Weld]]) -> list[Weld]:
    """Return the welds in the order to lay them, numbered from 1.

    What later pieces cover comes first. Then one edge of each plate in turn, hands alternating as
    the plates do; within a plate each next edge is the farthest from the last.
    """
    order = [weld for welds in by_plate for weld in welds if weld.seam.first]
    waiting = [_far_apart([w for w in welds if not w.seam.first]) for welds in by_plate]
    while any(waiting):
        waiting.sort(key=lambda welds: -len(welds))
        for welds in waiting:
            if welds:
                order.append(welds.pop(0))
    return [replace(weld, step=step) for step, weld in enumerate(order, 1)]


def _far_apart(welds: Sequence[Weld]) -> list[Weld]:
    left, order = list(welds), list[Weld]()
    while left:
        chosen = max(left, key=lambda w: _away(order[-1], w)) if order else left[0]
        left.remove(chosen)
        order.append(chosen)
    return order


def _away(a: Weld, b: Weld) -> float:
    return round(dist(middle(a.path), middle(b.path)), 6)


def middle(path: Chain) -> Point:
    """Return the point half way along a chain."""
    rest = length(path) / 2
    for s in path:
        if rest <= s.length:
            return s.at(rest / s.length)
        rest -= s.length
    return path[-1].end
