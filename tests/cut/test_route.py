"""The way of the torch: rules kept on any sheet, and as short as every allowed order of a small one.

The peer is brute force over all orders that keep to the rules; the nearest next is what the way
must never be longer than.
"""

import random
from itertools import pairwise, permutations, product
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.cut.nearest import nearest_next
from partgen.cut.nested import Nested, runs_of
from partgen.cut.order import cut_order
from partgen.cut.route import every_order, improved
from partgen.cut.travel import least_travel
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline


def on_edge(outline, part):
    """A point on an outline, ``part`` of the way along its segments."""
    segments = outline.segments
    at = part * len(segments)
    return segments[int(at) % len(segments)].at(at % 1)


def sheet(chance, plates, joints=0):
    """Plates on a grid, anyhow: holes, windows, plates in windows. Loops, passes, who is in whom."""
    loops, passes, owner = [], [], []

    def add(outline, inside_of, count=1):
        loops.append(outline)
        owner.append(inside_of)
        parts = sorted(chance.random() for _ in range(count))
        begins = [on_edge(outline, part) for part in parts]
        ends = [*begins[1:], begins[0]] if count > 1 else begins
        shift = 1.5 if count > 1 else chance.uniform(0, 3)
        passes.append([(a, (b[0] + shift, b[1])) for a, b in zip(begins, ends, strict=True)])
        return len(loops) - 1

    spots = chance.sample(
        [(130 * a + 70, 110 * b + 60) for a in range(6) for b in range(5)], plates
    )
    for x, y in spots:
        edge = add(rectangle(120, 100, 5, (x, y)), None, joints or 1)
        kind = chance.choice(["holes", "window", "plain"])
        if kind == "holes":
            places = [(-35, -25), (35, -20), (0, 30), (40, 30), (-38, 22)]
            for dx, dy in chance.sample(places, chance.randrange(1, 4)):
                add(Outline.circle(x + dx, y + dy, 8), edge)
        elif kind == "window":
            window = add(rectangle(90, 70, 8, (x, y)), edge)
            if chance.random() < 0.6:
                small = add(rectangle(50, 40, 3, (x - 5, y + 4)), window, joints or 1)
                add(Outline.circle(x - 5, y + 8, 6), small)
    return loops, passes, owner


def travel(route, passes):
    """Torch-off length of loops begun with given passes [mm]."""
    at, total = (0.0, 0.0), 0.0
    for k, first in route:
        for begin, end in [*passes[k][first:], *passes[k][:first]]:
            total += dist(at, begin)
            at = end
    return total


def hot(order, loops, cool):
    """How many loops are cut right after one whose box is nearer than ``cool``."""
    gaps = []
    for a, b in pairwise(loops[k].box for k in order):
        x, y = max(0, b[0] - a[2], a[0] - b[2]), max(0, b[1] - a[3], a[1] - b[3])
        gaps.append(dist((0, 0), (x, y)))
    return sum(gap < cool for gap in gaps)


def every_allowed(owner, of=None):
    """Yield all orders in which each plate is cut whole and what is inside comes first."""
    inside = [k for k, o in enumerate(owner) if o == of]
    for order in permutations(inside):
        blocks = [[[*before, k] for before in every_allowed(owner, k)] for k in order]
        for row in product(*blocks):
            yield [k for block in row for k in block]


@pytest.mark.parametrize("cool", [0.0, 25.0])
@pytest.mark.parametrize("seed", range(8))
def test_a_small_sheet_is_cut_by_the_shortest_way_there_is(seed, cool):
    chance = random.Random(seed)
    loops, passes, owner = sheet(chance, 3)
    route = cut_order(loops, passes, cool)
    order = [k for k, _ in route]
    every = [
        (hot(o, loops, cool) if cool else 0, travel([(k, 0) for k in o], passes))
        for o in every_allowed(owner)
    ]
    least = min(every)
    assert (hot(order, loops, cool) if cool else 0) == least[0]
    assert travel(route, passes) == pytest.approx(least[1], abs=0.01)


