"""Layouts kept in job.json: which changes they outlive, and which not."""

import json
import math

import pytest
from click.testing import CliRunner
from helpers import replaced

from partgen.cli import main

JOB = """
[job]
name = "Wheel carrier"
units = "mm"

[[part]]
name = "strap"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [210, 0], [150, 70], [0, 90]]
holes = [{ at = [40, 40], bolt = "M12" }]
count = 3

[[part]]
name = "pad"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [120, 0], [120, 50], [30, 80]]
count = 2

[[sheet]]
plate = "6 mm S355"
size = [1000, 500]
name = "first"
"""
FAILS = ("at = [40, 40]", "at = [14, 40]")  # the hole too near the edge


@pytest.fixture
def made(tmp_path):
    """Writes the job with words replaced, makes it; returns what was said and job.json."""

    def make(*changes, options=(), code=0):
        text = replaced(JOB, *changes)
        (tmp_path / "job.toml").write_text(text)
        out = tmp_path / "out"
        args = ["make", str(tmp_path / "job.toml"), "--out", str(out), *options]
        result = CliRunner().invoke(main, args)
        assert result.exit_code == code, result.output
        return result.output, json.loads((out / "job.json").read_text())

    return make


def places(data):
    return [(p["x"], p["y"], p["turn"]) for s in data["sheets"] for p in s["placements"]]


def shifted(tmp_path):
    """Moves one plate of the kept layout to where no search would put it, still in order."""
    path = tmp_path / "out" / "job.json"
    data = json.loads(path.read_text())
    (sheet,) = data["sheets"]
    far = max(sheet["placements"], key=lambda p: p["x"])
    far["x"] += 200.0
    sheet["used"][0]["length"] += (
        200.0
        if math.isclose(sheet["used"][0]["length"], max_end(data) - 200.0, abs_tol=0.01)
        else 0.0
    )
    path.write_text(json.dumps(data))
    return data


def max_end(data):
    outlines = {p["name"]: p["outline"] for p in data["plates"]}
    ends = []
    for p in data["sheets"][0]["placements"]:
        c, s = math.cos(math.radians(p["turn"])), math.sin(math.radians(p["turn"]))
        ends += [c * v[0] - s * v[1] + p["x"] for v in outlines[p["piece"]]]
    return max(ends)


def test_a_run_stopped_by_a_rule_forgets_nothing(made):
    _, first = made(options=("--seconds", "1.2"))
    _, stopped = made(FAILS, code=1)
    assert stopped["sheets"] == []
    said, again = made()
    assert "laid out as last time" in said
    assert places(again) == places(first)
    assert again["kept_layouts"] == []


def test_a_part_made_alone_or_another_measure_forgets_nothing(made):
    _, first = made(options=("--seconds", "1.2"))
    made(options=("--only", "pad"))
    made(("count = 3", "count = 4"))
    said, again = made()
    assert "laid out as last time" in said
    assert places(again) == places(first)
    assert len(again["kept_layouts"]) == 2


@pytest.mark.parametrize(
    "change",
    [
        ('name = "strap"', 'name = "brace"'),
        ('name = "first"', 'name = "by-the-door"'),
        ('name = "Wheel carrier"', 'name = "Spare wheel"'),
    ],
)
def test_new_names_change_no_layout(change, made, tmp_path):
    _, first = made(options=("--seconds", "1.2"))
    said, again = made(change)
    assert "laid out as last time" in said
    assert places(again) == places(first)
    names = {p["piece"].split("/")[0] for p in again["sheets"][0]["placements"]}
    assert names == ({"brace", "pad"} if "brace" in change[1] else {"strap", "pad"})
    sheets = {u["sheet"] for s in again["sheets"] for u in s["used"]}
    assert sheets == {"by-the-door" if "door" in change[1] else "first"}


@pytest.mark.parametrize(
    "change",
    [
        ("count = 3", "count = 4"),
        ("size = [1000, 500]", "size = [1000, 480]"),
        ("size = [1000, 500]", "size = [1000, 500]\ncount = 2"),
        ("size = [1000, 500]", "size = [1000, 500]\ncost = 3"),
        (
            "size = [1000, 500]",
            "size = [1000, 500]\nkeep_out = [{ at = [980, 480], size = [9, 9] }]",
        ),
        ("count = 2", "count = 2\nturn = [0]"),
        ("count = 2", "count = 2\npriority = 1"),
        ("count = 2", 'count = 2\ntogether = "set"'),
        ("count = 2", 'count = 2\nfixed = [{ plate = "plate/left", at = [500, 300] }]'),
        ("[150, 70]", "[150, 70.001]"),
        ("[[sheet]]", "[cutting]\npart_gap = 9\n[[sheet]]"),
        ("[[sheet]]", "[cutting]\nsheet_margin = 9\n[[sheet]]"),
    ],
)
def test_anything_else_does(change, made):
    made()
    said, data = made(change)
    assert "as last time" not in said
    assert len(data["kept_layouts"]) == 1


def test_fresh_lays_out_anew_and_keeps_that(made, tmp_path):
    _, first = made()
    kept = shifted(tmp_path)
    said, again = made()
    assert "laid out as last time" in said
    assert places(again) == places(kept) != places(first)
    said, fresh = made(options=("--fresh",))
    assert "as last time" not in said
    assert places(fresh) == places(first)
    said, again = made()
    assert "laid out as last time" in said
    assert places(again) == places(first)


def test_only_so_many_are_kept(made):
    for count in (4, 5, 6, 7, 8, 9, 10, 2):
        _, data = made(("count = 3", f"count = {count}"))
    assert len(data["kept_layouts"]) == 6
    assert "as last time" not in made()[0]
    assert "laid out as last time" in made(("count = 3", "count = 2"))[0]


def test_kept_layouts_that_make_no_sense_are_passed_over(made, tmp_path):
    made()
    made(FAILS, code=1)
    path = tmp_path / "out" / "job.json"
    good = path.read_text()
    for spoil in (
        lambda k: k.clear(),
        lambda k: k.update(pieces=["strap/plate/left"]),
        lambda k: k.update(stock=[]),
        lambda k: k.update(pieces=[1, 2]),
        lambda k: k["placements"][0].update(piece="other"),
        lambda k: k["placements"][0].update(x=1e6),
    ):
        data = json.loads(good)
        spoil(data["kept_layouts"][0])
        path.write_text(json.dumps(data))
        assert "as last time" not in made()[0]
