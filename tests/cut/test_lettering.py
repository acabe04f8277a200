"""Scribed text: readable on both hands, in the metal, off every cut. Distances by GEOS."""

from dataclasses import replace
from string import ascii_uppercase, digits

import pytest
import shapely
from helpers import plate
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.cut.lettering import KEEP, lettered, plate_text
from partgen.cut.loop import lying, placed
from partgen.cut.ready import ready
from partgen.cut.strokes import strokes, text_size
from partgen.entries.cutting import cutting
from partgen.geometry.belt import rectangle
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.plates.plate import Mark

PROCESS = cutting("plasma-65a")
WIDE = plate(
    [(0, 0), (190, 10), (180, 90), (30, 90)],
    holes=[("joint", 150, 60, "M16")],
    windows=[("w", rectangle(50, 30, 6, (80, 55)))],
)


def lines(plate_):
    return [shapely.LineString(m.path) for m in plate_.marks if m.kind == "scribe"]


def cuts(plate_):
    return [shapely.Polygon(o.polygon("outside", 1e-4)).exterior for o in plate_.outlines]


def is_off_every_cut(done):
    metal = done.polygon("inside", 1e-4)
    text = shapely.union_all(lines(done))
    return metal.contains(text) and min(c.distance(text) for c in cuts(done)) >= KEEP - 1e-6


@settings(max_examples=60)
@given(st.floats(60, 300), st.floats(25, 120), st.floats(0, 40), st.booleans())
def test_text_is_in_the_metal_and_off_every_cut_or_left_out(width, height, slant, mirror):
    made = plate([(0, 0), (width, 0), (width - slant, height), (slant / 3, height)],
                 holes=[("joint", width / 2, height / 2, "M8")])  # fmt: skip
    made = made.mirrored() if mirror else made
    done, note = lettered(made, PROCESS)
    assert bool(note) != bool(lines(done))
    if note:
        assert done is made
    else:
        assert is_off_every_cut(done)


def first_letter(done):
    """The corner of the L that LOWER begins with: down, then right."""
    return next(m.path for m in done.marks if m.kind == "scribe" and len(m.path) == 3)


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_text_is_never_mirrored(turn):
    """A letter L runs down and then to its right: always a left turn, whatever the hand."""
    left = replace(WIDE, hand="left", part="l", name="l")
    for hand in (left, left.mirrored()):
        done, note = lettered(hand, PROCESS)
        assert not note
        on_sheet = placed(lying(done), 300, 200, turn)
        (ax, ay), (bx, by), (cx, cy) = first_letter(on_sheet)
        assert (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0


def test_the_words():
    left = replace(WIDE, hand="left", revision="B-3f9c21")
    assert plate_text(left) == ["TEST/PLATE REV B-3F9C21", "LEFT", "THIS FACE UP"]
    right = replace(left, revision="").mirrored()
    assert plate_text(right)[:2] == ["TEST/PLATE", "RIGHT"]
    bent = replace(WIDE, marks=(Mark("bend", ((10, 40), (160, 40))),))
    assert plate_text(bent) == ["TEST/PLATE", "BOTH SIDES SAME", "THIS FACE UP", "BEND AT LINES"]


def test_text_keeps_off_other_marks():
    marks = (Mark("bend", ((0, 45), (200, 45))), Mark("drill", ((97, 25), (103, 25))))
    done, note = lettered(replace(WIDE, windows=(), marks=marks), PROCESS)
    assert not note
    text = shapely.union_all(lines(done))
    for mark in marks:
        assert text.distance(shapely.LineString(mark.path)) > 2.9


def test_letters_shrink_to_the_least_height_and_no_further():
    small = plate([(0, 0), (62, 0), (62, 31), (0, 31)])
    done, note = lettered(small, PROCESS)
    assert not note
    tall = max(shapely.bounds(line)[3] - shapely.bounds(line)[1] for line in lines(done))
    wide = max(shapely.bounds(line)[2] - shapely.bounds(line)[0] for line in lines(done))
    assert PROCESS.least_text_height - 1e-9 <= max(tall, wide) < PROCESS.text_height
    _, note = lettered(plate([(0, 0), (30, 0), (30, 20), (0, 20)]), PROCESS)
    assert note.startswith("no room for text 4 mm high")


def test_every_letter_is_its_own():
    glyphs = {sign: tuple(strokes([sign], 6)) for sign in ascii_uppercase + digits + "-/.+#="}
    assert len(set(glyphs.values())) == len(glyphs)
    for sign, glyph in glyphs.items():
        for x, y in (p for stroke in glyph for p in stroke):
            assert 0 <= x <= 4, sign
            assert 0 <= y <= 6, sign
    assert strokes(["\u00e4"], 6) == [((0, 0), (4, 0), (4, 6), (0, 6), (0, 0))]
    assert strokes([" "], 6) == []


def test_text_size_is_that_of_the_strokes():
    text = ["WEB/GUSSET", "H"]
    points = [p for stroke in strokes(text, 7.5) for p in stroke]
    width, tall = text_size(text, 7.5)
    assert (max(x for x, _ in points), max(y for _, y in points)) == pytest.approx((width, tall))


def test_the_demos_plates_are_lettered(request):
    job = load_job(request.config.rootpath / "demo_parts" / "hill-trial-buggy.toml")
    table = ready(build(job), text=True)
    done = [p for p in table.build.plates if lines(p)]
    assert {p.part for p in done} >= {"lower-front-mount", "rail-spacer", "web"}
    assert all(is_off_every_cut(p) for p in done)
    silent = {p.label for p in table.build.plates} - {p.label for p in done}
    assert all(any(n.startswith(f"{label}: no room") for n in table.notes) for label in silent)
