"""Which loop is cut before which: what lies inside a loop goes first, then the nearest next.

A plate's openings come before its outside edge, and a plate that lies in another's window comes,
whole, before that window: once a loop is through, what is in it may drop or shift. Where the heat
is to leave first, what lies beside the loop just cut waits while another can be cut instead. Both
are common practice, no source. Of two ways equally long the one to the lower number is taken,
whatever a machine makes of their last bits.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from partgen.geometry.containment import holders
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.layout.steady import ticks

Box = tuple[float, float, float, float]


def cut_order(outlines: Sequence[Outline], starts: Sequence[Point], cool: float = 0.0) -> list[int]:
    """Return the numbers of the outlines in the order they are cut, from (0, 0).

    Args:
        outlines: closed cuts [mm].
        starts: where the torch begins, and ends, each of them [mm].
        cool: of loops side by side, one whose box is nearer than this to the loop just cut waits
            while another can be cut instead; 0 for the nearest next [mm].
    """
    around = holders(outlines) if outlines else []
    within: dict[int | None, list[int]] = {}
    for k, found in enumerate(around):
        within.setdefault(found[0] if found else None, []).append(k)
    entries = _entries(within, starts)
    order: list[int] = []
    torch: Point = (0.0, 0.0)
    stack: list[tuple[int | None, list[int]]] = [(None, list(within.get(None, [])))]
    while stack:
        owner, waiting = stack[-1]
        if waiting:
            cold = waiting
            if cool and order:
                hot = outlines[order[-1]].box
                cold = [k for k in waiting if ticks(_apart(outlines[k].box, hot)) >= ticks(cool)]
            following = min(cold or waiting, key=lambda k: (_way(torch, entries[k]), k))
            waiting.remove(following)
            stack.append((following, list(within.get(following, []))))
            continue
        stack.pop()
        if owner is not None:
            order.append(owner)
            torch = starts[owner]
    return order


def _entries(within: dict[int | None, list[int]], starts: Sequence[Point]) -> list[list[Point]]:
    """Return, for each loop, where the torch can begin with it or with what lies in it."""
    entries: list[list[Point]] = [[] for _ in starts]
    open_loops = [(k, False) for k in within.get(None, [])]
    while open_loops:
        k, known = open_loops.pop()
        inside = within.get(k, [])
        if known or not inside:
            entries[k] = [p for m in inside for p in entries[m]] or [starts[k]]
        else:
            open_loops += [(k, True), *((m, False) for m in inside)]
    return entries


def _way(torch: Point, entries: Sequence[Point]) -> int:
    return min(ticks(dist(torch, at)) for at in entries)


def _apart(a: Box, b: Box) -> float:
    return dist((0, 0), (max(0.0, b[0] - a[2], a[0] - b[2]), max(0.0, b[1] - a[3], a[1] - b[3])))
