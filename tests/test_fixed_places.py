"""Plates that a job fixes at a place on a sheet."""

import json

import pytest
from click.testing import CliRunner

from partgen.cli import main
from partgen.errors import PartgenError
from partgen.tasks.making import make

JOB = """
[job]
name = "Tank cradle"
units = "{units}"

[[part]]
name = "strap"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], ["210 mm", 0], ["150 mm", "70 mm"], [0, "90 mm"]]
count = 5
fixed = [{fixed}]

[[part]]
name = "pad"
family = "plate"
plate = "{pad}"
points = [["10 mm", "10 mm"], ["90 mm", "10 mm"], ["90 mm", "60 mm"], ["10 mm", "50 mm"]]
hands = "left"
{more}

[[sheet]]
plate = "6 mm S355"
size = ["1000 mm", "500 mm"]
count = 2
[[sheet]]
plate = "6 mm S355"
size = ["400 mm", "700 mm"]
name = "rest"
[[sheet]]
plate = "3 mm S355"
size = ["400 mm", "300 mm"]
"""
LEFT = '{ plate = "plate/left", sheet = "1000x500", number = 2, at = [300, 200], turn = 33 }'
REST = '{ plate = "strap/plate/right", sheet = "rest", at = [100, 20] }'


def job(folder, *fixed, units="mm", pad="6 mm S355", more=""):
    path = folder / "job.toml"
    path.write_text(JOB.format(fixed=", ".join(fixed), units=units, pad=pad, more=more))
    return path


def corner(nest, placement):
    """Lower left corner of a placed plate's box, by its points."""
    piece = next(p for p in nest.pieces if p.name == placement.piece)
    box = piece.edge.turned(placement.turn).moved(placement.x, placement.y).box
    return box[:2]


def found(nest, label, sheet, number=1):
    return [
        p
        for p in nest.layout.placements
        if (p.piece, p.sheet, p.number, p.copy) == (label, sheet, number, 1)
    ]


def test_plates_lie_where_the_job_says(tmp_path):
    (nest,) = make(job(tmp_path, LEFT, REST), {}, (), "R2000").nests
    (left,) = found(nest, "strap/plate/left", "1000x500", 2)
    (right,) = found(nest, "strap/plate/right", "rest")
    assert (left.turn, right.turn) == (33, 0)
    assert corner(nest, left) == pytest.approx((300, 200), abs=1e-6)
    assert corner(nest, right) == pytest.approx((100, 20), abs=1e-6)
    assert len(nest.layout.placements) == 11


def test_places_are_in_the_unit_of_the_job(tmp_path):
    place = '{ plate = "plate/left", sheet = "rest", at = [4, "2-1/2 in"], turn = "90 deg" }'
    (nest,) = make(job(tmp_path, place, units="in"), {}, (), "R2000").nests
    (left,) = found(nest, "strap/plate/left", "rest")
    assert corner(nest, left) == pytest.approx((101.6, 63.5), abs=1e-6)


def test_what_need_not_be_said(tmp_path):
    """The one plate of its part, the one sheet of its plate, the first of them, not turned."""
    path = job(tmp_path, pad="3 mm S355", more="fixed = [{ at = [200, 150] }]")
    thin = make(path, {}, (), "R2000").nests[0]
    assert corner(thin, thin.layout.placements[0]) == pytest.approx((200, 150), abs=1e-6)


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ('{ sheet = "rest", at = [100, 20] }', "say which plate; plate = one of 'plate/left', 'pl"),
        (
            '{ plate = "plate/lft", sheet = "rest", at = [9, 9] }',
            "'plate/lft' is not made here; did you mean 'plate/left'?",
        ),
        ('{ plate = "plate/left", at = [100, 20] }', "say on which sheet; sheet = one of '1000x5"),
        (
            '{ plate = "plate/left", sheet = "rust", at = [100, 20] }',
            "sheet 'rust' is none of this plate; did you mean 'rest'?",
        ),
        (
            '{ plate = "plate/left", sheet = "rest", at = [5, 20] }',
            "5.000000 mm to the sheet's edge",
        ),
        ('{ plate = "plate/left", sheet = "rest", at = [20, 900] }', "is off the sheet"),
        (
            '{ plate = "plate/left", sheet = "rest", number = 2, at = [20, 20] }',
            "on sheet 'rest' 2, which there is not",
        ),
        (
            '{ plate = "plate/left", sheet = "rest", at = [150, 60] }',
            "mm between cuts, 8 asked",
        ),
    ],
)
def test_places_that_make_no_sense(place, words, tmp_path):
    with pytest.raises(PartgenError) as caught:
        make(job(tmp_path, REST, place), {}, (), "R2000")
    assert words in "; ".join(caught.value.problems)
    assert all("\n" not in line for line in caught.value.problems)


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("{ at = [1] }", "fixed[1].at"),
        ("{ at = [1, 2], trun = 3 }", "unknown key; did you mean 'turn'?"),
        ("{ at = [1, 2], number = 0 }", "fixed[1].number"),
        ("{ turn = 90 }", "fixed[1].at"),
    ],
)
def test_entries_that_cannot_be_read(place, words, tmp_path):
    result = CliRunner().invoke(main, ["check", str(job(tmp_path, place))])
    assert result.exit_code == 2
    assert words in result.output


def test_more_fixed_than_made(tmp_path):
    place = '{{ plate = "plate/left", sheet = "1000x500", at = [{}, {}] }}'
    fixed = [place.format(20 + 230 * (k % 3), 20 + 150 * (k // 3)) for k in range(6)]
    with pytest.raises(PartgenError, match="'strap/plate/left' is fixed 6 times, and 5 are made"):
        make(job(tmp_path, *fixed), {}, (), "R2000")


def test_a_part_left_out_fixes_nothing(tmp_path):
    (nest,) = make(job(tmp_path, LEFT), {}, ("pad",), "R2000").nests
    assert [p.piece for p in nest.layout.placements] == ["pad/plate/left"]


def test_the_schema_says_what_may_be_fixed():
    said = json.loads(CliRunner().invoke(main, ["schema"]).output)
    place = said["$defs"]["FixedPlace"]["properties"]
    assert set(place) == {"at", "turn", "sheet", "number", "plate"}
    assert "mm" in place["at"]["description"]
