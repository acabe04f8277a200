"""The least travel against every order of a few cuts."""

import random
from itertools import pairwise, permutations
from math import dist

import pytest

from partgen.cut.travel import least_travel
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline

DISCS = [Outline.circle(50 * k, 0, 10) for k in range(9)]  # none lies in another


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
    bound = least_travel(DISCS[: len(cuts)], [[cut] for cut in cuts])
    assert bound <= best + 1e-9
    assert bound >= 0.6 * best


def test_cuts_in_a_row_can_do_no_better():
    row = [((10.0 * k, 0.0), (10.0 * k + 3, 0.0)) for k in range(1, 6)]
    assert (
        least_travel(DISCS[: len(row)], [[cut] for cut in row])
        == pytest.approx(travel(row))
        == pytest.approx(10 + 4 * 7)
    )


def test_nothing_to_cut():
    assert least_travel([], []) == 0


def test_a_plate_is_entered_by_its_hole_and_left_by_its_edge():
    """Two plates with a hole each: by hand, 30 to the first hole, 10 out, 22 on, 10 out."""
    plates = [rectangle(30, 30, 0, (30, 0)), rectangle(30, 30, 0, (62, 0))]
    holes = [Outline.circle(30, 0, 5), Outline.circle(62, 0, 5)]
    starts = [(40.0, 0.0), (72.0, 0.0), (30.0, 0.0), (62.0, 0.0)]
    passes = [[(at, at)] for at in starts]
    assert least_travel([*plates, *holes], passes) == pytest.approx(30 + 10 + 22 + 10)


def test_between_the_pieces_of_an_edge_all_ways_count_but_the_longest():
    """Three pieces, 2, 3 and 7 from one to the next; the nearest begins 5 from (0, 0)."""
    passes = [((3.0, 4.0), (30.0, 0.0)), ((32.0, 0.0), (60.0, 9.0)), ((63.0, 9.0), (10.0, 4.0))]
    assert least_travel(DISCS[:1], [passes]) == pytest.approx(5 + 2 + 3)
