"""Which sheets are used, and what is said when they will not do."""

import pytest

from partgen.errors import PartgenError
from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.layout import LayoutError, Piece, Sheet, lay_out, verify
from partgen.layout.checks import LEAST_GAP


def test_a_second_sheet_is_opened_when_the_first_is_full(plain_sheet, rectangle_piece):
    pieces, sheets = [rectangle_piece("a", 200, 200, 9)], [plain_sheet(640, 430, 3)]
    layout = lay_out(pieces, sheets, gap=5, margin=10)
    assert [(u.sheet, u.number) for u in layout.used] == [("sheet", 1), ("sheet", 2)]
    assert verify(layout, pieces, sheets, gap=5, margin=10) == []


def test_the_last_sheet_is_the_smallest_that_will_do(plain_sheet, rectangle_piece):
    pieces = [rectangle_piece("a", 200, 200, 8)]
    sheets = [
        plain_sheet(230, 225, name="bit"),
        plain_sheet(460, 240, 1, "offcut"),
        plain_sheet(640, 430, 3),
    ]
    layout = lay_out(pieces, sheets, gap=5, margin=10)
    assert [(u.sheet, u.number) for u in layout.used] == [("sheet", 1), ("offcut", 1)]
    assert verify(layout, pieces, sheets, gap=5, margin=10) == []


def test_a_plate_as_large_as_the_usable_area_fits(plain_sheet, rectangle_piece):
    sheets = [plain_sheet(620, 420)]
    pieces = [rectangle_piece("door", 400, 600)]
    layout = lay_out(pieces, sheets, gap=5, margin=10)
    assert verify(layout, pieces, sheets, gap=5, margin=10) == []


@pytest.mark.parametrize(("width", "height"), [(400.01, 600), (400, 600.01)])
def test_a_plate_a_hundredth_larger_is_refused_by_name(width, height, plain_sheet, rectangle_piece):
    pieces = [rectangle_piece("hatch", 50, 50), rectangle_piece("door", width, height)]
    with pytest.raises(LayoutError) as caught:
        lay_out(pieces, [plain_sheet(100, 90, name="bit"), plain_sheet(620, 420)], gap=5, margin=10)
    (line,) = caught.value.problems
    for word in ("'door'", f"{width:g} x {height:g} mm", "'sheet'", "600 x 400 mm", "10 mm"):
        assert word in line
    assert isinstance(caught.value, PartgenError)


def test_a_plate_that_fits_the_box_but_not_the_offcut_is_refused_by_name(rectangle_piece):
    ell = Sheet(
        "ell", belt(corners([(0, 0), (900, 0), (900, 200), (200, 200), (200, 600), (0, 600)]))
    )
    with pytest.raises(LayoutError, match="'square' is 300 x 300 mm and fits no sheet"):
        lay_out([rectangle_piece("square", 300, 300)], [ell], gap=5, margin=5)


def test_the_least_gap_is_kept_and_less_is_refused(plain_sheet):
    """Triangles that fit corner to edge: at less they would touch, and no check could tell it."""
    triangle = Outline.of([Vertex(0, 0), Vertex(120, 0), Vertex(0, 90)])
    pieces, sheets = (
        [Piece("gusset", (triangle,), 12, turns=(0, 90, 180, 270))],
        [plain_sheet(900, 300)],
    )
    layout = lay_out(pieces, sheets, gap=LEAST_GAP, margin=0)
    assert verify(layout, pieces, sheets, gap=0.01, margin=0) == []
    with pytest.raises(LayoutError, match=r"gap 0.0099 mm between plates: at least 0.01 mm"):
        lay_out(pieces, sheets, gap=0.0099, margin=0)


def test_an_offcut_takes_a_plate_that_just_fits(rectangle_piece):
    """0.3 mm to spare under a slope of 0.12, less than the first grid can see."""
    slope = Sheet("slope", belt(corners([(0, 0), (1000, 0), (1000, 300), (0, 420)])))
    pieces = [rectangle_piece("bar", 980, 285.08, turns=(0,))]
    layout = lay_out(pieces, [slope], gap=5, margin=8)
    assert verify(layout, pieces, [slope], gap=5, margin=8) == []


