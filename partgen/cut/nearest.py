"""Loops in the order of the nearest next: where the search for a shorter order begins."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.cut.nested import HOME, Nested, hop
from partgen.geometry.segment import Point


def nearest_next(nested: Nested) -> list[int]:
    """Return loops in an order that keeps to what lies in what, each in its first run.

    Of loops side by side the nearest is next, by where the torch can begin with it or with what
    lies in it; one that lies beside the loop just cut waits while another does not. Of two equally
    near the one of lower number is taken.
    """
    entries = _entries(nested)
    order: list[int] = []
    torch = HOME
    stack: list[tuple[int | None, list[int]]] = [(None, list(nested.within[None]))]
    while stack:
        owner, waiting = stack[-1]
        if waiting:
            hot = nested.are_hot(order[-1] if order else None, waiting)
            cold = [k for k, is_hot in zip(waiting, hot.tolist(), strict=True) if not is_hot]
            following = min(cold or waiting, key=lambda k: (_way(torch, entries[k]), k))
            waiting.remove(following)
            stack.append((following, list(nested.within.get(following, []))))
            continue
        stack.pop()
        if owner is not None:
            order.append(owner)
            torch = nested.runs[owner][0].end
    return order


def _entries(nested: Nested) -> list[list[Point]]:
    """Return, for each loop, where the torch can begin with it or with what lies in it."""
    entries: list[list[Point]] = [[] for _ in nested.runs]
    for k in nested.inward:
        inside = nested.within.get(k, [])
        entries[k] = [p for m in inside for p in entries[m]] or [nested.runs[k][0].begin]
    return entries


def _way(torch: Point, entries: Sequence[Point]) -> int:
    return min(hop(torch, at) for at in entries)
