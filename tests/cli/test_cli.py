"""The command line as a user runs it: exit status, files, words."""

import csv
import hashlib
import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner

from partgen.cli import main
from partgen.families import FAMILIES
from partgen.families.sample import NO_PLATE, SAMPLES

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer.toml"


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result


def tree(folder):
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_make_writes_what_it_says(demo, tmp_path):
    result = run("make", demo, "--out", tmp_path / "out")
    files = tree(tmp_path / "out")
    data = json.loads(files["job.json"])
    assert set(files) == {*data["files"], "job.json"}
    for name, digest in data["files"].items():
        assert hashlib.sha256(files[name]).hexdigest() == digest
    plates = [n for n in files if n.startswith("plates/")]
    assert len(plates) == len(data["plates"])
    for hand in ("left", "right", "same"):
        assert sum(f"_{hand}_" in n for n in plates) == sum(
            p["hand"] == hand for p in data["plates"]
        )
    rows = list(csv.DictReader(files["cut-list.csv"].decode().splitlines()))
    assert [int(r["count"]) for r in rows] == [p["count"] for p in data["plates"]]
    placed = sum(len(s["placements"]) for s in data["sheets"])
    assert placed == sum(p["count"] for p in data["plates"])
    assert "kerf not compensated" in result.output
    assert "Screening only" in result.output