def test_plates_left_over_are_counted_by_name(plain_sheet, rectangle_piece):
    pieces = [rectangle_piece("a", 200, 200, 9), rectangle_piece("b", 190, 190, 2)]
    with pytest.raises(LayoutError) as caught:
        lay_out(pieces, [plain_sheet(640, 430)], gap=5, margin=10)
    (line,) = caught.value.problems
    assert "1 x 'sheet'" in line
    assert "5 plates are left: 3 x 'a', 2 x 'b'" in line
    assert "add sheets" in line


@pytest.mark.parametrize(
    ("gap", "margin", "words"),
    [
        (0, 5, "gap 0 mm"),
        (-2, 5, "gap -2 mm"),
        (float("nan"), 5, "gap nan"),
        (5, -1, "margin -1 mm"),
        (5, float("inf"), "margin inf"),
    ],
)
def test_distances_that_make_no_sense(gap, margin, words, plain_sheet, rectangle_piece):
    with pytest.raises(LayoutError, match=words):
        lay_out([rectangle_piece("a", 20, 30)], [plain_sheet(500, 300)], gap=gap, margin=margin)


@pytest.mark.parametrize(
    ("kw", "words"),
    [
        ({"steps": -1}, "-1 steps"),
        ({"seconds": -2.0}, "-2 s to search"),
        ({"seconds": float("inf")}, "inf s to search"),
        ({"seconds": float("nan")}, "nan s to search"),
    ],
)
def test_a_search_that_makes_no_sense(kw, words, plain_sheet, rectangle_piece):
    with pytest.raises(LayoutError, match=words):
        lay_out([rectangle_piece("a", 20, 30)], [plain_sheet(500, 300)], gap=5, margin=5, **kw)


def test_ten_thousand_plates_are_all_placed(plain_sheet, rectangle_piece):
    pieces = [rectangle_piece("a", 90, 60, 6000), rectangle_piece("b", 40, 30, 4000)]
    sheets = [plain_sheet(2500, 1250, 60)]
    layout = lay_out(pieces, sheets, gap=5, margin=10)
    assert len(layout.placements) == 10_000
    assert verify(layout, pieces, sheets, gap=5, margin=10) == []


def test_a_margin_larger_than_the_sheet(plain_sheet, rectangle_piece):
    with pytest.raises(LayoutError, match="0 x 0 mm inside its margin of 300 mm"):
        lay_out([rectangle_piece("a", 20, 30)], [plain_sheet(500, 300)], gap=5, margin=300)


def test_names_given_twice(plain_sheet, rectangle_piece):
    with pytest.raises(LayoutError) as caught:
        lay_out([rectangle_piece("a", 20, 30)] * 2, [plain_sheet(500, 300)] * 3, gap=5, margin=5)
    assert "plate 'a' is given 2 times" in str(caught.value)
    assert "sheet 'sheet' is given 3 times" in str(caught.value)


def test_no_sheet_and_no_plate(plain_sheet, rectangle_piece):
    with pytest.raises(LayoutError, match="no sheet"):
        lay_out([rectangle_piece("a", 20, 30)], [plain_sheet(500, 300, 0)], gap=5, margin=5)
    assert lay_out([], [plain_sheet(500, 300)], gap=5, margin=5).placements == ()
    assert lay_out([rectangle_piece("a", 20, 30, 0)], [], gap=5, margin=5).used == ()


def test_pieces_that_are_nothing(rectangle_piece):
    with pytest.raises(LayoutError, match="no outline"):
        Piece("a", ())
    with pytest.raises(LayoutError, match="count -1"):
        rectangle_piece("a", 3, 4, -1)
    with pytest.raises(LayoutError, match="no allowed turn"):
        rectangle_piece("a", 3, 4, turns=())
    with pytest.raises(LayoutError, match="count -3"):
        Sheet("s", rectangle(3, 4), -3)


def test_a_sheet_that_crosses_itself():
    bow = Outline(tuple(Vertex(x, y) for x, y in [(0, 0), (400, 300), (400, 0), (0, 310)]))
    with pytest.raises(PartgenError):
        Sheet("bow", bow)
