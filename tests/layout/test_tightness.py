"""Used length against layouts whose best length is known by arithmetic."""

import pytest

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Piece, lay_out, verify

CELL = 1 / 250  # of the sheet's width: what the grid may lose a plate


def test_a_grid_of_rectangles_takes_its_columns(plain_sheet, rectangle_piece):
    """12 plates 180 x 90, gap 10: 5 across 500 - 2 x 5 as 90, so 3 columns of 180."""
    pieces, sheets = [rectangle_piece("a", 180, 90, 12, turns=(0,))], [plain_sheet(2000, 500)]
    layout = lay_out(pieces, sheets, gap=9, margin=5)
    best = 5 + 3 * 180 + 2 * 9
    assert best - 1e-6 <= layout.used_length <= best + 2 * 500 * CELL + 1e-6
    assert layout.used[0].leftover == pytest.approx(2000 - layout.used_length)


def test_turning_is_used_where_it_helps(plain_sheet, rectangle_piece):
    pieces, sheets = [rectangle_piece("a", 480, 90, 4)], [plain_sheet(2000, 500)]
    layout = lay_out(pieces, sheets, gap=10, margin=10)
    assert {p.turn for p in layout.placements} == {90.0}
    best = 10 + 4 * 90 + 3 * 10
    assert best - 1e-6 <= layout.used_length <= best + 3 * 500 * CELL


def test_an_upright_sheet_is_filled_along_y(plain_sheet, rectangle_piece):
    pieces, sheets = [rectangle_piece("a", 100, 100, 4)], [plain_sheet(500, 2000)]
    layout = lay_out(pieces, sheets, gap=10, margin=10)
    assert layout.used[0].along == "y"
    assert layout.used_length == pytest.approx(110)
    tops = [p.y - 11 + 50 for p in layout.placements]
    assert max(tops) == pytest.approx(110)


def test_small_plates_go_into_windows(plain_sheet, independent_faults):
    frame = Piece("frame", (rectangle(300, 260, 20), rectangle(400, 380, 10)), 2)
    ring = Piece("ring", (Outline.circle(0, 0, 120), Outline.circle(0, 0, 200)), 1)
    dot = Piece("dot", (Outline.circle(0, 0, 90),), 3)
    pieces, sheets = [dot, ring, frame], [plain_sheet(2000, 400)]
    layout = lay_out(pieces, sheets, gap=8, margin=8)
    assert layout.used_length == pytest.approx(8 + 400 + 8 + 400, abs=2)
    assert verify(layout, pieces, sheets, gap=8, margin=8) == []
    assert independent_faults(layout, pieces, sheets, 8, 8) == []


def test_a_window_is_taken_before_free_sheet(plain_sheet):
    """Beside the frame there is room at a lower x; the window leaves that room to others."""
    frame = Piece("frame", (rectangle(300, 260, 20), rectangle(400, 380, 10)))
    dot = Piece("dot", (Outline.circle(0, 0, 90),))
    layout = lay_out([dot, frame], [plain_sheet(2000, 900)], gap=8, margin=8, steps=0)
    at = {p.piece: p for p in layout.placements}
    assert abs(at["dot"].x - at["frame"].x) < 150 - 45
    assert abs(at["dot"].y - at["frame"].y) < 150 - 45


def test_a_plate_goes_into_a_window_within_a_window(plain_sheet):
    frame = Piece("frame", (rectangle(300, 260, 20), rectangle(384, 380, 10)))
    ring = Piece("ring", (Outline.circle(0, 0, 120), Outline.circle(0, 0, 240)))
    dot = Piece("dot", (Outline.circle(0, 0, 90),))
    sheets = [plain_sheet(384 + 16, 380 + 16)]
    layout = lay_out([dot, ring, frame], sheets, gap=8, margin=8)
    assert verify(layout, [dot, ring, frame], sheets, gap=8, margin=8) == []


def test_a_notch_takes_the_tongue_of_its_neighbour(plain_sheet):
    """Two L plates of 200 x 200, arms 60, nest with one turned by 180 degrees: 200 + gap + 60."""
    ell = ((0, 0), (200, 0), (200, 60), (60, 60), (60, 200), (0, 200))
    pieces, sheets = [Piece("ell", (belt(corners(ell)),), 2)], [plain_sheet(900, 280)]
    layout = lay_out(pieces, sheets, gap=6, margin=5)
    assert layout.used_length <= 5 + 200 + 6 + 60 + 3 * 280 * CELL
