"""``nest`` cuts as ``make`` does: every option, for jobs and for DXF files; read with ezdxf and GEOS."""

import json
import re
import struct
import tomllib
from math import pi

import ezdxf
import pytest
import shapely
from click.testing import CliRunner
from ezdxf import path as dxf_path

from partgen.cli import main
from partgen.dxf.read import read_pieces

JOB = """
[job]
name = "Two thicknesses"
units = "mm"
cutting = "{cutting}"
[[part]]
name = "tab"
family = "ear"
bolt = "M16"
height = 70
base = 130
hands = "left"
plate = "6 mm S355"
[[part]]
name = "pad"
family = "plate"
plate = "3 mm S355"
hands = "left"
points = [[0, 0], [140, 0], [140, 80], [0, 60]]
[[sheet]]
plate = "6 mm S355"
size = [500, 400]
[[sheet]]
plate = "3 mm S355"
size = [500, 400]
"""


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    return result.output


def job(tmp_path, name="job.toml", cutting="plasma-65a", more=""):
    path = tmp_path / name
    path.write_text(JOB.format(cutting=cutting) + more)
    return path


def drawing(tmp_path, name="bracket.dxf", small=3):
    """150 x 100 with a hole of 40 and a small one, in mm, by another program."""
    document = ezdxf.new("R2000", units=4)
    space = document.modelspace()
    space.add_lwpolyline([(0, 0), (150, 0), (150, 100), (0, 100)], close=True)
    space.add_circle((50, 50), 20)
    space.add_circle((120, 50), small)
    document.saveas(tmp_path / name)
    return tmp_path / name


def drawn(path):
    for entity in ezdxf.readfile(path).modelspace():
        made = dxf_path.make_path(entity)
        yield entity.dxf.layer, [(p.x, p.y) for p in made.flattening(0.0005)]


def areas(path, layer):
    return sorted(shapely.Polygon(p).area for found, p in drawn(path) if found == layer)


def test_plates_of_different_thickness_lie_on_sheets_of_their_own(tmp_path):
    out = run(
        "nest", job(tmp_path), drawing(tmp_path), "--sheet", "500x400", "--out", tmp_path / "n"
    )
    names = sorted(p.name for p in (tmp_path / "n").glob("*.dxf"))
    assert names == [
        "nested_3mm-S355_sheet-500x400-1_mm.dxf",
        "nested_6mm-S355_sheet-500x400-1_mm.dxf",
        "nested_sheet-500x400-1_mm.dxf",
    ]
    assert "note: hole joint: marked, drill 17 mm: tab/ear" in out
    together = tmp_path / "t"
    run("nest", job(tmp_path), drawing(tmp_path), "--plate", "6 mm S355", "--sheet", "500x400",
        "--out", together)  # fmt: skip
    assert len(list(together.glob("*.dxf"))) == 2


def test_kerf_leads_and_marks_of_plain_dxf(tmp_path):
    """150 x 100 grown by 0.85 each side with round corners, a hole of 40 shrunk; 6 mm is drilled."""
    out = run("nest", drawing(tmp_path), "--plate", "6 mm S355", "--sheet", "400x300", "--kerf",
              "profile", "--leads", "--text", "--out", tmp_path / "n")  # fmt: skip
    (sheet,) = (tmp_path / "n").glob("*.dxf")
    assert sheet.name == "nested_6mm-S355_sheet-400x300-1_kerf-1.7mm_mm.dxf"
    k = 1.7
    assert areas(sheet, "OUTSIDE_CUT") == pytest.approx(
        [15000 + 250 * k + pi * k * k / 4], rel=1e-6
    )
    assert areas(sheet, "INSIDE_CUT") == pytest.approx([pi * (20 - k / 2) ** 2], rel=1e-3)
    layers = [layer for layer, _ in drawn(sheet)]
    assert layers.count("DRILL_CENTRE") == 2
    assert "SCRIBE_MARK" in layers
    assert "LEAD" in layers
    words = "opening .: 6 mm, smaller than 1.5 x thickness: marked, drill it: bracket"
    assert re.search(words, out)
    assert "kerf 1.7 mm compensated: set none at the machine" in out
    again = run("nest", sheet, "--sheet", "500x400", "--out", tmp_path / "b", code=2)
    assert "kerf is compensated in this file already; take the nominal one" in again
    assert not (tmp_path / "b").exists()


