"""Masks and no-fit maps against shapely, position by position."""

import random

import numpy as np
import pytest
import shapely
import shapely.affinity

from partgen.layout import Piece
from partgen.layout.columns import columns
from partgen.layout.mask import Grid, bars, lowest_free, no_fit
from partgen.layout.piece import rings_of
from partgen.layout.shape import grown, shapes


def a_polygon(seed):
    """A jagged ring with a jagged hole, some edges upright or level."""
    chance = np.random.default_rng(seed)
    angle = np.sort(chance.uniform(0, 2 * np.pi, 12))
    r = chance.uniform(30, 60, 12)
    outer = np.c_[r * np.cos(angle), r * np.sin(angle)].round(-1 if seed % 2 else 2)
    ring = shapely.Polygon(outer).buffer(0)
    return ring.difference(shapely.Polygon(outer * 0.4).buffer(0))


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("width", [5.0, 3.7, 31.0])
def test_columns_are_the_shadows_of_the_strips(seed, width):
    shape = a_polygon(seed)
    x0, y0, x1, y1 = shape.bounds
    made = columns(rings_of(shape), x0 - 0.3, width)
    for k in range(-1, int((x1 - x0) / width) + 3):
        left = x0 - 0.3 + k * width
        strip = shape.intersection(shapely.box(left, y0 - 1, left + width, y1 + 1))
        parts = [p for p in shapely.get_parts(strip) if p.area > 1e-9]
        shadow = shapely.union_all([shapely.box(0, p.bounds[1], 1, p.bounds[3]) for p in parts])
        mine = made.column == k
        got = shapely.union_all(
            [shapely.box(0, a, 1, b) for a, b in zip(made.low[mine], made.high[mine], strict=True)]
        )
        assert got.symmetric_difference(shadow).area < 1e-6, (seed, k)


def displacements(nofit, grid, span):
    """(column, row) in ``span`` that a map forbids."""
    far = 40
    bits = nofit.at(far * grid.rows + grid.rows // 2)
    middle = grid.rows // 2
    return {
        (dx, dy)
        for dx in range(-span, span + 1)
        for dy in range(-span, span + 1)
        if bits >> ((far + dx) * grid.rows + middle + dy) & 1
    }


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("fine", [1, 2, 3])
def test_a_map_forbids_what_is_too_near_and_little_more(seed, fine, some_pieces, metal_of):
    gap, cell = 7.0, 12.0
    a, b = some_pieces(2, seed + 40)
    grid = Grid(cell, 200, fine)
    p, q = shapes(a, [random.Random(seed).choice([0, 90, 33])], gap)[0], shapes(b, [270.0], gap)[0]
    forbidden = displacements(no_fit(p.clear(grid), q.clear(grid), grid), grid, 30)
    fixed = metal_of(a, p.x, p.y, p.turn)
    other = metal_of(b, q.x, q.y, q.turn)
    every = [(dx, dy) for dx in range(-30, 31) for dy in range(-30, 31)]
    moved = [shapely.affinity.translate(other, dx * cell, dy * cell) for dx, dy in every]
    shapely.prepare(fixed)
    near = shapely.dwithin(fixed, moved, gap - 0.002)
    far = ~shapely.dwithin(fixed, moved, gap * 2**0.5 + 2 * cell / fine)
    assert {at for at, hit in zip(every, near, strict=True) if hit} <= forbidden
    assert not {at for at, hit in zip(every, far, strict=True) if hit} & forbidden


def test_growing_is_never_short():
    for seed in range(20):
        shape = a_polygon(seed)
        assert grown(shape, 3.0).boundary.distance(shape) >= 3.0 - 1e-9


def test_masks_cover_the_exact_metal_and_half_the_gap(some_pieces, metal_of):
    for piece in some_pieces(8, 77):
        body = shapes(piece, [0.0], 8.0)[0].body
        edge, *holes = body.clear
        mask = shapely.Polygon(edge, holes)
        assert mask.contains(metal_of(piece).buffer(4.0 - 0.002, quad_segs=200))
        edge, *holes = body.bare
        assert shapely.Polygon(edge, holes).buffer(0.002).contains(metal_of(piece))


def test_bars_and_the_lowest_free_bit():
    assert bars(1, 2, 4, 3) == 0b0110_0110_0110
    assert bars(2, 1, 4, 3) == bars(0, 3, 4, 0) == 0
    assert lowest_free(0) == 0
    assert lowest_free(2**70 - 1) == 70


def test_turns_that_look_the_same_are_tried_once(rectangle_piece):
    assert [s.turn for s in shapes(rectangle_piece("a", 30, 20), [0, 90, 180, 270], 5)] == [0, 90]
    assert [s.turn for s in shapes(rectangle_piece("a", 30, 30), [0, 90, 180, 270], 5)] == [0]
    off = Piece(
        "off", (rectangle_piece("h", 5, 5).edge.moved(2, 0), rectangle_piece("e", 30, 20).edge)
    )
    assert [s.turn for s in shapes(off, [0, 90, 180, 270], 5)] == [0, 90, 180, 270]
