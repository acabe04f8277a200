"""Marks of a file go to the piece they lie on."""

import pytest

from partgen.dxf.marked import read_marked
from partgen.dxf.write import Drawing, write
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Mark

FRAME, WINDOW = rectangle(200, 150, 6, (100, 75)), rectangle(120, 90, 6, (95, 70))
GUEST = rectangle(60, 40, 0, (90, 65))
CROSS = (Mark("drill", ((87, 60), (93, 60))), Mark("drill", ((90, 57), (90, 63))))
TEXT = Mark("scribe", ((10, 10), (14, 18), (18, 10)))
STRAY = Mark("scribe", ((45, 120), (60, 190)))  # runs off the frame


@pytest.mark.parametrize("version", ["R2000", "R12"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_marks_go_to_the_smallest_piece_round_them(version, unit):
    drawing = Drawing((FRAME, GUEST), (WINDOW,), (), ("job: a",), (*CROSS, TEXT, STRAY))
    data = write(drawing, unit=unit, version=version)
    pieces, comments = read_marked(data, where="f.dxf")
    assert "job: a" in comments
    frame, guest = sorted(pieces, key=lambda p: -p.outlines[-1].area)
    assert [len(frame.outlines), len(guest.outlines)] == [2, 1]
    assert [m.kind for m in guest.marks] == ["drill", "drill"]
    for found, want in zip(guest.marks, CROSS, strict=True):
        assert [v for p in found.path for v in p] == pytest.approx(
            [v for p in want.path for v in p]
        )
    (text,) = frame.marks
    assert [v for p in text.path for v in p] == pytest.approx([v for p in TEXT.path for v in p])


def test_a_file_of_another_program_has_none():
    data = write(Drawing((Outline.circle(0, 0, 30),), ()), unit="mm")
    ((piece,), _) = read_marked(data, where="f.dxf")
    assert piece.marks == ()
