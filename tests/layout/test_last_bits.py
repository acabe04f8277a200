"""What machines and versions do differently, the last bits of a length, changes no layout."""

import random
from dataclasses import replace
from math import sin
from pathlib import Path

import numpy as np
import pytest

from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.layout import Piece, Sheet, lay_out
from partgen.layout.piece import turned_rings
from partgen.layout.steady import steady, steady_points, ticks
from partgen.tasks.making import make

DEMOS = Path(__file__).parents[2] / "demo_parts"
NOISE = 1e-12  # mm; some units in the last place of a plate's coordinates


def shaken(outline, chance):
    moved = (
        Vertex(v.x + chance.uniform(-NOISE, NOISE), v.y + chance.uniform(-NOISE, NOISE), v.bulge)
        for v in outline.vertices
    )
    return Outline(tuple(moved))


def shaken_pieces(pieces, seed):
    chance = random.Random(seed)
    return [replace(p, outlines=tuple(shaken(o, chance) for o in p.outlines)) for p in pieces]


def where(layout):
    return [(p.piece, p.copy, p.sheet, p.number, p.turn) for p in layout.placements]


def spots(layout):
    return [v for p in layout.placements for v in (p.x, p.y)]


def assert_same(pieces, sheets, **kw):
    first = lay_out(pieces, sheets, **kw)
    for seed in range(4):
        other = shaken_pieces(pieces, seed)
        assert other != pieces
        found = lay_out(other, sheets, **kw)
        assert where(found) == where(first)
        assert spots(found) == pytest.approx(spots(first), abs=1e-6)


@pytest.mark.parametrize("name", ["hill-trial-buggy", "camping-trailer"])
def test_a_demo_with_plates_of_both_hands(name):
    """Left and right plates are equal in size but for noise: ties at every step."""
    made = make(DEMOS / f"{name}.toml", {}, (), "R2000")
    nest = max(made.nests, key=lambda n: sum(p.count for p in n.pieces))
    process = made.build.shop.cutting
    gap, margin = process.part_gap, process.sheet_margin
    assert_same(nest.pieces, nest.sheets, gap=gap, margin=margin)


def test_turns_off_the_quarter_and_several_sheets():
    left = belt([Pin(0, 0, 8), Pin(150, 0, 8), Pin(40, 90, 25)])
    hole = Outline.circle(42.0, 61.3, 13.1)
    pieces = [
        Piece("left", (hole, left), 3, turns=(0.0, 37.0, 180.0, 217.0)),
        Piece("right", (hole.mirrored(), left.mirrored()), 3, turns=(0.0, 143.0, 180.0, 323.0)),
        Piece("pad", (rectangle(120.3, 60.1, 9),), 4),
    ]
    sheets = [Sheet("s", rectangle(420, 300, 0, (210, 150)), 3)]
    assert_same(pieces, sheets, gap=5, margin=7, steps=40)


def test_more_steps_reach_the_separation():
    edge = belt([Pin(0, 0), Pin(70, 0), Pin(0, 80, 12)])
    pieces = [Piece("a", (edge,), 5), Piece("b", (edge.mirrored(),), 5)]
    sheets = [Sheet("s", rectangle(700, 250, 0, (350, 125)))]
    assert_same(pieces, sheets, gap=4, margin=5, steps=600)


def test_noise_is_rounded_away_where_people_put_numbers():
    """Whole and half millimetres, thirds as typed, fractions of an inch down to 1/256."""
    chance = random.Random(8)
    typed = [k * 25.4 / 256 for k in range(1, 3000, 7)] + [k * 0.005 for k in range(1, 3000, 7)]
    for value in [*typed, 0.0, -0.0, -57.0, 33.333]:
        for _ in range(5):
            near = value + chance.uniform(-NOISE, NOISE)
            assert ticks(near) == ticks(value)
            assert steady(near) == steady(value)
            assert abs(steady(near) - value) < 1e-7


def test_points_are_rounded_as_numbers_are():
    values = np.array([[sin(k) * 10**e, -k / 7] for k in range(1, 30) for e in range(4)])
    assert steady_points(values).tolist() == [[steady(x), steady(y)] for x, y in values]


def test_turned_points_against_complex_numbers():
    ring = np.array([[3.0, 4.5], [110.0, -7.0], [60.2, 81.9]])
    z = (ring[:, 0] + 1j * ring[:, 1]) * np.exp(1j * np.radians(33.0)) + (20.0 - 7.5j)
    (found,) = turned_rings([ring], 33.0, 20.0, -7.5)
    assert found == pytest.approx(np.column_stack((z.real, z.imag)), abs=1.1e-7)
