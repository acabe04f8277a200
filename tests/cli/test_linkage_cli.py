"""``linkage`` and ``cope`` as a user runs them; what ``make`` writes for links."""

import csv
import json
from math import hypot
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner

from partgen.cli import main

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy-rear-links.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer-trailing-arms.toml"


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result


def test_linkage_prints_cases_links_and_joints():
    output = run("linkage", BUGGY).output
    assert "4 constraints, 4 of them count, 2 free" in output
    for word in (
        "full droop",
        "twist, left up",
        "lower/left",
        "upper/right",
        "14.0 joint",
        "Screening",
    ):
        assert word in output
    assert "-0.0 " not in output


def test_linkage_in_the_jobs_unit():
    output = run("linkage", TRAILER).output
    assert "lengths in inches" in output
    assert "full bump" in output
    assert "one piece" in output


def test_linkage_as_data():
    data = json.loads(run("linkage", BUGGY, "--json").stdout)
    assert data["greatest_misfit_over_length"] < 1e-9
    assert len(data["cases"]) == 5
    lower = next(k for k in data["links"] if k["name"] == "lower/left")
    assert lower["length"] - lower["tube_length"] == pytest.approx(
        64
    )  # a housing of 64 at each end
    upper = next(k for k in data["links"] if k["name"] == "upper/left")
    assert upper["length"] - upper["tube_length"] == pytest.approx(2 * (95 - 45))


def test_points_come_from_the_mounts_plates():
    """Pivot (760, -148) of a rail whose zero is at (140, 400, 560)."""
    data = json.loads(run("linkage", BUGGY, "--json").stdout)
    lower = next(k for k in data["links"] if k["name"] == "lower/right")
    assert lower["frame"] == pytest.approx([900, -400, 412])


def test_wider_joint_moves_the_limit_of_the_ear():
    def limit(*more):
        data = json.loads(run("linkage", BUGGY, "--json", *more).stdout)
        return next(e["limits"]["link"] for e in data["ends"] if e["link"] == "lower/left")

    assert limit("--set", "joint_width=75") > limit() + 3


@pytest.mark.parametrize(("demo", "mount", "pivot"), [
    (TRAILER, "arm", '[0, "-2-1/2 in"]'), (BUGGY, "lower", "[760, -148]"), (BUGGY, "upper", "[385, -80]"),
])  # fmt: skip
def test_lowered_by_what_it_says_the_link_has_that_angle(demo, mount, pivot, tmp_path):
    said = json.loads(run("linkage", demo, "--json", "--bump-angle", "6").stdout)["drops"]
    drop = next(d for d in said if d["link"] == f"{mount}/left")
    at = json.loads(pivot.replace(' in"', '"').replace("-2-1/2", "-2.5").replace('"', ""))
    unit = 25.4 if demo == TRAILER else 1
    text = demo.read_text(encoding="utf-8").split("[[linkage.obstacle]]")[0]
    sheets = "[[sheet]]" + demo.read_text(encoding="utf-8").split("[[sheet]]", 1)[1]
    lower = f'[{at[0]}, "{at[1] * unit - drop["lower"]:.9f} mm"]'
    job = tmp_path / "job.toml"
    assert pivot in text
    job.write_text(text.replace(pivot, lower) + sheets, encoding="utf-8")
    found = json.loads(run("linkage", job, "--json").stdout)
    bump = next(case for case in found["cases"] if case["case"] == "full bump")
    left = next(k for k in bump["links"] if k["name"] == f"{mount}/left")
    assert left["side_angle"] == pytest.approx(6, abs=1e-5)


def test_drop_in_words():
    assert "lower its frame end by" in run("linkage", TRAILER, "--bump-angle", "6").output
    assert "raise its frame end by" in run("linkage", TRAILER, "--bump-angle", "-6").output
    said = json.loads(run("linkage", TRAILER, "--json", "--bump-angle", "6").stdout)["drops"]
    assert said[0]["below_rail"] == pytest.approx(2.5 * 25.4 + said[0]["lower"])
    run("linkage", TRAILER, "--bump-angle", "steep", code=2)
    assert "at most 60" in run("linkage", TRAILER, "--bump-angle", "80", code=2).stderr


def test_job_without_links_says_where_to_start():
    output = run("linkage", ROOT / "demo_parts" / "camping-trailer.toml", code=2).stderr
    assert "no [linkage] in this job" in output


@pytest.mark.parametrize("demo", [BUGGY, TRAILER], ids=lambda p: p.stem)
def test_make_writes_views_curves_and_copes(demo, tmp_path):
    run("make", demo, "--out", tmp_path)
    for name in ("side", "plan", "rear", "curves"):
        picture = ElementTree.parse(tmp_path / "pictures" / f"{demo.stem}_linkage-{name}.svg")
        words = " ".join(t.text or "" for t in picture.iter("{http://www.w3.org/2000/svg}text"))
        assert "full bump" in words or "twist" in words or "over heave" in words
    templates = sorted(p.name for p in (tmp_path / "templates").iterdir())
    assert any("cope" in name for name in templates)
    data = json.loads((tmp_path / "job.json").read_text())
    assert data["linkage"]["greatest_misfit_over_length"] < 1e-9
    assert {f["rule"] for f in data["findings"]} >= {"swing", "misalignment", "linkage-hold"}


def test_cope_writes_its_template_and_says_so(tmp_path):
    out = tmp_path / "end.pdf"
    result = run(
        "cope", "--tube", "48.3", "--onto", "60.3", "--angle", "70", "--wall", "3.2", "--out", out
    )
    assert "1 page, full scale" in result.output
    assert out.read_bytes().startswith(b"%PDF")
    run("cope", "--tube", "48.3", "--onto", "60.3", "--out", out)
    data = json.loads(
        run(
            "cope", "--tube", "2 in", "--onto", "3 in", "--angle", "60", "--out", out, "--json"
        ).stdout
    )
    assert data["cut"][6]["along"] == pytest.approx(2.3094 * 25.4, abs=2e-3)


