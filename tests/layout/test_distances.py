"""Gap and margin, twice: by verify() on exact outlines, and by shapely on fine polygons."""

import pytest

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Piece, Sheet, lay_out, verify

SHEETS = {
    "whole": Sheet("whole", rectangle(1500, 700, 0, (750, 350)), 2),
    "upright": Sheet("upright", rectangle(640, 1500, 0, (320, 750)), 2),
    "off the origin": Sheet("off", rectangle(1501, 703, 0, (761.3, 349.1)), 2),
    "upright off the origin": Sheet("up", rectangle(640, 1500, 0, (327.7, 761.9)), 2),
    "step": Sheet(
        "step", belt(corners([(0, 0), (1400, 0), (1400, 500), (610, 490), (600, 900), (3, 905)]))
    ),
    "round end, upright": Sheet("round", belt([Pin(0, 0), Pin(700, 0), Pin(300, 1500, 260)])),
    "keep-outs": Sheet(
        "old",
        rectangle(1600, 900, 0, (800, 450)),
        1,
        (Outline.circle(333, 297, 171), rectangle(200, 90, 20, (900, 611))),
    ),
}


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("kind", SHEETS)
def test_random_plates_keep_their_distances(kind, seed, some_pieces, independent_faults):
    gap, margin = [(6.0, 10.0), (2.5, 0.7), (13.0, 4.0)][seed]
    pieces, sheets = some_pieces(14, seed + 10), [SHEETS[kind]]
    layout = lay_out(pieces, sheets, gap=gap, margin=margin, steps=[0, 15, 30][seed])
    assert len(layout.placements) == 14
    assert verify(layout, pieces, sheets, gap=gap, margin=margin) == []
    assert independent_faults(layout, pieces, sheets, gap, margin) == []


@pytest.mark.parametrize("turns", [(0.0,), (90.0,), (17.0, 131.0), (-45.0, 400.0)])
def test_only_allowed_turns_are_taken(turns, some_pieces, independent_faults):
    pieces = some_pieces(9, 5, turns=turns)
    for kind in ("whole", "upright", "step"):
        sheets = [SHEETS[kind]]
        layout = lay_out(pieces, sheets, gap=4, margin=5)
        assert {p.turn for p in layout.placements} <= {t % 360 for t in turns}
        assert verify(layout, pieces, sheets, gap=4, margin=5) == []
        assert independent_faults(layout, pieces, sheets, 4, 5) == []


def test_touching_the_sheet_is_allowed_with_a_margin_of_zero(plain_sheet, rectangle_piece):
    pieces, sheets = [rectangle_piece("a", 300, 200)], [plain_sheet(300, 200)]
    layout = lay_out(pieces, sheets, gap=5, margin=0)
    assert verify(layout, pieces, sheets, gap=5, margin=0) == []
    assert layout.used[0].leftover == pytest.approx(0, abs=1e-6)


def test_plates_go_round_a_keep_out_that_splits_the_sheet(plain_sheet, rectangle_piece):
    bar = rectangle(30, 260, 0, (200, 150))
    pieces, sheets = (
        [rectangle_piece("a", 120, 250, 2, turns=(0,))],
        [plain_sheet(500, 300, openings=(bar,))],
    )
    layout = lay_out(pieces, sheets, gap=5, margin=10)
    first, second = sorted(p.x for p in layout.placements)
    assert first - 60 + 37 < 185 - 10
    assert second - 60 + 37 >= 215 + 10 - 1e-6
    assert verify(layout, pieces, sheets, gap=5, margin=10) == []


def test_a_plate_may_lie_round_a_keep_out(plain_sheet):
    frame = Piece("frame", (rectangle(300, 160, 30), rectangle(380, 240, 15)))
    sheets = [plain_sheet(400, 260, openings=(Outline.circle(195, 128, 60),))]
    layout = lay_out([frame], sheets, gap=5, margin=8)
    assert verify(layout, [frame], sheets, gap=5, margin=8) == []
