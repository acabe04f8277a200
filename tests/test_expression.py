"""Expressions: plain arithmetic against Fractions and hand sums; everything else refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import MeasureError
from partgen.expression import evaluate, is_expression, names_in

NAMES = {"rail_width": 50.0, "joint_width": 57.0, "d": 16.5}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("= joint_width + 3", 60.0),
        ("=joint_width+3", 60.0),
        ("  =  joint_width  ", 57.0),
        ("= (joint_width - rail_width) / 2", 3.5),
        ("= joint_width - rail_width / 2", 32.0),
        ("= -d * 2", -33.0),
        ("= +d", 16.5),
        ("= 2 - -3", 5.0),
        ("= min(rail_width, joint_width, 51)", 50.0),
        ("= max(rail_width, joint_width, 51)", 57.0),
        ("= max(3)", 3.0),
        ("= 10 - 4 - 3", 3.0),
        ("= 24 / 4 / 3", 2.0),
        ("= 1.5e1", 15.0),
        ("= (1 +\n 2)", 3.0),
    ],
)
def test_plain_arithmetic(text, value):
    assert evaluate(text, NAMES) == value


REFUSED = [
    "=",
    "= ",
    "= 2 ** 9",
    "= 2 ** 2 ** 2 ** 99999",
    "= 7 // 2",
    "= 7 % 2",
    "= 1 << 9",
    "= 1 | 2",
    "= ~1",
    "= not 1",
    "= 1 < 2",
    "= 1 if d else 2",
    "= d and 2",
    "= True",
    "= None",
    "= 'a'",
    "= '9' * 99",
    "= b'9'",
    "= f'{d}'",
    "= 1j",
    "= ...",
    "= [1][0]",
    "= (1, 2)",
    "= {1}",
    "= d.real",
    "= d[0]",
    "= (lambda: 1)()",
    "= (x := 3)",
    "= [x for x in (1,)]",
    "= abs(d)",
    "= pow(2, 9)",
    "= sum(1, 2)",
    "= __import__('os')",
    "= open('x')",
    "= eval('1')",
    "= min()",
    "= min(*d)",
    "= min(d, key=d)",
    "= min",
    "= d.min(1, 2)",
    "= 1; 2",
    "= 1\n= 2",
    "= import os",
    "= x = 3",
    "= await d",
    "= 3 mm",
    "= 2-5/8 in",
    "= 1 +",
    "= (1",
    "= \x00",
    "= 1or 2",
    "= " + "(" * 150 + "1" + ")" * 40,
    "= " + "9" * 201,
    "= 1 / 0",
    "= d / (d - 16.5)",
    "= 1e999",
    "= 1e300 * 1e300",
    "= -1e999",
    "= 1e999 - 1e999",
    "= no_such",
    "= rail_widht + 1",
]


@pytest.mark.parametrize("text", REFUSED)
def test_anything_else_gives_one_line(text):
    with pytest.raises(MeasureError) as caught:
        evaluate(text, NAMES)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 400


@pytest.mark.parametrize(
    "bomb",
    ["-" * 199 + "1", "(" * 90 + "d" + ")" * 90, "1+" * 99 + "1", "9*" * 99 + "9", "9" * 200],
)
def test_bombs_of_the_longest_text_allowed_end_in_a_number_or_one_line(bomb):
    said = ""
    try:
        assert isinstance(evaluate("= " + bomb, NAMES), float)
    except MeasureError as error:
        said = str(error)
    assert "\n" not in said


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("= rail_widht + 1", "'rail_widht', no such measure; did you mean 'rail_width'?"),
        ("= zzz", "known: d, joint_width, rail_width"),
        ("= 1 / 0", "'1 / 0' divides by zero"),
        ("= 2 ** 9", "use [+] - [*] / "),
        ("= " + "1" * 300, "300 characters; at most 200"),
        ("= 1e300 * 1e300", "too large"),
    ],
)
def test_the_line_says_what_to_do(text, says):
    with pytest.raises(MeasureError, match=says):
        evaluate(text, NAMES)


def test_a_measure_may_not_hide_a_function():
    assert evaluate("= min(min, 3)", {"min": 2.0}) == 2.0


@given(st.integers(-999, 999), st.integers(-999, 999), st.integers(1, 999))
def test_precedence_agrees_with_the_same_sum_by_hand(a, b, c):
    assert evaluate("= a + b * c - a / c", {"a": a, "b": b, "c": c}) == a + b * c - a / c
    assert evaluate(f"= ({a} - {b}) * -{c}", {}) == (a - b) * -c


@given(st.text(alphabet="ad+-*/()., =<>19_\n[]'{}:min", max_size=25))
def test_any_text_gives_a_number_or_one_line(text):
    said = ""
    try:
        assert isinstance(evaluate("=" + text, {"a": 2.0, "d": 0.0}), float)
    except MeasureError as error:
        said = str(error)
    assert "\n" not in said


def test_names_used():
    assert names_in("= max(a, b) * (c1 - 2) / a") == {"a", "b", "c1"}
    assert names_in("= (") == set()
    assert names_in("= min(" * 99) == set()


@pytest.mark.parametrize(
    ("value", "expression"),
    [("= 1", True), ("  =1", True), ("1 = 1", False), ("", False), (3, False), (None, False)],
)
def test_what_is_an_expression(value, expression):
    assert is_expression(value) is expression
