"""Text drawings: made from the outline, so they follow it."""

from dataclasses import replace

from helpers import plate

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Mark
from partgen.printing.sketch import sketch, title

BOX = [(0, 0), (100, 0), (100, 50), (0, 50)]


def ink(piece):
    return sum(c != " " for c in "".join(sketch(piece)))


def test_a_rectangle_is_a_frame_of_its_proportions():
    lines = sketch(plate(BOX), 41, 30)
    assert len(lines[0]) == 41
    assert len(lines) == 11
    assert set(lines[0]) <= set("-|/\\")
    assert all(line[0] in "|/\\-" and line[-1] in "|/\\-" for line in lines)
    assert lines[5][1:-1].strip() == ""


def test_openings_and_marks_are_drawn():
    bare = plate(BOX)
    cut = plate(BOX, windows=[("w", rectangle(30, 20, 4, (70, 25)))])
    bent = replace(cut, marks=(Mark("bend", ((30, 3), (30, 47))),))
    assert ink(cut) > ink(bare)
    assert {line.find(":") for line in sketch(bent, 41, 30)[1:-1]} == {12}
    assert title(bent) == "plate: 100 x 50 mm, 1 opening, 1 mark"


def test_a_slope_leans_its_way():
    lines = sketch(plate([(0, 0), (60, 0), (30, 60)]))
    middle = lines[len(lines) // 2].strip()
    assert (middle[0], middle[-1]) == ("/", "\\")


def test_a_disc_is_round():
    lines = sketch(replace(plate(BOX), outline=Outline.circle(0, 0, 80)), 40, 40)
    assert len(lines[0]) < len(lines[len(lines) // 2])
    assert lines[0].strip().strip("-/\\|") == ""
