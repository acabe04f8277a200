"""The least travel against every order of a few cuts."""

import random
from itertools import pairwise, permutations
from math import dist

import pytest

from partgen.cut.travel import least_travel


def travel(cuts):
    ways = [dist((0, 0), cuts[0][0])]
    return sum(ways + [dist(a[1], b[0]) for a, b in pairwise(cuts)])


@pytest.mark.parametrize("seed", range(20))
def test_no_order_travels_less(seed):
    chance = random.Random(seed)
    cuts = []
    for _ in range(6):
        x, y = chance.uniform(0, 900), chance.uniform(0, 400)
        cuts.append(((x, y), (x + chance.uniform(-9, 9), y + chance.uniform(-9, 9))))
    best = min(travel(order) for order in permutations(cuts))
    bound = least_travel(cuts)
    assert bound <= best + 1e-9
    assert bound >= 0.6 * best


def test_cuts_in_a_row_can_do_no_better():
    row = [((10.0 * k, 0.0), (10.0 * k + 3, 0.0)) for k in range(1, 6)]
    assert least_travel(row) == pytest.approx(travel(row)) == pytest.approx(10 + 4 * 7)


def test_nothing_to_cut():
    assert least_travel([]) == 0
