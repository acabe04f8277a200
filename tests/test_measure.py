"""Lengths and angles: 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import MeasureError
from partgen.measure import length_text, parse_angle, parse_length, per_unit, shown

READ = {
    "66.7 mm": "66.7",
    "66.7mm": "66.7",
    "66.7 MM": "66.7",
    "2.625 in": "66.675",
    "2-5/8 in": "66.675",
    "2 - 5/8 in": "66.675",
    "2 5/8 in": "66.675",
    '2 5/8"': "66.675",
    '2-5/8"': "66.675",
    "2 5/8\u2033": "66.675",
    "2 5/8 inch": "66.675",
    "5/8 in": "15.875",
    "21/8 in": "66.675",
    ".120 in": "3.048",
    "0.120 in": "3.048",
    "4 ft": "1219.2",
    "12 cm": "120",
    "1.25 m": "1250",
    "  3.  mm ": "3",
    "-7/16 in": "-11.1125",
    "-2-5/8 in": "-66.675",
    "+ 9 mm": "9",
    "1/3 in": None,
}


@pytest.mark.parametrize("text", READ)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_lengths_with_a_unit_are_exact(text, unit):
    want = READ[text] or Fraction(127, 15)
    assert parse_length(text, unit) == float(Fraction(want))


@pytest.mark.parametrize(
    ("value", "unit", "mm"),
    [
        ("66.7", "mm", 66.7),
        ("2.625", "in", 66.675),
        ("2-5/8", "in", 66.675),
        ("5/8", "mm", 0.625),
        (2.625, "in", 66.675),
        (3, "in", 76.2),
        (66.7, "mm", 66.7),
        (-0.1, "in", -2.54),
        (0, "in", 0.0),
    ],
)
def test_bare_numbers_are_in_the_unit_of_the_job(value, unit, mm):
    assert parse_length(value, unit) == mm


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "mm",
        "five mm",
        "1,5 mm",
        "1.5.2 mm",
        "1e3 mm",
        "2-5 mm",
        "2 5 in",
        "2-5.5/8 in",
        "5/0 in",
        "5//8 in",
        "--5 mm",
        "5 - mm",
        "0x10 mm",
        "nan",
        "inf mm",
        "3 mm 4",
        "3 furlong",
        "3 'in'",
        "3 mm\n4",
        "1" * 400,
        "9" * 12 + " m",
        "3 " + "u" * 900,
        "100001 mm",
        "329 ft",
        float("nan"),
        float("-inf"),
        1e300,
        10**400,
        -(10**4000),
        True,
        None,
        [3],
    ],
    ids=lambda value: str(value)[:12],
)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_what_is_no_length_gives_one_short_line(text, unit):
    with pytest.raises(MeasureError) as caught:
        parse_length(text, unit)
    assert "\n" not in str(caught.value)
    assert 10 < len(str(caught.value)) < 160


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("3 furlong", "unit 'furlong' is not known; use mm, cm, m, in, ft"),
        ("5/0 in", "divides by zero"),
        ("2 5 in", "a fraction follows the whole number"),
        ("101 m", "longer than 100 m"),
        ("abc", "write '66.7 mm', '2.625 in' or '2-5/8 in'"),
    ],
)
def test_the_line_says_what_to_do(text, says):
    with pytest.raises(MeasureError, match=says):
        parse_length(text, "mm")


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_one_line(text):
    said = ""
    try:
        assert abs(parse_length(text, "in")) <= 100_000
    except MeasureError as error:
        said = str(error)
    assert "\n" not in said
    assert "\r" not in said


DECIMAL = st.integers(-(10**11), 10**11)  # millionths


@given(DECIMAL)
def test_a_length_of_six_decimals_survives_print_and_read_exactly(millionths):
    for text in (f"{Fraction(millionths, 10**6)}",):
        mm = float(Fraction(text))
        assert parse_length(length_text(mm, "mm"), "in") == mm


@given(DECIMAL.map(lambda n: n // 30))
def test_inches_of_six_decimals_survive_print_and_read_exactly(millionths):
    mm = parse_length(f"{millionths / 10**6:.6f}", "in")
    assert parse_length(length_text(mm, "in"), "mm") == mm


@given(st.integers(-200_000, 200_000))
def test_sixty_fourths_are_printed_as_reduced_fractions(parts):
    mm = float(Fraction(parts, 64) * Fraction("25.4"))
    text = length_text(mm, "in")
    assert text == shown(mm, "in") + " in"
    assert "." not in text
    whole, rest = divmod(abs(parts), 64)
    sum_of_words = Fraction(0)
    for word in text.removesuffix(" in").removeprefix("-").split("-"):
        sum_of_words += Fraction(word)
    assert sum_of_words == whole + Fraction(rest, 64)
    if "/" in text:
        assert int(text.removesuffix(" in").rsplit("/", 1)[1]) in {2, 4, 8, 16, 32, 64}
    assert parse_length(text, "mm") == mm


@given(st.floats(-100_000, 100_000))
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_any_length_is_readable_again_within_a_millionth_of_a_micrometre(unit, mm):
    assert parse_length(length_text(mm, unit), "mm") == pytest.approx(mm, abs=1e-9, rel=1e-14)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (66.675, "in", "2-5/8 in"),
        (-66.675, "in", "-2-5/8 in"),
        (15.875, "in", "5/8 in"),
        (50.8, "in", "2 in"),
        (0.396875, "in", "1/64 in"),
        (3.048, "in", "0.12 in"),
        (0.1, "in", "0.003937007874 in"),
        (0.0, "in", "0 in"),
        (66.7, "mm", "66.7 mm"),
        (250.0, "mm", "250 mm"),
        (-0.0, "mm", "0 mm"),
        (0.00005, "mm", "0.00005 mm"),
    ],
)
def test_printed_lengths(mm, unit, text):
    assert length_text(mm, unit) == text


@pytest.mark.parametrize(
    ("mm", "unit", "digits", "text"),
    [
        (66.6751, "mm", None, "66.68"),
        (66.7, "mm", None, "66.7"),
        (100.0, "mm", None, "100"),
        (66.6751, "mm", 1, "66.7"),
        (66.675, "in", None, "2-5/8"),
        (66.675, "in", 2, "2.62"),
        (66.7, "in", None, "2.626"),
        (66.7, "in", 4, "2.6260"),
        (-0.001, "mm", None, "0"),
    ],
)
def test_lengths_in_tables(mm, unit, digits, text):
    assert shown(mm, unit, digits) == text


def test_millimetres_in_a_unit():
    assert (per_unit("mm"), per_unit("in"), per_unit("ft")) == (1.0, 25.4, 304.8)


ANGLES = {"12.5 deg": 12.5, "12.5\u00b0": 12.5, "- 7": -7.0, ".5 deg": 0.5, 30: 30.0, -360: -360.0}


@pytest.mark.parametrize(("value", "degrees"), ANGLES.items())
def test_angles(value, degrees):
    assert parse_angle(value) == degrees


@pytest.mark.parametrize(
    "value",
    ["", "12 rad", "a", "361", "12 mm", "1\n2", 360.001, float("nan"), 10**400, True, None],
    ids=lambda value: str(value)[:12],
)
def test_what_is_no_angle_gives_one_short_line(value):
    with pytest.raises(MeasureError) as caught:
        parse_angle(value)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 120


@pytest.mark.parametrize(
    ("mm", "unit", "digits", "text"),
    [(-1e-13, "in", 3, "0.000"), (-0.004, "mm", 2, "0.00"), (-0.006, "mm", 2, "-0.01"),
     (-0.02, "in", None, "-0.001"), (-0.001, "in", None, "0.000")],
)  # fmt: skip
def test_no_minus_before_nothing(mm, unit, digits, text):
    assert shown(mm, unit, digits) == text
