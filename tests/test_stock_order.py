"""Which sheets are opened, against trying every way on cases small enough for that.

Plates are strips as wide as any sheet, so that a layout is nothing but sharing lengths out.
"""

import itertools
import random

import pytest

from partgen.geometry.belt import rectangle
from partgen.layout import Piece, Sheet, lay_out
from partgen.sheets.stock_choice import chosen, cost_of

GAP, MARGIN, WIDE = 5.0, 8.0, 200.0


def strips(lengths):
    return [Piece(f"s{k}", (rectangle(x, WIDE),), turns=(0,)) for k, x in enumerate(lengths)]


def stock(kinds):
    """Sheets of (length, count), usable lengths as given."""
    return [
        Sheet(f"l{x}", rectangle(x + 16, WIDE + 16, 0, ((x + 16) / 2, (WIDE + 16) / 2)), count)
        for x, count in kinds
    ]


def best_of_all(lengths, kinds, costs):
    """Least (cost, sheets, area) over every choice of sheets and every way to share out."""
    rack = [x for x, count in kinds for _ in range(count)]
    found = None
    for n in range(1, len(rack) + 1):
        for opened in set(itertools.combinations(sorted(rack), n)):
            price = (sum(costs.get(f"l{x}", 0.0) for x in opened), n, sum(x + 16 for x in opened))
            if (found is None or price < found) and holds(lengths, opened):
                found = price
    return found


def holds(lengths, opened):
    for where in itertools.product(range(len(opened)), repeat=len(lengths)):
        loads = [
            [x for x, w in zip(lengths, where, strict=True) if w == k] for k in range(len(opened))
        ]
        if all(
            not load or sum(load) + GAP * (len(load) - 1) <= room
            for load, room in zip(loads, opened, strict=True)
        ):
            return True
    return False


@pytest.mark.parametrize("seed", [0, 1, 3, 4, 12])
def test_no_choice_of_sheets_is_better(seed):
    chance = random.Random(seed)
    lengths = [chance.randrange(80, 420, 10) for _ in range(chance.randint(2, 5))]
    kinds = [(600, 2), (chance.choice([300, 450]), 2), (chance.choice([700, 900]), 1)]
    costs = {f"l{x}": float(chance.choice([10, 20, 45])) for x, _ in kinds if chance.random() < 0.7}
    pieces, sheets = strips(lengths), stock(kinds)
    opened = chosen(pieces, sheets, costs, gap=GAP, margin=MARGIN)
    layout = lay_out(pieces, opened, gap=GAP, margin=MARGIN)
    areas = {s.name: s.length for s in sheets}
    price = (
        cost_of(layout, costs),
        len(layout.used),
        sum(areas[u.sheet] for u in layout.used),
    )
    assert price == pytest.approx(best_of_all(lengths, kinds, costs))
