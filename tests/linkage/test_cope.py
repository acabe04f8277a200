"""Cope: printed table of the closed form, a numerical intersection, the PDF read back."""

import io
import re
from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from partgen.errors import GeometryError
from partgen.linkage.cope import Cope
from partgen.template.cope_sheet import BELOW, HEAD, cope_pdf
from partgen.template.paper import EDGE as MARGIN

# Worked beforehand for R = 1.5, r = 1.0 (no published numbers were found); 0, 30, ... 180 deg.
TABLE = {
    90: [1.5000, 1.4142, 1.2247, 1.1180, 1.2247, 1.4142, 1.5000],
    60: [1.1547, 1.1330, 1.1255, 1.2910, 1.7029, 2.1330, 2.3094],
    45: [1.1213, 1.1340, 1.2321, 1.5811, 2.2321, 2.8660, 3.1213],
}
DEPTH = {90: 0.3820, 60: 1.1839, 45: 2.0000}


@pytest.mark.parametrize("angle", TABLE)
def test_worked_table(angle):
    cut = Cope(2.0, 3.0, angle)
    for k, s in enumerate(TABLE[angle]):
        assert cut.cut(radians(30 * k)) == pytest.approx(s, abs=6e-5)
        assert cut.cut(-radians(30 * k)) == pytest.approx(s, abs=6e-5)
    at_30 = [cut.cut(radians(t)) for t in range(0, 360, 30)]
    assert max(at_30) - min(at_30) == pytest.approx(DEPTH[angle], abs=1e-4)


def test_between_the_thirties():
    cut = Cope(2.0, 3.0, 90)
    assert [cut.cut(radians(t)) for t in (15, 45, 75)] == pytest.approx(
        [1.4775, 1.3229, 1.1476], abs=6e-5
    )


def test_equal_tubes_square_to_each_other_cut_as_deep_as_the_radius():
    assert Cope(60, 60, 90).depth == pytest.approx(30, abs=1e-3)


def met(cut, radius, phi):
    """Distance along a line on the branch's surface where it meets the main tube, by bisection in 3D.

    Main tube along x. Branch along b, its frame: away from the acute side, then right of that.
    """
    theta = radians(cut.angle)
    b = np.array([cos(theta), 0, sin(theta)])
    obtuse = np.array([-sin(theta), 0, cos(theta)])
    right = np.cross(obtuse, b)
    start = right * cut.offset + radius * (obtuse * cos(phi) + right * sin(phi))

    def outside(s):
        p = start + s * b
        return p[1] ** 2 + p[2] ** 2 > (cut.onto / 2) ** 2

    high = 10 * cut.onto
    low = -start @ [0, 0, 1] / sin(theta)  # over the main axis, inside the tube
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if outside(middle) else (middle, high)
    return low


@given(st.floats(20, 160), st.floats(20, 60), st.floats(-0.95, 0.95), st.floats(0, 2 * pi))
def test_cut_is_the_intersection_of_the_two_surfaces(angle, tube, share, phi):
    onto = 76.2
    cut = Cope(tube, onto, angle, share * (onto - tube) / 2)
    assert cut.cut(phi) == pytest.approx(met(cut, tube / 2, phi), abs=1e-6)


@given(st.floats(30, 150), st.floats(1, 9), st.floats(0, 2 * pi))
def test_with_a_wall_nothing_of_it_enters_the_other_tube(angle, wall, phi):
    """Every radius in the wall, sampled: the cut lies at or beyond where that radius meets."""
    cut = Cope(48.3, 60.3, angle, 3.0, wall)
    radii = np.linspace(48.3 / 2 - wall, 48.3 / 2, 15)
    first = max(met(cut, r, phi) for r in radii)
    assert cut.cut(phi) >= first - 1e-6
    assert cut.cut(phi) == pytest.approx(
        first, abs=0.15
    )  # sampled: the touching radius between two


def test_gap_outside_is_none_without_a_wall_and_grows_with_it():
    assert Cope(48.3, 60.3, 70).gap == pytest.approx(0, abs=1e-12)
    assert 0 < Cope(48.3, 60.3, 70, 0, 2).gap < Cope(48.3, 60.3, 70, 0, 5).gap


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((90, 60, 90), "reaches past the side"),
        ((40, 60, 90, 12), "reaches past the side"),
        ((40, 60, 5), "must be 15 to 165 deg"),
        ((40, 60, 90, 0, 20), "less than half the tube"),
        ((-1, 60, 90), "more than 0"),
    ],
)
def test_what_cannot_be_coped_is_said(values, words):
    with pytest.raises(GeometryError, match=words):
        Cope(*values)


def strokes(pdf, page):
    """Lists of points [mm, from the upper left corner] of the lines on one page, read by pypdf."""
    sheet = PdfReader(io.BytesIO(pdf)).pages[page]
    text = sheet.get_contents().get_data().decode("latin-1")
    height = float(sheet.mediabox.height)
    found = []
    for x, y, way in re.findall(r"(-?[\d.]+) (-?[\d.]+) ([ml])\b", text):
        point = (float(x) / 72 * 25.4, (height - float(y)) / 72 * 25.4)
        if way == "m":
            found.append([point])
        else:
            found[-1].append(point)
    return found


def test_the_printed_curve_is_the_cut_at_full_scale():
    cut = Cope(60, 88.9, 62, 6, 4)
    pdf, pages = cope_pdf(cut, "a4", "mm")
    assert pages == 1
    curve = max(strokes(pdf, 0), key=len)
    low = min(y for _, y in cut.curve())
    for x, y in curve:
        paper, along = x - MARGIN, y - MARGIN - HEAD + low
        assert along == pytest.approx(cut.cut(paper / 30), abs=0.02)
    assert curve[-1][0] - curve[0][0] == pytest.approx(pi * 60, abs=0.01)


def test_bars_of_100_mm_and_4_in():
    lengths = [
        abs(s[1][0] - s[0][0]) for s in strokes(cope_pdf(Cope(60, 88.9, 62), "letter", "in")[0], 0)
        if len(s) == 2
    ]  # fmt: skip
    for bar in (100.0, 101.6):
        assert any(abs(length - bar) < 0.01 for length in lengths)


def test_a_wide_tube_takes_more_pages_and_nothing_of_the_curve_is_lost():
    cut = Cope(120, 160, 60)
    pdf, pages = cope_pdf(cut, "a4", "mm")
    assert pages == 2
    room = 297 - 2 * MARGIN
    seen = []
    for page in range(pages):
        curve = max(strokes(pdf, page), key=len)
        inside = [x for x, _ in curve if MARGIN <= x <= MARGIN + room]
        first = curve[0][0] - MARGIN
        seen.append((min(inside) - MARGIN - first, max(inside) - MARGIN - first))
    assert seen[0][0] == pytest.approx(0, abs=0.01)
    assert seen[1][0] < seen[0][1] - 10  # they overlap
    assert seen[1][1] == pytest.approx(pi * 120, abs=0.01)


def test_same_bytes_every_time():
    assert cope_pdf(Cope(40, 60, 70), "a4", "mm") == cope_pdf(Cope(40, 60, 70), "a4", "mm")


def test_paper_reaches_below_the_deepest_point():
    cut = Cope(40, 60, 50)
    lowest = max(y for s in strokes(cope_pdf(cut, "a4", "mm")[0], 0) for _, y in s)
    assert lowest - MARGIN - HEAD >= cut.depth + BELOW - 0.01