def test_every_option_on_a_job_and_a_file_at_once(tmp_path):
    out = run("nest", job(tmp_path), drawing(tmp_path), "--plate", "6 mm S355", "--sheet", "500x400",
              "--kerf", "1.5 mm", "--leads", "--clockwise", "--joints", "2", "--text", "--cool",
              "40mm", "--order", "--png", "900", "--motion", "plain", "--one-layer", "--dxf", "R12",
              "--out", tmp_path / "n")  # fmt: skip
    sheets = sorted((tmp_path / "n").glob("*.dxf"))
    assert len(sheets) == len(list((tmp_path / "n" / "motion").glob("*.ngc"))) == 2
    for path in sheets:
        layers = {layer for layer, _ in drawn(path)}
        assert {"CUT", "LEAD", "REFERENCE"} <= layers <= {
            "CUT", "LEAD", "REFERENCE", "DRILL_CENTRE", "SCRIBE_MARK"}  # fmt: skip
    assert "2 motion programs (kerf 1.5 mm compensated" in out
    assert "2 drill centres are not in the motion program: punch them from a template" in out
    assert "no order less than" in out
    data = json.loads((tmp_path / "n" / "job.json").read_text())
    assert (data["cut"]["cool"], data["cut"]["joints"], data["cut"]["kerf"]) == (40, 2, 1.5)
    for png in (tmp_path / "n" / "pictures").glob("*.png"):
        assert struct.unpack(">I", png.read_bytes()[16:20]) == (900,)
    assert len(list((tmp_path / "n" / "pictures").glob("*.svg"))) == 2


def test_a_motion_program_needs_a_thickness(tmp_path):
    args = ("nest", drawing(tmp_path, small=8), "--sheet", "400x300", "--motion", "plain")
    out = run(*args, "--out", tmp_path / "n", code=2)
    assert 'say what the DXF files are cut from, as --plate "6 mm S355"' in out
    assert not (tmp_path / "n").exists()
    run(*args, "--out", tmp_path / "n", "--plate", "6 mm S355")


def test_marks_and_plate_of_our_own_file_go_with_it(tmp_path):
    """A plate file says what it is cut from; its drill centre and its text lie on the sheet."""
    run("make", job(tmp_path), "--out", tmp_path / "a", "--text")
    (tab,) = (tmp_path / "a" / "plates").glob("*tab*.dxf")
    strokes = [p for layer, p in drawn(tab) if layer == "SCRIBE_MARK"]
    assert strokes
    run("nest", tab, "--sheet", "300x300", "--text", "--out", tmp_path / "n")
    (sheet,) = (tmp_path / "n").glob("*.dxf")
    assert sheet.name.startswith("nested_6mm-S355_")
    found = list(drawn(sheet))
    assert sum(layer == "SCRIBE_MARK" for layer, _ in found) == len(strokes)
    (edge,) = (shapely.Polygon(p) for layer, p in found if layer == "OUTSIDE_CUT")
    marks = [shapely.LineString(p) for layer, p in found if layer == "DRILL_CENTRE"]
    assert len(marks) == 2
    (x, y), (also_x, also_y) = (mark.centroid.coords[0] for mark in marks)
    assert (x, y) == pytest.approx((also_x, also_y), abs=1e-6)
    data = read_pieces(tab.read_bytes(), where="tab")[0][-1]
    eye = next(s for s in data.segments if s.bulge and s.radius > 20)
    assert edge.exterior.distance(shapely.Point(x, y)) == pytest.approx(eye.radius, abs=1e-3)


