"""Revisions: content hash and letter."""

import json
from dataclasses import replace

import pytest
from helpers import plate
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry.belt import rectangle
from partgen.plates.plate import Mark
from partgen.plates.revision import Revision, content, known_revisions, revised

CORNERS = [(0, 0), (120, 0), (130, 60), (0, 80)]
HOLES = [("a", 30, 30, "M10"), ("b", 90, 35, "M12")]
WINDOW = ("w", rectangle(20, 10, 3, (60, 50)))


def base(**changes):
    return replace(plate(CORNERS, HOLES, [WINDOW], blend=5.0), **changes)


@given(st.floats(-5000, 5000), st.floats(-5000, 5000))
def test_where_it_is_drawn_is_no_content(dx, dy):
    assert content(base().moved(dx, dy)) == content(base())


@given(st.integers(-200, 200), st.integers(-200, 200))
def test_fractions_of_an_inch_do_not_sit_on_the_rounding(a, b):
    """1/32 in = 0.79375 mm: a fourth decimal would round it either way."""
    step = 25.4 / 32
    flat = plate([(0, 0), (100 * step, 0), (101 * step, 51 * step), (0, 49 * step)])
    assert content(flat.moved(a * step / 3, b * step / 7)) == content(flat)


def test_where_an_outline_starts_and_the_order_of_openings_are_no_content():
    turned = plate([*CORNERS[2:], *CORNERS[:2]], HOLES[::-1], [WINDOW], blend=5.0)
    assert content(turned) == content(base())


def test_scribed_text_and_count_are_no_content():
    scribed = base(marks=(Mark("scribe", ((10, 10), (20, 10))),), count=7, revision="B-123456")
    assert content(scribed) == content(base())


@pytest.mark.parametrize(
    "other",
    [
        plate([(0, 0), (120, 0), (130.001, 60), (0, 80)], HOLES, [WINDOW], blend=5.0),
        plate(CORNERS, HOLES, [WINDOW], blend=5.001),
        plate(CORNERS, HOLES, [WINDOW], blend=5.0, thickness=5.0),
        plate(CORNERS, [HOLES[0], ("b", 90, 35.001, "M12")], [WINDOW], blend=5.0),
        plate(CORNERS, [HOLES[0], ("b", 90, 35, "M10")], [WINDOW], blend=5.0),
        plate(CORNERS, HOLES, [("w", rectangle(20, 10, 3.001, (60, 50)))], blend=5.0),
        plate(CORNERS, HOLES, [WINDOW], blend=5.0).mirrored(),
        base(marks=(Mark("bend", ((0, 20), (120, 20))),)),
    ],
)
def test_everything_that_is_cut_is_content(other):
    assert content(other) != content(base())


def test_letters_move_on_only_with_the_content():
    one, two = base(name="one"), base(name="two")
    plates, known = revised([one, two], {})
    assert [p.revision[0] for p in plates] == ["A", "A"]
    wider = replace(two, thickness=8.0)
    plates, known = revised([one, wider], known)
    assert [p.revision[0] for p in plates] == ["A", "B"]
    assert plates[1].revision == f"B-{content(wider)}"
    plates, known = revised([one, wider], known)
    assert [p.revision[0] for p in plates] == ["A", "B"]
    plates, known = revised([one, two], known)  # back again: a new letter, never an old one
    assert plates[1].revision[0] == "C"


def test_plates_not_made_this_time_keep_theirs():
    one, two = base(name="one"), base(name="two")
    _, known = revised([one, two], {})
    _, known = revised([replace(one, thickness=8.0)], known)
    assert known[two.label] == Revision("A", content(two))


@pytest.mark.parametrize(
    "text",
    [
        "", "[]", "{}", '{"revisions": 3}', '{"revisions": {"a": {"letter": "../x"}}}',
        '{"revisions": {"a": {"letter": "A", "content": "../../"}}}',
        '{"revisions": {"a": {"letter": "a", "content": "012345"}}}',
    ],
)  # fmt: skip
def test_a_manifest_that_holds_none_is_none(tmp_path, text):
    (tmp_path / "job.json").write_text(text)
    assert known_revisions(tmp_path / "job.json") == {}


def test_a_manifest_is_read(tmp_path):
    known = {"a/b": {"letter": "AB", "content": "0123ef"}}
    (tmp_path / "job.json").write_text(json.dumps({"revisions": known}))
    assert known_revisions(tmp_path / "job.json") == {"a/b": Revision("AB", "0123ef")}
    assert known_revisions(tmp_path / "none.json") == {}
