"""Cutting order: what lies inside a loop goes first (common in every cutting text)."""

import itertools
import random
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.cut.loop import Lying
from partgen.cut.order import cut_order
from partgen.cut.plan import Way, plan
from partgen.entries.cutting import cutting
from partgen.geometry.belt import rectangle
from partgen.geometry.containment import deepest_first, holders
from partgen.geometry.outline import Outline, Vertex

FRAME = rectangle(200, 160, 5, (100, 80))
WINDOW = rectangle(120, 100, 5, (90, 80))
SMALL = rectangle(60, 50, 4, (80, 85))
HOLE = Outline.circle(75, 90, 12)
BOLT = Outline.circle(180, 140, 17)
OTHER = rectangle(40, 40, 0, (260, 30))
LOOPS = [FRAME, OTHER, WINDOW, BOLT, SMALL, HOLE]


def order_from(loops, starts, cool=0.0):
    """Loops cut in one pass each, begun and ended at their starts."""
    return [k for k, _ in cut_order(loops, [[(at, at)] for at in starts], cool)]


def ordered(loops, cool=0.0):
    return order_from(loops, [o.segments[0].start for o in loops], cool)


def way(order, starts):
    return sum(dist(a, b) for a, b in itertools.pairwise([(0, 0), *(starts[k] for k in order)]))


def test_who_lies_in_whom():
    assert holders(LOOPS) == [[], [], [0], [0], [2, 0], [4, 2, 0]]


def test_deepest_first_and_else_as_they_stand():
    assert deepest_first(LOOPS) == [5, 4, 2, 3, 0, 1]
    assert deepest_first([]) == []


@pytest.mark.parametrize("cool", [0.0, 15.0, 500.0])
def test_a_small_plate_in_a_window_goes_whole_before_the_window(cool):
    order = ordered(LOOPS, cool)
    at = {k: order.index(k) for k in range(len(LOOPS))}
    assert at[5] < at[4] < at[2] < at[0]
    assert at[3] < at[0]
    assert sorted(order) == list(range(6))


@given(st.permutations(LOOPS), st.sampled_from([0.0, 20.0, 100.0]))
def test_whatever_the_order_asked_contained_loops_come_first(loops, cool):
    order = ordered(loops, cool)
    views = [o.polygon("outside").buffer(0.5) for o in loops]
    for place, k in enumerate(order):
        for later in order[place + 1 :]:
            assert not views[k].contains(views[later])


def test_neighbours_are_cut_one_after_the_other():
    row = [Outline.circle(x, 0, 10) for x in (300, 20, 100, 180, 60, 260, 140, 220)]
    order = ordered(row)
    xs = [row[k].centroid[0] for k in order]
    assert xs == sorted(xs)
    assert sum(dist(row[a].centroid, row[b].centroid) for a, b in itertools.pairwise(order)) < 281


def test_the_torch_goes_to_the_plate_whose_hole_is_near():
    """Both plates are entered by a hole: that of the plate on the right is nearer to (0, 0)."""
    left, right = rectangle(300, 60, 0, (150, 300)), rectangle(300, 60, 0, (350, 200))
    holes = [Outline.circle(280, 300, 20), Outline.circle(220, 200, 20)]
    loops = [left, right, *holes]
    starts = [(0, 270), (500, 170), (270, 300), (210, 200)]
    assert order_from(loops, starts) == [3, 1, 2, 0]


SQUARES = [rectangle(10, 10, 0, (x + 5, 5)) for x in (0, 15, 30, 45)]


def test_a_neighbour_waits_while_it_is_hot():
    """Squares of 10 in a row, 5 apart: asked for 6, no two neighbours follow each other."""
    starts = [(o.box[0], o.box[1]) for o in SQUARES]
    assert order_from(SQUARES, starts) == [0, 1, 2, 3]
    assert order_from(SQUARES, starts, 6.0) == [1, 3, 0, 2]
    assert order_from(SQUARES, starts, 5.0) == [0, 1, 2, 3]  # 5 apart is not nearer than 5
    assert way([1, 3, 0, 2], starts) == 15 + 30 + 45 + 30 == way([2, 0, 3, 1], starts) - 15


def test_the_last_ones_are_cut_hot_rather_than_not_at_all():
    starts = [(o.box[0], o.box[1]) for o in SQUARES]
    assert order_from(SQUARES, starts, 1000.0) == [0, 1, 2, 3]