def test_sheets_hold_every_plate_of_their_thickness(tmp_path):
    run("make", BUGGY, "--out", tmp_path)
    for path in (tmp_path / "sheets").glob("*.dxf"):
        document = ezdxf.readfile(path)
        outside = [e for e in document.modelspace() if e.dxf.layer == "OUTSIDE_CUT"]
        assert len(outside) == (4 if "3mm" in path.name else 8)


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_same_job_same_bytes_in_another_process(version, tmp_path):
    run("make", BUGGY, "--out", tmp_path / "a", "--dxf", version)
    env = {**os.environ, "PYTHONHASHSEED": "77", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    command = [sys.executable, "-m", "partgen", "make", str(BUGGY), "--out", str(tmp_path / "b")]
    subprocess.run([*command, "--dxf", version], cwd=ROOT, env=env, check=True, capture_output=True)
    assert tree(tmp_path / "a") == tree(tmp_path / "b")


def test_wider_bushing_follows_through(tmp_path):
    run("make", BUGGY, "--set", "joint_width=63 mm", "--out", tmp_path)
    data = json.loads((tmp_path / "job.json").read_text())
    fit = data["mounts"][0]["fit"]
    assert (fit["gap"], fit["spacer_inner"]) == (64, 6)
    assert data["mounts"][0]["bolt"]["length"] == 120


def failing_job(tmp_path):
    """The ear of the demo made too small for its bolt."""
    text = BUGGY.read_text().replace("rear = 160", "rear = 160\near_radius = 18")
    path = tmp_path / "small-ear.toml"
    path.write_text(text)
    return path


def test_a_failing_rule_exits_1_and_writes_no_cut_file(tmp_path):
    job = failing_job(tmp_path)
    result = run("make", job, "--out", tmp_path / "out", code=1)
    assert "STOPPED" in result.output
    assert "FAIL edge-distance, lower-front-mount/inner" in result.output
    names = set(tree(tmp_path / "out"))
    assert not any(name.endswith(".dxf") for name in names)
    assert {"cut-list.csv", "hardware.csv", "job.json"} <= names
    data = json.loads((tmp_path / "out" / "job.json").read_text())
    assert data["state"].startswith("stopped by a failing rule")
    run("check", job, code=1)


def test_cut_files_of_an_earlier_run_are_kept_aside_when_a_rule_stops_the_job(tmp_path):
    job = failing_job(tmp_path)
    good = job.read_text()
    job.write_text(good.replace("ear_radius = 18", ""))
    run("make", job, "--out", tmp_path / "out")
    job.write_text(good)
    run("make", job, "--out", tmp_path / "out", code=1)
    left = [n for n in tree(tmp_path / "out") if n.endswith(".dxf")]
    assert left
    assert all(n.startswith("superseded") for n in left)


def test_accepted_finding_lets_the_job_through_and_stays_visible(tmp_path):
    job = failing_job(tmp_path)
    entry = '\n[[accept]]\nrule = "{}"\nplate = "lower-front-mount/{}"\nreason = "proof-cut and measured"\n'
    entries = "".join(
        entry.format(rule, side)
        for rule in ("edge-distance", "hole-clearance")
        for side in ("inner", "outer")
    )
    job.write_text(job.read_text() + entries)
    result = run("make", job, "--out", tmp_path / "out")
    assert "FAIL edge-distance" in result.output
    assert "proof-cut and measured" in result.output


def test_an_accept_that_meets_nothing_warns(tmp_path):
    job = tmp_path / "job.toml"
    entry = '\n[[accept]]\nrule = "{}"\nplate = "{}"\nreason = "none"\n'
    for rule, plate, words in (
        ("web", "lower-front-mount/inner", "nothing there to accept; remove the entry"),
        ("web", "lower-front-mount/iner", "did you mean 'lower-front-mount/inner'"),
        ("wbe", "lower-front-mount/inner", "no such rule; did you mean 'web'"),
    ):
        job.write_text(BUGGY.read_text() + entry.format(rule, plate))
        assert words in run("check", job).output


def test_check_prints_measured_required_margin_and_source():
    output = run("check", BUGGY).output
    head, first = output.splitlines()[:2]
    assert head.split() == ["rule", "plate", "where", "measured", "required", "margin", "source"]
    assert first.split()[-7:] == ["24.00", "22.00", "2.00", "AISC", "360-16", "Table", "J3.4M"]


def test_check_strict_fails_on_what_is_not_covered(tmp_path):
    job = tmp_path / "m14.toml"
    job.write_text(BUGGY.read_text().replace('bolt = "M16"', 'bolt = "M14"'))
    assert "not covered" in run("check", job).output
    run("check", job, "--strict", code=1)


def test_json_everywhere(tmp_path):
    for args in (
        ("check", BUGGY),
        ("make", BUGGY, "--out", tmp_path / "o"),
        ("families",),
        ("families", "gusset"),
        ("demo", tmp_path / "d"),
    ):
        assert json.loads(run(*args, "--json").stdout)


def test_wrong_input_exits_2_and_writes_nothing(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(BUGGY.read_text().replace("depth = 100", "depth = -1").replace('"M16"', '"M15"'))
    result = run("make", job, "--out", tmp_path / "out", code=2)
    assert len(result.stderr.splitlines()) == 2
    assert not (tmp_path / "out").exists()
    assert json.loads(run("check", job, "--json", code=2).stdout)["problems"]


def test_a_plate_that_fits_no_sheet_is_named_and_nothing_is_written(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(
        BUGGY.read_text().replace(
            'plate = "6 mm S355"\nsize = [1250, 2500]', 'plate = "6 mm S355"\nsize = [200, 200]'
        )
    )
    result = run("make", job, "--out", tmp_path / "out", code=2)
    assert "lower-front-mount/inner/left" in result.stderr
    assert not (tmp_path / "out").exists()


def test_no_sheet_of_a_thickness_is_named(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(
        BUGGY.read_text().replace(
            'plate = "6 mm S355"\nheight = 60', 'plate = "5 mm S355"\nheight = 60'
        )
    )
    result = run("make", job, "--out", tmp_path / "out", code=2)
    assert "no [[sheet]] of 5 mm S355 for web/gusset/left, web/gusset/right" in result.stderr


def test_only_makes_one_part(tmp_path):
    run("make", BUGGY, "--only", "web", "--out", tmp_path)
    assert len(list((tmp_path / "plates").iterdir())) == 2
    assert "did you mean 'web'" in run("make", BUGGY, "--only", "webb", code=2).stderr


def test_a_foreign_file_in_the_way_stops_the_run_untouched(tmp_path):
    run("make", BUGGY, "--out", tmp_path)
    target = tmp_path / "cut-list.csv"
    target.write_text("mine")
    other = tmp_path / "notes.txt"
    other.write_text("mine too")
    before = tree(tmp_path)
    result = run("make", BUGGY, "--out", tmp_path, "--set", "joint_width=58", code=2)
    assert target.name in result.stderr
    assert tree(tmp_path) == before


def test_a_changed_plate_keeps_its_older_file_aside(tmp_path):
    run("make", BUGGY, "--out", tmp_path)
    old = {n: c for n, c in tree(tmp_path).items() if "_web_" in n and n.endswith(".dxf")}
    run("make", BUGGY, "--out", tmp_path, "--set", "joint_width=63")
    new = tree(tmp_path)
    kept = [c for n, c in new.items() if n.startswith("superseded") and "_web_" in n]
    assert sorted(kept) == sorted(old.values())
    assert not any(name in new for name in old)  # their revision moved on


def test_nest_puts_several_parts_on_one_sheet(tmp_path):
    run("make", BUGGY, "--out", tmp_path / "a")
    files = sorted((tmp_path / "a" / "plates").glob("*6mm*.dxf"))
    result = run(
        "nest",
        *files,
        "--sheet",
        "1250x2500",
        "--count",
        f"{files[0].name}=3",
        "--out",
        tmp_path / "n",
    )
    (sheet,) = (tmp_path / "n").glob("*.dxf")
    space = ezdxf.readfile(sheet).modelspace()
    assert sum(e.dxf.layer == "OUTSIDE_CUT" for e in space) == len(files) + 2
    assert "1250x2500" in result.output


def test_nest_takes_inch_sheets_and_jobs(tmp_path):
    run("nest", TRAILER, "--sheet", "48x96in", "--out", tmp_path)
    sheets = sorted(tmp_path.glob("*.dxf"))
    assert [s.name.split("_")[1] for s in sheets] == ["0.25in-A36", "0.375in-A36"]
    for sheet in sheets:
        document = ezdxf.readfile(sheet)
        assert document.header["$INSUNITS"] == 1
        edge = next(e for e in document.modelspace() if e.dxf.layer == "REFERENCE")
        xs, ys = zip(*[(p[0], p[1]) for p in edge.get_points()], strict=True)
        assert (max(xs), max(ys)) == (48, 96)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--sheet", "1250"], "write width x height"),
        (["--sheet", "0x2500"], "must be more than 0"),
        (["--sheet", "100x100"], "fits no sheet"),
        (["--sheet", "1250x2500", "--gap", "0"], "gap"),
        (["--sheet", "1250x2500", "--margin", "-3"], "margin"),
        (["--sheet", "1250x2500", "--count", "nothing.dxf=2"], "no such file"),
        (["--sheet", "1250x2500", "--count", "x"], "write NAME=VALUE"),
    ],
)
def test_nest_mistakes(args, words, tmp_path):
    run("make", BUGGY, "--out", tmp_path / "a")
    file = next((tmp_path / "a" / "plates").glob("*outer_left*.dxf"))
    result = run("nest", file, *args, "--out", tmp_path / "n", code=2)
    assert words in result.stderr
    assert not (tmp_path / "n").exists()


def test_nest_reads_each_file_in_its_own_unit(tmp_path):
    """An inch file on a metric sheet keeps its size; an R12 file from elsewhere must be told."""
    run("make", TRAILER, "--only", "web", "--out", tmp_path / "a")
    file = next((tmp_path / "a" / "plates").glob("*left*"))
    run("nest", file, "--sheet", "300x300", "--out", tmp_path / "n")
    space = ezdxf.readfile(next((tmp_path / "n").glob("*.dxf"))).modelspace()
    (plate,) = [e for e in space if e.dxf.layer == "OUTSIDE_CUT"]
    points = list(plate.get_points())
    size = sorted(max(p[k] for p in points) - min(p[k] for p in points) for k in (0, 1))
    assert size == pytest.approx([2.25 * 25.4, 2.75 * 25.4])
    bare = tmp_path / "bare.dxf"
    document = ezdxf.new("R12")
    document.modelspace().add_circle((0, 0), 1)
    document.saveas(bare)
    assert "unit" in run("nest", bare, "--sheet", "300x300", code=2).stderr
    run("nest", bare, "--sheet", "300x300", "--file-unit", "in", "--out", tmp_path / "m")


def test_nest_refuses_files_that_are_no_plates(tmp_path):
    bad = tmp_path / "bad.dxf"
    bad.write_text("not a dxf")
    lines = run(
        "nest", bad, tmp_path / "none.dxf", "--sheet", "1250x2500", code=2
    ).stderr.splitlines()
    assert len(lines) == 2


def test_demo_copies_and_leaves_what_is_there_alone(tmp_path):
    run("demo", tmp_path / "d")
    folder = ROOT / "demo_parts"
    data = [*folder.glob("*.csv"), *folder.glob("*.dxf")]
    copied = {p.name for p in (tmp_path / "d").iterdir()}
    assert copied == {p.name for p in (*DEMOS, *data)}
    run("check", tmp_path / "d" / "fold-down-carrier.toml")
    run("check", tmp_path / "d" / "measured-rails.toml")
    (tmp_path / "d" / BUGGY.name).write_text("mine")
    run("demo", tmp_path / "d", code=2)
    assert (tmp_path / "d" / BUGGY.name).read_text() == "mine"
    run("make", tmp_path / "d" / "camping-trailer.toml", "--out", tmp_path / "o")


def test_families_lists_and_describes():
    assert "link-mount" in run("families").output
    text = run("families", "gusset").output
    assert "far_height" in text
    assert "required" in text
    assert "did you mean 'gusset'" in run("families", "guset", code=2).stderr


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_shows_units_limits_and_a_sketch(family):
    text = run("families", family).output
    assert "key " in text
    assert "unique in the job" in text
    assert text.index("\nname ") < text.index("in every part:") < text.index("\npriority ")
    assert "drawn from the least entry" in text
    assert "``" not in text


@pytest.mark.parametrize("family", SAMPLES)
def test_the_entry_a_family_shows_is_the_one_it_drew(family):
    shown = run("families", family).output.split("[[part]]")[1].split("\n\n")[0]
    entry = tomllib.loads(shown)
    assert entry.pop("name") == f"my-{family}"
    assert entry.pop("family") == family
    if family not in NO_PLATE:
        assert entry.setdefault("plate", "6 mm S355") == SAMPLES[family].get("plate", "6 mm S355")
        entry = {k: v for k, v in entry.items() if k != "plate" or k in SAMPLES[family]}
    assert entry == SAMPLES[family]


def test_schema_tells_the_keys_of_a_table():
    lines = run("schema", "rail").output.splitlines()
    (width,) = [line.split() for line in lines if line.startswith("width ")]
    assert width[:5] == ["width", "mm", "required", "over", "0"]
    assert "lower_edge = { ... }" in lines
    features = run("schema", "features").output
    assert "cutouts = [{ ... }]" in features
    assert "rail = { NAME = { ... } }" in run("schema", "linkage").output
    assert "did you mean 'sheet'" in run("schema", "shet", code=2).stderr
    assert "see partgen families" in run("schema", "part", code=2).stderr


def test_a_familys_words():
    lines = run("families", "axle-saddle").output.splitlines()
    (wrap,) = [line.split() for line in lines if line.startswith("wrap ")]
    assert wrap[:6] == ["wrap", "degrees", "140", "from", "20", "to"]
    (tube,) = [line.split() for line in lines if line.startswith("tube ")]
    assert tube[:5] == ["tube", "mm", "required", "over", "0"]


def test_families_svg(tmp_path):
    run("families", "tower", "--svg", tmp_path / "t.svg")
    assert (tmp_path / "t.svg").read_text(encoding="utf-8").startswith("<svg")
    assert "already there" in run("families", "tower", "--svg", tmp_path / "t.svg", code=2).stderr
    assert "name it" in run("families", "--svg", tmp_path / "u.svg", code=2).stderr
    assert not (tmp_path / "u.svg").exists()


def test_from_dxf_is_drawn_from_a_small_drawing_and_says_what_was_mended():
    text = run("families", "from-dxf").output
    assert "1 bolt hole, 1 opening" in text
    assert "sample.dxf mended: " in text


def test_help_names_exit_status_and_cautions():
    text = run("--help").output
    assert "1  a rule fails" in text
    assert "local vehicle" in " ".join(text.split())
