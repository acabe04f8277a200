"""Which loop is cut before which: what lies inside a loop goes first, and the torch travels little.

A plate is cut whole before the next one is begun, so that its holes and its edge stay true to each
other while the sheet moves in the heat: openings first, then the outside edge. A plate that lies in
another's window comes before that window: once a loop is through, what is in it may drop or shift.
The pieces between micro-joints follow one another round their edge. Where the heat is to leave
first, as few loops as can be found are cut right after one they lie beside. All of it is common
practice, no source.

Of the orders that keep to this the shortest found is taken: by the nearest next at first, then
searched level by level, and each edge begun at the micro-joint that suits it best.
"""

from __future__ import annotations

from collections.abc import Sequence

from partgen.cut.levels import searched
from partgen.cut.nearest import nearest_next
from partgen.cut.nested import HOME, Ends, Nested, hop, runs_of
from partgen.geometry.outline import Outline

ROUNDS = 2  # of an order for given beginnings and beginnings for a given order


def cut_order(
    outlines: Sequence[Outline], passes: Sequence[Sequence[Ends]], cool: float = 0.0
) -> list[tuple[int, int]]:
    """Return the numbers of the outlines in the order they are cut, from (0, 0).

    Args:
        outlines: closed cuts [mm].
        passes: where the torch begins and ends each pass of each of them, one after the other [mm].
        cool: a loop whose box is nearer than this to that of the loop just cut is cut hot, which
            is done as seldom as can be found; 0 if heat does not matter [mm].

    Returns:
        Number of each outline, and number of the pass it is begun with.
    """
    if not outlines:
        return []
    nested = Nested(outlines, [runs_of(p) for p in passes], cool)
    nearest = nearest_next(nested)
    begins = [0] * len(outlines)
    found = [(nested.cost(nearest, begins), nearest, begins)]
    if any(len(p) > 1 for p in passes):
        found.append(_settled(nested, searched(nested, None, nearest)))
    else:
        order = searched(nested, begins, nearest)
        found.append((nested.cost(order, begins), order, begins))
    _, order, begins = min(found)
    return [(k, begins[k]) for k in order]


def _settled(nested: Nested, order: list[int]) -> tuple[int, list[int], list[int]]:
    """Return cost, order and beginnings where neither can be changed alone any more, or nearly."""
    begins = _begins(nested, order)
    best = nested.cost(order, begins), order, begins
    for _ in range(ROUNDS):
        order = searched(nested, begins, order)
        begins = _begins(nested, order)
        found = nested.cost(order, begins), order, begins
        if found[0] >= best[0]:
            break
        best = found
    return best


def _begins(nested: Nested, order: Sequence[int]) -> list[int]:
    """Return with which of its runs each loop makes an order shortest."""
    before = [(0, HOME)]
    taken: list[list[int]] = []
    for k in order:
        after, row = [], []
        for run in nested.runs[k]:
            cost, via = min((c + hop(at, run.begin), m) for m, (c, at) in enumerate(before))
            after.append((cost + run.between, run.end))
            row.append(via)
        before = after
        taken.append(row)
    begins = [0] * len(nested.runs)
    _, chosen = min((cost, m) for m, (cost, _) in enumerate(before))
    for k, row in zip(reversed(order), reversed(taken), strict=True):
        begins[k] = chosen
        chosen = row[chosen]
    return begins