def test_what_is_left_is_the_next_jobs_sheet(tmp_path):
    run("nest", job(tmp_path), "--sheet", "500x400", "--out", tmp_path / "n")
    entries = tomllib.loads((tmp_path / "n" / "offcuts" / "offcuts.toml").read_text())["sheet"]
    assert [e["plate"] for e in entries] == ["3 mm S355", "6 mm S355"]
    text = (tmp_path / "n" / "offcuts" / "offcuts.toml").read_text()
    following = tmp_path / "n" / "next.toml"
    following.write_text(JOB.format(cutting="plasma-65a").split("[[sheet]]")[0] + text)
    run("make", following, "--out", tmp_path / "m")
    lines = run("nest", drawing(tmp_path), "--sheet", "500x400", "--out", tmp_path / "u")
    assert "what is left, for the next job" in lines
    assert "3 pierces, no time: thickness not known, travel" in lines
    entry = tomllib.loads((tmp_path / "u" / "offcuts" / "offcuts.toml").read_text())["sheet"][0]
    assert entry["plate"] == ""  # to be written by who knows
    assert (tmp_path / "u" / entry["outline"]).exists()


def test_jobs_bring_their_profile_and_must_agree(tmp_path):
    thin = job(tmp_path, "thin.toml", "plasma-45a")
    out = run("nest", thin, "--sheet", "500x400", "--kerf", "profile", "--out", tmp_path / "a")
    assert "kerf 1.4 mm compensated" in out
    both = (thin, job(tmp_path, "b.toml"), "--sheet", "600x400", "--out", tmp_path / "b")
    said = run("nest", *both, code=2)
    assert "not cut alike (thin.toml: plasma, 45 A; b.toml: plasma, 65 A)" in said
    assert "name one profile: --cutting" in said
    run("nest", *both, "--cutting", "plasma-45a")
    assert "plasma-99" in run("nest", *both, "--cutting", "plasma-99", code=2)
    assert "--plate: 'thick'" in run("nest", thin, *both[2:], "--plate", "thick", code=2)


def test_hole_policy_of_a_job_holds_in_nest(tmp_path):
    more = '[[hole]]\nplate = "tab"\nhole = "joint"\npolicy = "pilot"\n'
    out = run("nest", job(tmp_path, more=more), "--sheet", "500x400", "--out", tmp_path / "n")
    assert "hole joint: cut 14 mm, drill to 17 mm: tab/ear" in out
    (sheet,) = (tmp_path / "n").glob("*6mm*.dxf")
    assert areas(sheet, "INSIDE_CUT") == pytest.approx([pi * 49], rel=1e-3)


def test_two_jobs_with_plates_of_the_same_name(tmp_path):
    """The second one's marks and openings are its own: its hole is piloted, the first's is marked."""
    more = '[[hole]]\nplate = "tab"\nhole = "joint"\npolicy = "pilot"\n'
    files = (job(tmp_path, "a.toml"), job(tmp_path, "b.toml", more=more))
    run("nest", *files, "--sheet", "500x400", "--out", tmp_path / "n")
    (sheet,) = (tmp_path / "n").glob("*6mm*.dxf")
    assert len(areas(sheet, "INSIDE_CUT")) == 1
    assert sum(layer == "DRILL_CENTRE" for layer, _ in drawn(sheet)) == 2
    data = json.loads((tmp_path / "n" / "job.json").read_text())
    order = [label for sheet in data["cut"]["sheets"] for label in sheet["order"]]
    assert {"tab/ear: outside edge", "tab/ear (2): outside edge", "tab/ear (2): hole joint"} <= set(
        order
    )
    names = {p["piece"] for s in data["sheets"] for p in s["placements"]}
    assert names == {"tab/ear", "tab/ear (2)", "pad/plate/left", "pad/plate/left (2)"}


@pytest.mark.parametrize("how", [["--kerf", "1.7mm"], ["--motion", "plain"]])
def test_plates_nearer_than_the_kerf_that_the_files_allow_for_are_refused(how, tmp_path):
    """The torch would take of the next plate; nominal files may lie as near as a laser's."""
    given = ["nest", job(tmp_path), "--sheet", "500x400", "--out", tmp_path / "n", "--gap", "1.6mm"]
    out = run(*given, *how, code=2)
    assert "1.6 mm between plates: less than the kerf, 1.7 mm" in out
    assert not (tmp_path / "n").exists()
    run(*given)


def test_plates_on_the_very_edge_of_the_sheet_may_be_cut_with_the_kerf_set_off(tmp_path):
    given = ["nest", job(tmp_path), "--sheet", "500x400", "--out", tmp_path / "n"]
    run(*given, "--margin", "0", "--kerf", "profile")
