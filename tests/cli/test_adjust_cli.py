"""adjust, compare, measure and library as a user runs them."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from partgen.cli import main

DEMOS = Path(__file__).parents[2] / "demo_parts"
BUGGY = DEMOS / "hill-trial-buggy.toml"
CART = DEMOS / "swamp-cart.toml"


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(BUGGY.read_bytes())
    return path


def test_adjust_says_what_to_do_and_writes_nothing(job, tmp_path):
    before = job.read_bytes()
    output = run("adjust", job, "joint_width=63 mm").output
    assert "joint_width: 57 -> 63 mm" in output
    assert "RECUT  4 x  rail-spacer/pad                thickness 3 mm -> 6 mm" in output
    assert "keep   1 x  lower-front-mount/inner/left" in output
    assert "buy or make: 2 bolt M16 x 120 mm (lower-front-mount)" in output
    assert "6 plates can be kept, 3 must be cut" in output
    assert job.read_bytes() == before
    assert list(tmp_path.iterdir()) == [job]


def test_adjust_in_inches_speaks_inches():
    output = run("adjust", DEMOS / "camping-trailer.toml", "rail_width=2-1/4 in").output
    assert "rail_width: 2 -> 2-1/4 in" in output
    assert "thickness 3/8 in -> 1/4 in" in output


def test_save_changes_the_value_and_keeps_the_layout(job):
    old = job.read_text()
    output = run("adjust", job, "joint_width=63", "--save").output
    assert f"saved: {job}" in output
    assert job.read_text() == old.replace("joint_width = 57 ", "joint_width = 63 ")
    assert "joint_width: 63 -> 57 mm" in run("adjust", job, "joint_width=57").output


def test_a_wrong_value_saves_nothing(job):
    before = job.read_bytes()
    assert "unit 'furlong'" in run("adjust", job, "joint_width=3 furlong", "--save", code=2).stderr
    run("adjust", job, "joint_widht=3", "--save", code=2)
    run("adjust", job, "joint_width", code=2)
    run("adjust", job, "--sweep", "joint_width=57..58:1", "--save", code=2)
    assert job.read_bytes() == before


def test_a_rule_that_fails_exits_1_and_says_so(job):
    result = run("adjust", job, "joint_width=40", code=1)
    assert "NEW FINDING: fail joint-fit" in result.output
    assert "partgen make would stop" in result.output


def test_sweep_writes_a_table_and_curves(job, tmp_path):
    output = run(
        "adjust", job, "--sweep", "joint_width=57..75mm:1.5", "--out", tmp_path / "s"
    ).output
    assert output.count("lower-front-mount") == 13
    names = {p.name for p in (tmp_path / "s").iterdir()}
    assert {"job_joint-width.csv", "job_joint-width.svg", "job.json"} <= names


def test_compare_two_files(job):
    job.write_text(job.read_text().replace("joint_width = 57", "joint_width = 63"))
    output = run("compare", BUGGY, job).output
    assert "hill-trial-buggy.toml (Hill-trial buggy, rear lower links) -> job.toml" in output
    assert "6 plates can be kept, 3 must be cut" in output
    assert "nothing.toml" in run("compare", BUGGY, "nothing.toml", code=2).stderr


def test_measure_prints_the_form_and_checks_the_net(job, tmp_path):
    output = run("measure", CART, "--csv", tmp_path / "form.csv").output
    assert "1   rail frame" in output
    assert "readings agree within the tolerance" in output
    assert (tmp_path / "form.csv").exists()
    job.write_text(CART.read_text().replace('["A", "C", 1268]', '["A", "C", 1288]'))
    output = run("measure", job, code=1).output
    assert "suspect 1: A to C" in output
    assert "nothing was corrected" in output


def test_fit_shows_the_budget_the_ways_and_the_bolts():
    output = run("fit", CART).output
    assert "joint                       66.4  measured; nominal 66" in output
    assert "= clearance at last         1.17" in output
    assert "in hand, use  130 mm" in output
    assert output.count("threads inside the joint") == 1
    trailer = run("fit", DEMOS / "camping-trailer.toml").output
    assert "dummy spacer to weld with  2-21/32" in trailer
    assert "buy  5 in " in trailer
    wide = run("fit", BUGGY, "--set", "rail_width=80").output
    assert "a way out: washers or bosses of 11.1 mm inside each ear" in wide


def test_library_lists_and_shows(tmp_path):
    assert "urethane-bush-m16" in run("library").output
    shown = run("library", "rod-end-k-16").output
    assert "[joint.rod-end-k-16]" in shown
    assert "from memory" in shown
    assert 'width = "21 mm"' in shown
    assert 'max_misalignment = "15 deg"' in shown
    assert "did you mean 'urethane-bush-m16'" in run("library", "urethan-bush-m16", code=2).stderr


def test_everything_speaks_json(job, tmp_path):
    for args in (
        ("adjust", job, "joint_width=63"),
        ("adjust", job, "--sweep", "joint_width=57..58:1", "--out", tmp_path / "s"),
        ("compare", BUGGY, job),
        ("measure", CART),
        ("fit", CART),
        ("library",),
        ("library", "rect-100x50x4"),
    ):
        assert json.loads(run(*args, "--json").stdout)


def test_revisions_follow_the_plates(job, tmp_path):
    out = tmp_path / "out"

    def revisions():
        data = json.loads((out / "job.json").read_text())
        return {p["name"]: p["revision"] for p in data["plates"]}

    run("make", job, "--out", out)
    first = revisions()
    assert all(text.startswith("A-") for text in first.values())
    names = [p.name for p in (out / "plates").iterdir()]
    assert all(any(f"_rev{text}_" in name for name in names) for text in first.values())
    run("adjust", job, "joint_width=63", "--save")
    run("make", job, "--out", out)
    second = revisions()
    moved = {name for name in first if first[name] != second[name]}
    assert moved == {"rail-spacer/pad", "web/gusset/left", "web/gusset/right"}
    assert all(second[name].startswith("B-") for name in moved)
    run("make", job, "--out", out)
    assert revisions() == second
    dxf = next((out / "plates").glob("*web_gusset_left*")).read_text()
    assert f"revision: {second['web/gusset/left']}" in dxf


def test_only_some_parts_made_leaves_the_other_revisions(job, tmp_path):
    out = tmp_path / "out"
    run("make", job, "--out", out)
    run("make", job, "--out", out, "--set", "joint_width=63", "--only", "web")
    data = json.loads((out / "job.json").read_text())
    assert data["revisions"]["web/gusset/left"]["letter"] == "B"
    assert data["revisions"]["rail-spacer/pad"]["letter"] == "A"
    run("make", job, "--out", out, "--set", "joint_width=63")
    data = json.loads((out / "job.json").read_text())
    assert data["revisions"]["web/gusset/left"]["letter"] == "B"
    assert data["revisions"]["rail-spacer/pad"]["letter"] == "B"


def test_a_job_that_is_stopped_issues_no_revision(job, tmp_path):
    out = tmp_path / "out"
    run("make", job, "--out", out)
    run("make", job, "--out", out, "--set", "joint_width=40", code=1)
    data = json.loads((out / "job.json").read_text())
    assert {r["letter"] for r in data["revisions"].values()} == {"A"}
    run("make", job, "--out", out, "--set", "joint_width=63")
    data = json.loads((out / "job.json").read_text())
    assert data["revisions"]["web/gusset/left"]["letter"] == "B"


def test_a_job_with_a_library_beside_it(tmp_path, monkeypatch):
    (tmp_path / "our.toml").write_text(
        'title = "ours"\nsource = "by calliper"\nunits = "mm"\n'
        '[joint.ours]\nwidth = 66\nbody_diameter = 60\nbolt = "M16"\n'
    )
    job = tmp_path / "job.toml"
    job.write_text(
        CART.read_text()
        .replace('units = "mm"', 'units = "mm"\nlibrary = "our.toml"')
        .replace('like = "urethane-bush-m16"', 'like = "ours"')
    )
    run("make", job, "--out", tmp_path / "out")
    monkeypatch.chdir(tmp_path)
    assert "by calliper" in run("library", "ours", "--file", "our.toml").output
    assert "neither beside the job" in run("library", "--file", "their.toml", code=2).stderr