def hot(order, loops, cool):
    """How many loops are cut right after one whose box is nearer than ``cool``."""
    boxes = [loops[k].box for k in order]
    return sum(
        dist((0, 0), (max(0, b[0] - a[2], a[0] - b[2]), max(0, b[1] - a[3], a[1] - b[3]))) < cool
        for a, b in itertools.pairwise(boxes)
    )


def test_heat_leaves_for_a_longer_way_never_shorter_than_the_bound():
    chance = random.Random(5)
    lying = [
        Lying(
            f"p{k}",
            (),
            Outline.circle(60 + 90 * (k % 6), 60 + 90 * (k // 6), chance.uniform(40, 76)),
        )
        for k in range(24)
    ]
    process = cutting("plasma-65a")
    short, cool = (plan(lying, process, Way(leads=True, cool=c)) for c in (0.0, 60.0))
    assert short.travel < cool.travel
    loops = [[cut.loop.nominal for cut in p.cuts] for p in (short, cool)]
    assert hot(range(24), loops[0], 60) >= 18
    assert hot(range(24), loops[1], 60) <= 2
    for found in (short, cool):
        assert found.least_travel <= found.travel
        assert found.least_travel == pytest.approx(short.least_travel)


def shaken(outline, chance):
    noise = [
        (chance.uniform(-1e-12, 1e-12), chance.uniform(-1e-12, 1e-12)) for _ in outline.vertices
    ]
    pairs = zip(outline.vertices, noise, strict=True)
    return Outline(tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v, (dx, dy) in pairs))


@pytest.mark.parametrize("cool", [0.0, 20.0, 30.0])
@pytest.mark.parametrize("unit", [1.0, 25.4 / 16])
def test_ways_equally_long_are_the_same_order_on_every_machine(cool, unit):
    """A square grid of squares, each with two holes: ties at every step, also as noise has it."""
    loops = []
    for k in range(12):
        x, y = 20 * unit * (k % 4), 20 * unit * (k // 4)
        loops += [Outline.circle(x + d * unit, y, 2 * unit) for d in (-3, 3)]
        loops.append(rectangle(10 * unit, 10 * unit, 0, (x, y)))
    first = ordered(loops, cool)
    chance = random.Random(3)
    for _ in range(12):
        assert ordered([shaken(o, chance) for o in loops], cool) == first


@pytest.mark.parametrize("cool", [0.0, 8.0])
def test_steps_equally_long_in_a_square_grid(cool):
    """From every disc the next to the right, left, above and below are all 10 away."""
    spots = [(7.0 + 10 * (k % 5), 3.0 + 10 * (k // 5)) for k in range(25)]
    discs = [Outline.circle(x, y, 4) for x, y in spots]
    first, chance = order_from(discs, spots, cool), random.Random(1)
    for _ in range(12):
        noisy = [
            (x + chance.uniform(-1e-12, 1e-12), y + chance.uniform(-1e-12, 1e-12)) for x, y in spots
        ]
        assert order_from(discs, noisy, cool) == first


def test_a_whole_plan_is_the_same_on_every_machine():
    """Leads, places of micro-joints and order of a symmetric sheet, shaken by the last bits."""
    process, chance = cutting("plasma-65a"), random.Random(11)

    def sheet(noisy):
        made = []
        for k in range(6):
            x, y = 60.0 + 88.0 * (k % 3), 50.0 + 68.0 * (k // 3)
            loops = [Outline.circle(x + 22.35, y, 17.0), rectangle(80, 60, 8, (x, y))]
            hole, edge = (shaken(o, chance) if noisy else o for o in loops)
            made.append(Lying(f"p{k}", (("hole a", hole),), edge, ((x + 22.35, y),)))
        return made

    def told(found):
        return [
            (
                cut.loop.label,
                [
                    tuple(round(v, 6) for v in (*p.chain[0].start, *p.chain[-1].end))
                    for p in cut.passes
                ],
            )
            for cut in found.cuts
        ]

    asked = Way(kerf=1.7, leads=True, joints=3, clockwise=True, cool=20)
    first = told(plan(sheet(noisy=False), process, asked))
    for _ in range(5):
        assert told(plan(sheet(noisy=True), process, asked)) == first
