"""Any job: every plate asked for is placed, soundly, or named with what to do; never a traceback."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import LayoutError, Piece, Sheet, lay_out, turns_every, verify

SIDE = st.floats(20, 420, allow_nan=False)


@st.composite
def outlines(draw):
    """A disc, a frame, a leaning triangle or an angle."""
    w, h, kind = draw(SIDE), draw(SIDE), draw(st.integers(0, 3))
    if kind == 0:
        return (Outline.circle(w, -h, w),)
    if kind == 1:
        return rectangle(w * 0.6, h * 0.6, 0, (w * 0.03, 0)), rectangle(w, h, min(w, h) / 9)
    if kind == 2:
        lean = draw(st.floats(-0.6, 1.5))
        return (belt(corners([(0, 0), (w, 0), (lean * w, h)])),)
    pins = [(0, 0), (w, 0), (w, 0.3 * h), (0.4 * w, 0.3 * h), (0.4 * w, h), (0, h)]
    return (belt([Pin(x, y, 0) for x, y in pins]),)


TURNS = st.sampled_from([(0.0,), (17.0, 200.0), (0.0, 90.0, 180.0, 270.0), turns_every(120)])


@st.composite
def jobs(draw):
    pieces = [
        Piece(
            f"p{k}",
            draw(outlines()),
            draw(st.integers(0, 3)),
            draw(TURNS),
            draw(st.integers(-1, 1)),
            draw(st.sampled_from(["", "", "", "set", "pair"])),
        )
        for k in range(draw(st.integers(1, 4)))
    ]
    sheets = []
    for k in range(draw(st.integers(1, 3))):
        length, width = draw(st.floats(150, 1500)), draw(st.floats(100, 700))
        edge = rectangle(length, width, 0, (length / 2, width / 2))
        if draw(st.booleans()):
            edge = belt(
                corners([(0, 0), (length, 0), (length, width), (0.3 * length, 0.9 * width)])
            )
        hole = (Outline.circle(0.7 * length, 0.4 * width, width / 5),)
        kept_out = hole if draw(st.booleans()) else ()
        sheets.append(Sheet(f"s{k}", edge, draw(st.integers(1, 3)), kept_out))
    return pieces, sheets, draw(st.floats(0.5, 25)), draw(st.floats(0, 30))


def laid_or_refused(pieces, sheets, gap, margin):
    """The layout, or the lines that say why there is none."""
    try:
        return lay_out(pieces, sheets, gap=gap, margin=margin, steps=3), []
    except LayoutError as error:
        return None, error.problems


@settings(max_examples=8)
@given(jobs())
def test_every_plate_is_placed_or_named(job):
    pieces, sheets, gap, margin = job
    asked = {(p.name, k) for p in pieces for k in range(1, p.count + 1)}
    layout, problems = laid_or_refused(*job)
    if layout is None:
        assert problems
        assert not any("\n" in line or "report" in line for line in problems)
        assert any(f"'{name}'" in line for name, _ in asked for line in problems)
    else:
        assert {(p.piece, p.copy) for p in layout.placements} == asked
        assert len(layout.placements) == len(asked)
        assert verify(layout, pieces, sheets, gap=gap, margin=margin) == []


def fewest(rectangles, sheet):
    """Fewest sheets for strips as wide as the sheet, by trying every way to share them out."""
    count, lengths = len(rectangles), range(1, len(rectangles) + 1)
    for n in lengths:
        for where in itertools.product(range(n), repeat=count):
            loads = [
                [r for r, w in zip(rectangles, where, strict=True) if w == k] for k in range(n)
            ]
            if all(sum(load) + 5 * (len(load) - 1) <= sheet + 1e-9 for load in loads if load):
                return n
    raise AssertionError


@pytest.mark.parametrize(
    "strips", [(300, 200, 150, 130), (420, 310, 170, 60), (250, 240, 230, 220, 60), (410, 380, 90)]
)
def test_the_fewest_sheets_there_can_be(strips, plain_sheet):
    """Strips across the whole sheet: sharing them out is all there is to it."""
    pieces = [Piece(f"s{k}", (rectangle(x, 200),), turns=(0,)) for k, x in enumerate(strips)]
    sheets = [plain_sheet(500 + 16, 200 + 16, 9)]
    layout = lay_out(pieces, sheets, gap=5, margin=8, steps=300)
    assert len(layout.used) == fewest(strips, 500)
