"""The cheapest order of stops where there and back may cost differently: a search with a budget.

A few stops are tried in every order (each set of stops once). More are improved step by step: up to
three in a row moved elsewhere, a stretch run backwards; then, as often as the budget says, two
stretches exchanged at random and improved again. All as published for such tours (from memory);
costs are whole numbers, so that every machine takes the same steps.
"""

from __future__ import annotations

import random
from collections import deque
from collections.abc import Sequence
from heapq import nsmallest
from itertools import accumulate

Costs = Sequence[Sequence[int]]
NEAR = 8  # of the cheapest ways to a stop, and from it, are tried
ROW = 3  # stops moved at once, at most
STRETCH = 30  # stops from first to last of two stretches exchanged
KICKS = 4  # exchanges for each stop
MOST_KICKS = 500


def every_order(
    costs: Costs, last: Sequence[int], groups: Sequence[int]
) -> list[tuple[int, list[int]]]:
    """Return for each stop the cheapest way that begins there and calls once at every group.

    Args:
        costs: from stop to stop.
        last: cost of ending at each.
        groups: number of the group, from 0, that each stop belongs to.
    """
    whole = (1 << max(groups) + 1) - 1
    best: list[dict[int, tuple[int, int]]] = [{} for _ in range(whole + 1)]
    for left in range(1, whole + 1):
        for a, group in enumerate(groups):
            if left >> group & 1:
                rest = best[left ^ 1 << group]
                ways = [(costs[a][b] + cost, b) for b, (cost, _) in rest.items()]
                best[left][a] = min(ways) if ways else (last[a], a)
    found = []
    for a in range(len(groups)):
        left, order = whole, [a]
        while left != 1 << groups[order[-1]]:
            following = best[left][order[-1]][1]
            left ^= 1 << groups[order[-1]]
            order.append(following)
        found.append((best[whole][a][0], order))
    return found


def improved(costs: Costs, order: Sequence[int], kicks: int = KICKS) -> list[int]:
    """Return a round through all stops that costs no more than ``order``; its first stays first.

    Args:
        costs: from stop to stop.
        order: every stop once.
        kicks: exchanges for each stop.
    """
    found = _Round(costs, order)
    found.settle(order)
    if len(order) > 3:
        chance = random.Random(len(order))
        for _ in range(min(kicks * len(order), MOST_KICKS)):
            found.kick(chance)
    return found.order


