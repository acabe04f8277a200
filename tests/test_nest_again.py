"""``nest`` keeps its layouts beside the sheets and uses them again while nothing has changed."""

import json

import ezdxf
import pytest
from click.testing import CliRunner

from partgen.cli import main


def drawing(path, points, hole=None):
    """A plate drawn by another program."""
    document = ezdxf.new("R2000", units=4)
    space = document.modelspace()
    space.add_lwpolyline(points, close=True)
    if hole:
        space.add_circle(hole[:2], hole[2])
    document.saveas(path)
    return path


@pytest.fixture
def nested(tmp_path):
    """Nests two drawings; returns what was said, job.json and all files' bytes."""
    plates = {"wedge": [(0, 0), (210, 0), (150, 70), (0, 90)], "pad": [(0, 0), (120, 0), (90, 60)]}
    for name, points in plates.items():
        drawing(tmp_path / f"{name}.dxf", points, (40, 30, 9) if name == "wedge" else None)

    def nest(*options, sheet="1000x500", count="wedge.dxf=4", code=0):
        files = [str(tmp_path / f"{name}.dxf") for name in plates]
        out = tmp_path / "out"
        args = ["nest", *files, "--sheet", sheet, "--count", count, "--out", str(out), *options]
        result = CliRunner().invoke(main, args)
        assert result.exit_code == code, result.output
        if code:
            return result.output
        found = {p.name: p.read_bytes() for p in out.rglob("*") if p.is_file()}
        return result.output, json.loads((out / "job.json").read_text()), found

    return nest


def places(data):
    return [
        (p["piece"], p["x"], p["y"], p["turn"]) for s in data["sheets"] for p in s["placements"]
    ]


AGAIN = "laid out as last time"


def test_nothing_changed_nothing_moves(nested):
    _, first, _ = nested("--seconds", "1.2")
    said, again, files = nested()
    assert AGAIN in said
    assert places(again) == places(first)
    assert nested()[2] == files


@pytest.mark.parametrize(
    "change",
    [{"sheet": "1000x480"}, {"count": "wedge.dxf=5"}, {"count": "pad.dxf=2"}],
)
def test_another_sheet_or_count_is_another_layout_and_both_are_kept(nested, change):
    _, first, _ = nested()
    said, other, _ = nested(**change)
    assert AGAIN not in said
    assert len(other["kept_layouts"]) == 1
    said, back, _ = nested()
    assert AGAIN in said
    assert places(back) == places(first)


def test_a_drawing_changed_a_hair_is_laid_out_anew(nested, tmp_path):
    nested()
    drawing(tmp_path / "pad.dxf", [(0, 0), (120, 0), (90, 60.001)])
    assert AGAIN not in nested()[0]


def test_another_gap_or_margin_is_another_layout(nested):
    nested()
    assert AGAIN not in nested("--gap", "9")[0]
    assert AGAIN not in nested("--margin", "11")[0]


def test_fresh_passes_over_what_is_kept(nested, tmp_path):
    _, first, _ = nested()
    path = tmp_path / "out" / "job.json"
    data = json.loads(path.read_text())
    a, b, *_ = (p for p in data["sheets"][0]["placements"] if p["piece"].startswith("wedge"))
    a["copy"], b["copy"] = b["copy"], a["copy"]  # no search would number them so
    data["sheets"][0]["placements"].sort(key=lambda p: (p["piece"], p["copy"]))
    path.write_text(json.dumps(data))
    said, again, _ = nested()
    assert AGAIN in said
    assert places(again) == places(data) != places(first)
    said, fresh, _ = nested("--fresh")
    assert AGAIN not in said
    assert places(fresh) == places(first)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: data.update(sheets=3),
        lambda data: data.update(sheets=["x"]),
        lambda data: data["sheets"][0]["placements"].pop(),
        lambda data: data["sheets"][0]["placements"][0].update(x=float("inf")),
        lambda data: data["sheets"][0]["placements"][0].update(x=-5.0),
        lambda data: data["sheets"][0]["used"][0].update(length=1.0),
        lambda data: data["sheets"][0].update(digest="0"),
        lambda data: data["sheets"][0].update(searched=-1),
        lambda data: data["sheets"][0].update(searched="often"),
    ],
)
def test_a_damaged_file_is_passed_over(nested, tmp_path, spoil):
    _, first, _ = nested()
    path = tmp_path / "out" / "job.json"
    data = json.loads(path.read_text())
    spoil(data)
    path.write_text(json.dumps(data))
    said, again, _ = nested()
    assert AGAIN not in said
    assert places(again) == places(first)


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", "\x00\xff"])
def test_a_file_that_is_none_is_left_alone_and_named(nested, tmp_path, text):
    nested()
    (tmp_path / "out" / "job.json").write_text(text)
    assert "job.json: not written by partgen, or changed since" in nested(code=2)
    assert (tmp_path / "out" / "job.json").read_text() == text


def test_how_often_time_was_given_is_kept(nested):
    assert nested()[1]["sheets"][0]["searched"] == 0
    assert nested("--seconds", "0.3")[1]["sheets"][0]["searched"] == 1
    assert nested()[1]["sheets"][0]["searched"] == 1
    assert nested("--seconds", "0.3")[1]["sheets"][0]["searched"] == 2
    assert nested("--fresh", "--seconds", "0.3")[1]["sheets"][0]["searched"] == 1
    assert nested(count="wedge.dxf=5")[1]["sheets"][0]["searched"] == 0
    assert nested()[1]["sheets"][0]["searched"] == 1
