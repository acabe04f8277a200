"""Which loop is cut before which: what lies inside a loop goes first, then by short ways.

A plate's openings come before its outside edge, and a plate that lies in another's window comes,
whole, before that window: once a loop is through, what is in it may drop or shift.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import dist

from partgen.geometry.containment import holders
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point


def short_ways(outlines: Sequence[Outline], at: Callable[[int], Point]) -> list[int]:
    """Return the numbers of the outlines in a cutting order with short ways between.

    Each outline follows everything that lies in it; among those that lie side by side the torch
    goes to the nearest next one, from (0, 0).

    Args:
        outlines: closed cuts.
        at: where the torch begins on each of them.
    """
    around = holders(outlines) if outlines else []
    within: dict[int | None, list[int]] = {}
    for k, found in enumerate(around):
        within.setdefault(found[0] if found else None, []).append(k)
    order: list[int] = []
    torch: Point = (0.0, 0.0)
    stack: list[tuple[int | None, list[int]]] = [(None, list(within.get(None, [])))]
    while stack:
        owner, waiting = stack[-1]
        if waiting:
            here = torch
            following = min(waiting, key=lambda k: (round(dist(here, at(k)), 6), k))
            waiting.remove(following)
            stack.append((following, list(within.get(following, []))))
            continue
        stack.pop()
        if owner is not None:
            order.append(owner)
            torch = at(owner)
    return order