def test_cope_in_inches_takes_fractions(tmp_path):
    result = run("cope", "--units", "in", "--tube", "1-3/4", "--onto", "3", "--paper", "letter",
                 "--out", tmp_path / "a.pdf")  # fmt: skip
    assert "Paper 5.4978 in round" in result.output


def test_cope_mistakes_and_files_in_the_way(tmp_path):
    out = tmp_path / "mine.pdf"
    result = run("cope", "--tube", "wide", "--onto", "60", "--angle", "x", "--out", out, code=2)
    assert len(result.stderr.splitlines()) == 2
    said = run("cope", "--tube", "80", "--onto", "60", "--units", "mm", "--out", out, code=2).stderr
    assert "reaches past the side" in said
    assert not out.exists()
    out.write_text("mine")
    assert (
        "not made by partgen"
        in run("cope", "--tube", "40", "--onto", "60", "--out", out, code=2).stderr
    )
    assert out.read_text() == "mine"


def test_adjust_over_holes_tells_how_the_geometry_changes():
    """The lower link's other hole is 36 mm higher: length to centres by Pythagoras."""
    found = run("adjust", BUGGY, "lower_hole=2", "--json")
    moved = {v["what"]: (v["before"], v["after"]) for v in json.loads(found.output)["mounts"]}
    x, y = 140 + 760 - 8, 400 - 470
    for text, z in zip(moved["lower, to centres"], (560 - 148, 560 - 112), strict=True):
        assert float(text) == pytest.approx(hypot(x, y, z - (390 - 88)), abs=0.006)
    assert {"anti-squat, %", "roll centre z", "pinion up, full bump, deg"} <= set(moved)
    assert all(p["state"] == "keep" for p in json.loads(found.output)["plates"])


def test_the_number_of_a_hole_has_no_unit(tmp_path):
    lines = run("adjust", BUGGY, "lower_hole=2").output.splitlines()
    assert "  lower_hole: 1 -> 2" in lines
    more = tmp_path / "more.toml"
    text = BUGGY.read_text(encoding="utf-8")
    more.write_text(text.replace('= "= lower_hole"', '= "= lower_hole + 0 * spare"').replace(
        "lower_hole = 1 ", 'spare = 7\nunused = "9 mm"\nlower_hole = 1 '), encoding="utf-8")  # fmt: skip
    lines = run("adjust", more, "lower_hole=2", "spare=8", "unused=9.5 mm").output.splitlines()
    told = {"  lower_hole: 1 -> 2", "  spare: 7 -> 8", "  unused: 9 -> 9.5 mm"}
    assert told < set(lines)
    text = text.replace(
        "lower_hole = 1 ", 'hole_row = 3\nlower_hole = "= hole_row - 2 + 0 / joint_width" '
    )
    more.write_text(text, encoding="utf-8")
    lines = run("adjust", more, "hole_row=4").output.splitlines()
    assert {"  hole_row: 3 -> 4", "  lower_hole: 1 -> 2"} < set(lines)
    output = run("adjust", BUGGY, "--sweep", "lower_hole=2..3:1", "--out", tmp_path / "s").output
    assert "\n3: " in output  # there is no third
    for name, start in (("_links.csv", "lower_hole,"), ("hole.csv", "lower_hole,mount")):
        (path,) = (tmp_path / "s").glob(f"*{name}")
        assert path.read_text(encoding="utf-8").startswith(start)


def test_sweep_over_holes_writes_the_figures_of_the_links(tmp_path):
    run("adjust", BUGGY, "--sweep", "lower_hole=1..2:1", "--out", tmp_path)
    (path,) = tmp_path.glob("*_links.csv")
    head, first, second = csv.reader(path.read_text(encoding="utf-8").splitlines())
    column = head.index("lower, to centres")
    assert (float(first[0]), float(second[0])) == (1, 2)
    assert float(first[column]) != float(second[column])


def test_arms_tell_their_centres_and_no_beams():
    output = run("linkage", TRAILER).output
    assert "side-view instant centre x 22.000, z 17.500" in output
    assert "roll centre z 0.000" in output
    data = json.loads(run("linkage", TRAILER, "--json").output)
    assert data["centres_at_ride"] is None
    assert data["arm_centres_at_ride"]["roll_centre"] == pytest.approx(0, abs=1e-9)
    assert data["trimmed"].keys() == {"arm-mount/inner", "arm-mount/outer"}


def test_a_tube_too_wide_for_its_joint_is_said_to_have_no_cope(tmp_path):
    text = BUGGY.read_text(encoding="utf-8").replace("tube = 44.5", "tube = 66")
    job = tmp_path / "job.toml"
    job.write_text(text, encoding="utf-8")
    output = run("linkage", job).output
    assert "no cope template for link lower, frame end: a tube of 66" in output


def test_a_swept_number_of_a_hole_counts_in_data_too(tmp_path):
    inch = tmp_path / "inch.toml"
    text = TRAILER.read_text(encoding="utf-8")
    assert 'units = "in"' in text
    inch.write_text(text.replace("[measures]", "[measures]\nhole = 1").replace(
        "frame = { mount = ", 'frame = { hole = "= hole", mount = '), encoding="utf-8")  # fmt: skip
    found = run("adjust", inch, "--sweep", "hole=1..2:1", "--out", tmp_path / "s", "--json")
    assert [p["value"] for p in json.loads(found.stdout)["points"]] == [1, 2]