class _Round:
    """A round and the moves that make it cheaper.

    Args:
        costs: from stop to stop.
        order: every stop once; the first is never moved.
    """

    def __init__(self, costs: Costs, order: Sequence[int]) -> None:
        self.order = list(order)
        self._costs = costs
        others = range(len(costs))
        near = NEAR + 1
        back = [[row[k] for row in costs] for k in others]
        self._after = [nsmallest(near, others, key=costs[k].__getitem__) for k in others]
        self._before = [nsmallest(near, others, key=back[k].__getitem__) for k in others]
        self._index()

    @property
    def cost(self) -> int:
        """Of the whole round."""
        return self._forth[-1]

    def settle(self, stops: Sequence[int]) -> None:
        """Make moves near ``stops``, and near what moves, until none helps."""
        waiting, is_waiting = deque(stops), set(stops)
        while waiting:
            stop = waiting.popleft()
            is_waiting.discard(stop)
            touched = self._row_moved(stop) or self._turned(stop)
            for other in touched:
                if other not in is_waiting:
                    is_waiting.add(other)
                    waiting.append(other)

    def kick(self, chance: random.Random) -> None:
        """Exchange two stretches at random and settle; keep it unless it costs more."""
        before, cost, count = self.order.copy(), self.cost, len(self.order)
        first = chance.randrange(1, count - 1)
        end = min(count, first + STRETCH)
        i, j, k = first, chance.randrange(first + 1, end), chance.randrange(first + 1, end) + 1
        j, k = min(j, k - 1), max(j + 1, k)
        ends = [self.order[p % count] for p in (i - 1, i, j - 1, j, k - 1, k)]
        self.order[i:k] = self.order[j:k] + self.order[i:j]
        self._index()
        self.settle(list(dict.fromkeys(ends)))
        if self.cost > cost:
            self.order = before
            self._index()

    def _index(self) -> None:
        """Take note of where everything is, and of what each part of the round costs, both ways."""
        order, costs = self.order, self._costs
        self._place = [0] * len(order)
        for place, stop in enumerate(order):
            self._place[stop] = place
        following = [*order[1:], order[0]]
        steps = list(zip(order, following, strict=True))
        self._forth = list(accumulate((costs[a][b] for a, b in steps), initial=0))
        self._back = list(accumulate((costs[b][a] for a, b in steps), initial=0))

    def _at(self, place: int) -> int:
        return self.order[place % len(self.order)]

    def _row_moved(self, stop: int) -> list[int]:
        """Move a row that begins or ends with ``stop`` beside a nearer one, if that helps.

        Return the stops whose neighbours have changed.
        """
        place, costs = self._place[stop], self._costs
        into, onward = costs[self._at(place - 1)][stop], costs[stop][self._at(place + 1)]
        before = [self._place[k] for k in self._before[stop] if costs[k][stop] < into]
        after = [self._place[k] - 1 for k in self._after[stop] if costs[stop][k] < onward]
        for size in range(1, ROW + 1):
            for i, near in ((place, before), (place - size + 1, after)):
                for at in near:
                    if self._moves(i, i + size, at):
                        return self._move(i, i + size, at)
        return []

    def _moves(self, i: int, j: int, after: int) -> bool:
        """Tell whether it is cheaper to have the stops from ``i`` to before ``j`` later."""
        count, costs = len(self.order), self._costs
        after %= count
        if i < 1 or j > count or i - 1 <= after < j:
            return False
        order = self.order
        a, head, tail, b = order[i - 1], order[i], order[j - 1], order[j % count]
        p, q = order[after], order[(after + 1) % count]
        old = costs[a][head] + costs[tail][b] + costs[p][q]
        return costs[a][b] + costs[p][head] + costs[tail][q] < old

    def _move(self, i: int, j: int, after: int) -> list[int]:
        after %= len(self.order)
        ends = [self._at(p) for p in (i - 1, i, j - 1, j, after, after + 1)]
        row = self.order[i:j]
        if after < i:
            self.order[after + 1 : j] = row + self.order[after + 1 : i]
        else:
            self.order[i : after + 1] = self.order[j : after + 1] + row
        self._index()
        return list(dict.fromkeys(ends))

    def _turned(self, stop: int) -> list[int]:
        """Run a stretch beside ``stop`` backwards, if that helps; return its four ends."""
        place, costs = self._place[stop], self._costs
        into, onward = costs[self._at(place - 1)][stop], costs[stop][self._at(place + 1)]
        stretches = [
            (place + 1, self._place[k] + 1) for k in self._after[stop] if costs[stop][k] < onward
        ]
        end = place or len(self.order)
        stretches += [(self._place[k], end) for k in self._before[stop] if costs[k][stop] < into]
        for i, j in stretches:
            if self._turns(i, j):
                return self._turn(i, j)
        return []

    def _turns(self, i: int, j: int) -> bool:
        """Tell whether the stops from ``i`` to before ``j`` cost less run backwards."""
        if i < 1 or j - i < 2:
            return False
        costs = self._costs
        a, head, tail, b = self._at(i - 1), self._at(i), self._at(j - 1), self._at(j)
        old = self._forth[j] - self._forth[i - 1]
        return costs[a][tail] + self._back[j - 1] - self._back[i] + costs[head][b] < old

    def _turn(self, i: int, j: int) -> list[int]:
        ends = [self._at(p) for p in (i - 1, i, j - 1, j)]
        self.order[i:j] = self.order[i:j][::-1]
        self._index()
        return list(dict.fromkeys(ends))