@pytest.mark.parametrize("seed", range(6))
def test_each_edge_is_begun_at_the_micro_joint_that_makes_the_way_shortest(seed):
    """All orders of few plates, each with every choice of the pass it is begun with."""
    chance = random.Random(40 + seed)
    loops, passes, owner = sheet(chance, 2, joints=3)
    route = cut_order(loops, passes)
    choices = list(product(*(range(len(p)) for p in passes)))
    least = min(
        travel([(k, first[k]) for k in order], passes)
        for order in every_allowed(owner)
        for first in choices
    )
    assert travel(route, passes) == pytest.approx(least, abs=0.01)
    assert least_travel(loops, passes) <= least + 1e-9


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 14), st.sampled_from([0, 2, 4]),
       st.sampled_from([0.0, 12.0, 60.0]))  # fmt: skip
def test_on_any_sheet_the_rules_are_kept_and_the_way_is_no_longer(seed, plates, joints, cool):
    loops, passes, owner = sheet(random.Random(seed), plates, joints)
    route = cut_order(loops, passes, cool)
    order = [k for k, _ in route]
    assert sorted(order) == list(range(len(loops)))
    at = {k: place for place, k in enumerate(order)}
    for k, outer in enumerate(owner):
        if outer is not None:
            assert at[k] < at[outer]
    for k in range(len(loops)):  # whole: nothing else between a plate's first loop and its edge
        inside = [m for m in range(len(loops)) if lies_in(m, k, owner)]
        assert {at[m] for m in inside} == set(range(at[k] - len(inside), at[k]))
    nested = Nested(loops, [runs_of(p) for p in passes], cool)
    nearest = nearest_next(nested)
    found = (hot(order, loops, cool), travel(route, passes))
    peer = (hot(nearest, loops, cool), travel([(k, 0) for k in nearest], passes))
    if not cool:
        found, peer = found[1:], peer[1:]
    assert found <= (*peer[:-1], peer[-1] + 0.01)
    assert least_travel(loops, passes) <= travel(route, passes) + 1e-6
    assert route == cut_order(loops, passes, cool)


def lies_in(k, outer, owner):
    while owner[k] is not None:
        k = owner[k]
        if k == outer:
            return True
    return False


def test_larger_sheets_come_near_the_bound():
    """Over some sheets of 24 plates the way is a tenth shorter than by the nearest next."""
    ways, peers, bounds = 0.0, 0.0, 0.0
    for seed in range(4):
        loops, passes, _ = sheet(random.Random(seed + 70), 24)
        nearest = nearest_next(Nested(loops, [runs_of(p) for p in passes], 0.0))
        ways += travel(cut_order(loops, passes), passes)
        peers += travel([(k, 0) for k in nearest], passes)
        bounds += least_travel(loops, passes)
    assert ways < 0.9 * peers
    assert ways < 1.25 * bounds


@pytest.mark.parametrize("seed", range(5))
def test_rounds_against_every_order(seed):
    """Costs that differ there and back; the first stop stays."""
    chance = random.Random(seed)
    costs = [[chance.randrange(1000) for _ in range(7)] for _ in range(7)]

    def cost(order):
        return sum(costs[a][b] for a, b in pairwise([*order, order[0]]))

    least = min(cost((0, *rest)) for rest in permutations(range(1, 7)))
    found = improved(costs, range(7))
    assert found[0] == 0
    assert sorted(found) == list(range(7))
    assert cost(found) == least
    last = [costs[k][6] for k in range(6)]
    alone = list(range(6))
    for told, order in every_order(costs, last, alone):
        first = order[0]
        orders = [(first, *rest) for rest in permutations(set(range(6)) - {first})]
        ways = [sum(costs[a][b] for a, b in pairwise(o)) + last[o[-1]] for o in orders]
        assert told == min(ways) == sum(costs[a][b] for a, b in pairwise(order)) + last[order[-1]]


@pytest.mark.parametrize("count", [2, 3, 4, 9, 40])
def test_a_round_is_never_made_worse(count):
    chance = random.Random(count)
    costs = [[chance.randrange(1000) for _ in range(count)] for _ in range(count)]

    def cost(order):
        return sum(costs[a][b] for a, b in pairwise([*order, order[0]]))

    found = improved(costs, range(count))
    assert sorted(found) == list(range(count))
    assert cost(found) <= cost(range(count))
    assert cost(improved(costs, found)) <= cost(found)
