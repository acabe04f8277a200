"""Plates fixed at a place: they lie just there, and the others keep their distance from them."""

import pytest

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Layout, LayoutError, Piece, Placement, Sheet, lay_out, verify

GAP, MARGIN = 6.0, 10.0
FRAME = Piece("frame", (rectangle(170, 100, 8, (9, 0)), rectangle(240, 150, 5)), 3, turns=(0, 90))
DISC = Piece("disc", (Outline.circle(0, 0, 62),), 14)
WEDGE = Piece("wedge", (belt(corners([(0, 0), (230, 0), (150, 70), (0, 90)])),), 5)
PIECES = [FRAME, DISC, WEDGE]


def at(piece, copy, sheet, x, y, turn=0.0, number=1):
    return Placement(piece, copy, sheet, number, x, y, turn)


def laid(sheets, fixed, **kw):
    return lay_out(PIECES, sheets, gap=GAP, margin=MARGIN, fixed=fixed, **kw)


@pytest.mark.parametrize("kw", [{"steps": 0}, {"steps": 400}, {"seconds": 0.5}])
def test_others_go_round_what_is_fixed_and_into_its_windows(
    kw, plain_sheet, independent_faults, metal_of
):
    sheets = [plain_sheet(1500, 520)]
    fixed = [at("frame", 1, "sheet", 310, 222.2, 33.0), at("wedge", 1, "sheet", 900.5, 300, 211)]
    layout = laid(sheets, fixed, **kw)
    assert set(fixed) <= set(layout.placements)
    assert verify(layout, PIECES, sheets, gap=GAP, margin=MARGIN, fixed=fixed) == []
    assert independent_faults(layout, PIECES, sheets, GAP, MARGIN) == []
    frame = metal_of(Piece("hull", (FRAME.edge,)), 310, 222.2, 33.0)
    discs = [metal_of(DISC, p.x, p.y) for p in layout.placements if p.piece == "disc"]
    assert any(frame.contains(disc) for disc in discs)
    assert layout.used[0].length >= 900.5  # what is fixed counts


def test_a_sheet_that_is_begun_is_used_first_and_is_counted_once(plain_sheet):
    """Upright, the second of three, smaller than the other kind, and with room for most."""
    tall = Sheet("tall", rectangle(500, 900, 0, (250, 450)), 3)
    sheets = [plain_sheet(2000, 700, name="large"), tall]
    fixed = [at("frame", 1, "tall", 250, 600, number=2)]
    layout = laid(sheets, fixed)
    assert verify(layout, PIECES, sheets, gap=GAP, margin=MARGIN, fixed=fixed) == []
    assert (layout.used[0].sheet, layout.used[0].number) == ("tall", 2)
    assert sum(p.sheet == "tall" for p in layout.placements) > 1
    assert layout.used[0].length >= 600 + 75


def test_a_begun_sheet_is_told_even_if_nothing_else_fits_on_it(plain_sheet):
    sheets = [plain_sheet(262, 172, name="small"), plain_sheet(2000, 700, name="large")]
    fixed = [at("frame", 1, "small", 131, 86)]
    layout = lay_out([FRAME], sheets, gap=GAP, margin=MARGIN, fixed=fixed)
    assert [u.sheet for u in layout.used] == ["small", "large"]
    assert layout.used[0].length == pytest.approx(131 + 120)
    filled = FRAME.area / (251 * 172)
    assert layout.used[0].filled == pytest.approx(filled)


def test_what_belongs_together_goes_to_the_sheet_of_the_one_that_is_fixed(plain_sheet):
    """Alone, the pair would lie on the first sheet."""
    pair = Piece("pair", (rectangle(200, 90),), 3, together="set")
    sheets = [plain_sheet(900, 400, 3)]
    fixed = [at("pair", 1, "sheet", 600, 300, number=3)]
    layout = lay_out([pair, WEDGE], sheets, gap=GAP, margin=MARGIN, fixed=fixed)
    assert {p.number for p in layout.placements if p.piece == "pair"} == {3}


@pytest.mark.parametrize(
    ("fixed", "words"),
    [
        ([at("frame", 1, "sheet", 125, 300)], "mm to the sheet's edge, 10 asked"),
        ([at("frame", 1, "sheet", -800, 300)], "off the sheet"),
        (
            [at("frame", 1, "sheet", 400, 300), at("disc", 1, "sheet", 400, 193)],
            "1.000000 mm between cuts, 6 asked",
        ),
        (
            [at("wedge", 1, "sheet", 300, 300), at("disc", 1, "sheet", 365, 343)],
            "overlap",
        ),
        ([at("frame", 1, "sheet", 400, 300, number=2)], "which there is not"),
        ([at("frame", 1, "shelf", 400, 300)], "which there is not"),
        ([at("flame", 1, "sheet", 400, 300)], "'flame' 1 is unknown"),
        (
            [at("frame", k, "sheet", 400, 300 * k) for k in (1, 2, 3, 4)],
            "fixed 4 times, and 3 are made",
        ),
        ([at("frame", 1, "sheet", float("nan"), 300)], "not finite"),
    ],
)
def test_plates_fixed_where_they_cannot_lie(fixed, words, plain_sheet):
    with pytest.raises(LayoutError) as caught:
        laid([plain_sheet(1500, 1600)], fixed)
    assert any(words in line for line in caught.value.problems)
    assert all(line.startswith("fixed: ") for line in caught.value.problems)


def test_the_check_misses_nothing_that_is_fixed(plain_sheet):
    sheets, fixed = [plain_sheet(1500, 600)], [at("frame", 1, "sheet", 310, 300)]
    layout = laid(sheets, fixed)
    off = [p for p in layout.placements if p != fixed[0]]
    moved = Layout((*off, at("frame", 1, "sheet", 310, 300.5)), layout.used)
    faults = verify(moved, PIECES, sheets, gap=GAP, margin=MARGIN, fixed=fixed)
    assert any("is fixed on sheet 'sheet' 1, and not there" in f for f in faults)
