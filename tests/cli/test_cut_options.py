"""The cut-ready options as a user runs them, read back with ezdxf and GEOS."""

import json
import re
from math import pi
from pathlib import Path

import ezdxf
import pytest
import shapely
from click.testing import CliRunner
from ezdxf import path as dxf_path

from partgen.cli import main
from partgen.job.build import build
from partgen.job.job import load_job

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    return result.output


def drawn(path):
    """Layer, is closed, points of every entity in file order, in mm."""
    document = ezdxf.readfile(path)
    assert not document.audit().errors
    scale = {4: 1.0, 1: 25.4}[document.header["$INSUNITS"]]
    for entity in document.modelspace():
        made = dxf_path.make_path(entity)
        points = [(p.x * scale, p.y * scale) for p in made.flattening(0.0005)]
        yield entity.dxf.layer, made.is_closed, points


def areas(path, layer):
    return sorted(shapely.Polygon(p).area for found, _, p in drawn(path) if found == layer)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_all_options_at_once_on_every_demo(demo, tmp_path):
    out = run("make", demo, "--out", tmp_path, "--kerf", "profile", "--leads", "--clockwise",
              "--text", "--motion", "plain", "--joints", "2")  # fmt: skip
    assert "compensated: set none at the machine" in out
    assert "CHECK ON YOUR MACHINE WITH THE TORCH OFF FIRST" in out
    data = json.loads((tmp_path / "job.json").read_text())
    assert data["cut"]["kerf"] == pytest.approx(load_job(demo).shop.cutting.kerf)
    assert len(list((tmp_path / "motion").glob("*.ngc"))) == len(
        list((tmp_path / "sheets").glob("*.dxf"))
    )
    scribed = set()
    for path in tmp_path.glob("sheets/*.dxf"):
        assert "_kerf-" in path.name
        layers = [layer for layer, _, _ in drawn(path)]
        assert {"REFERENCE", "LEAD", "OUTSIDE_CUT"} <= set(layers)
        scribed.update(layers)
    assert "SCRIBE_MARK" in scribed


def test_kerf_in_the_file_is_the_closed_form_and_said_twice(tmp_path):
    """Spacer 150 x 60 with 6 mm corners is convex: A + L k/2 + pi k^2/4 (Steiner)."""
    run("make", BUGGY, "--out", tmp_path, "--kerf", "2.2 mm")
    (spacer,) = tmp_path.glob("plates/*rail-spacer*.dxf")
    area, length = 150 * 60 - (4 - pi) * 36, 2 * (150 + 60 - 24) + 2 * pi * 6
    assert areas(spacer, "OUTSIDE_CUT") == pytest.approx(
        [area + length * 1.1 + pi * 1.1**2], rel=1e-5
    )
    assert "_kerf-2.2mm_mm.dxf" in spacer.name
    page = (tmp_path / "packet.html").read_text()
    assert "kerf 2.2 mm compensated there: set none at the machine" in page
    assert "kerf not compensated" not in page
    text = spacer.read_text()
    assert "kerf compensated in this file: 2.2 mm; set none at the machine" in text
    assert "not compensated" not in text
    assert json.loads((tmp_path / "job.json").read_text())["kerf"].startswith("compensated")


def test_a_compensated_file_is_not_laid_out_again(tmp_path):
    run("make", BUGGY, "--out", tmp_path / "a", "--kerf", "profile")
    (spacer,) = (tmp_path / "a").glob("plates/*rail-spacer*.dxf")
    out = run("nest", spacer, "--sheet", "500x500", "--out", tmp_path / "b", code=2)
    assert "kerf is compensated in this file already; take the nominal one" in out


def test_nominal_by_default(tmp_path):
    out = run("make", BUGGY, "--out", tmp_path)
    assert "nominal size, kerf not compensated" in out
    plates = {p.label: p for p in build(load_job(BUGGY)).plates}
    for path in tmp_path.glob("plates/*inner_left*.dxf"):
        plate = plates["lower-front-mount/inner/left"]
        assert areas(path, "OUTSIDE_CUT") == pytest.approx([plate.outline.area], rel=1e-6)
        kinds = ["DRILL_CENTRE", "DRILL_CENTRE", "OUTSIDE_CUT"]  # the pivot is drilled
        assert [layer for layer, _, _ in drawn(path)] == kinds


def test_marks_come_before_cuts_and_leads_are_apart(tmp_path):
    run("make", BUGGY, "--out", tmp_path, "--leads", "--text")
    for path in tmp_path.glob("sheets/*.dxf"):
        found = list(drawn(path))
        kinds = [layer for layer, _, _ in found]
        last_mark = max(k for k, layer in enumerate(kinds) if layer == "SCRIBE_MARK")
        first_cut = min(k for k, layer in enumerate(kinds) if layer.endswith("_CUT"))
        assert last_mark < first_cut
        assert all(closed for layer, closed, _ in found if layer.endswith("_CUT"))
        leads = [shapely.LineString(p) for layer, _, p in found if layer == "LEAD"]
        for layer, _, p in found:
            if layer.endswith("_CUT"):
                assert min(shapely.LinearRing(p).distance(lead) for lead in leads) < 0.001


@pytest.mark.parametrize("flag", [True, False])
def test_the_direction_of_closed_cuts_in_the_file(flag, tmp_path):
    run("make", BUGGY, "--out", tmp_path, *(["--clockwise"] if flag else []))
    for path in tmp_path.glob("plates/*outer_left*.dxf"):
        found = list(drawn(path))
        assert len(found) == 4
        for layer, _, points in found[2:]:  # after the drill centre of the pivot
            anticlockwise = shapely.LinearRing(points).is_ccw
            assert anticlockwise == (layer == "INSIDE_CUT" or not flag)


def test_one_layer(tmp_path):
    run("make", BUGGY, "--out", tmp_path, "--one-layer")
    files = [p for p in tmp_path.glob("*/*.dxf") if p.parent.name != "offcuts"]
    assert files
    for path in files:
        assert {layer for layer, _, _ in drawn(path)} <= {"CUT", "DRILL_CENTRE", "REFERENCE"}


def window_job(tmp_path):
    """A frame with a large window, and discs that the layout lays in it."""
    job = tmp_path / "frame.toml"
    job.write_text("""
[job]
name = "Ring and discs"
units = "mm"
[rail.r]
width = 57
depth = 300
corner_radius = 8
lower_edge = [[-600, 0], [600, 0]]
[joint.j]
width = 56
body_diameter = 50
bolt = "M16"
[[part]]
name = "mount"
family = "link-mount"
rail = "r"
joint = "j"
pivot = [0, -60]
plate = "6 mm S355"
rear = 230
ends = "square"
front = 230
hands = "left"
windows = [{ name = "big", at = [0, 150], size = [180, 150], radius = 15 }]
[[part]]
name = "disc"
family = "spacer"
shape = "round"
diameter = 125
bolt = "M16"
plate = "6 mm S355"
hands = "left"
[[sheet]]
plate = "6 mm S355"
size = [500, 408]
count = 2
""")
    return job


def test_a_plate_in_a_window_is_cut_before_the_window(tmp_path):
    run("make", window_job(tmp_path), "--out", tmp_path / "out")
    sheets = sorted((tmp_path / "out").glob("sheets/*.dxf"))
    sheet = max(sheets, key=lambda path: len(list(drawn(path))))
    loops = [shapely.Polygon(p) for layer, _, p in drawn(sheet) if layer.endswith("_CUT")]
    inside = [
        (k, m) for k, a in enumerate(loops) for m, b in enumerate(loops) if k != m and b.contains(a)
    ]
    assert max(sum(k == n for k, _ in inside) for n in range(len(loops))) == 3  # the disc's hole
    for small, large in inside:
        assert small < large


def test_hole_policy_of_the_job(tmp_path):
    job = tmp_path / "drilled.toml"
    job.write_text(
        BUGGY.read_text()
        + """
[[hole]]
plate = "lower-front-mount"
hole = "joint"
policy = "mark"
"""
    )
    out = run("make", job, "--out", tmp_path / "out")
    assert "drill 17 mm: 4 holes in lower-front-mount; holes.csv has each" in out
    (path,) = (tmp_path / "out").glob("plates/*inner_left*.dxf")
    kinds = [layer for layer, _, _ in drawn(path)]
    assert kinds == ["DRILL_CENTRE", "DRILL_CENTRE", "OUTSIDE_CUT"]
    assert "mark,,17" in (tmp_path / "out" / "holes.csv").read_text()


def test_a_hole_that_is_not_there(tmp_path):
    job = tmp_path / "wrong.toml"
    job.write_text(
        BUGGY.read_text()
        + '[[hole]]\nplate = "lower-front-mount"\nhole = "jiont"\npolicy = "mark"\n'
    )
    assert "hole[1].hole: 'jiont' is not in lower-front-mount; " in run("check", job, code=2)


@pytest.mark.parametrize(
    ("args", "says"),
    [(("--kerf", "a lot"), "a lot"), (("--kerf", "0"), "outside 0.05 to 10 mm"),
     (("--kerf", "17 mm"), "kerf, 17 mm|outside 0.05 to 10 mm"), (("--joints", "40"), "write 0 to 12"),
     (("--kerf", "0.06"), "read as 0.06 mm, far off the profile's 1.7 mm; write its unit too, as 0.06mm or 0.06in"),
     (("--kerf", "1,6"), "--kerf: '1,6' is no length; write a decimal point"), (("--motion", "plane"), "plain"), (("--motion", "no.toml"), "No such file")],
)  # fmt: skip
def test_wrong_options_are_one_line_and_nothing_is_written(args, says, tmp_path):
    out = run("make", BUGGY, "--out", tmp_path / "out", *args, code=2)
    assert re.search(says, out)
    assert not (tmp_path / "out").exists()


def test_features_the_kerf_would_swallow_are_named(tmp_path):
    job = tmp_path / "slit.toml"
    job.write_text(
        BUGGY.read_text().replace(
            "outer.windows = [",
            'outer.windows = [{ name = "slit", at = [240, 50], size = [20, 1.2], radius = 0.5 }, ',
        )
        + "".join(
            f'\n[[accept]]\nrule = "{rule}"\nplate = "lower-front-mount/outer"\nreason = "test"\n'
            for rule in ("inside-corner", "small-feature")
        )
    )
    accept = '[[accept]]\nrule = "{}"\nplate = "lower-front-mount/outer"\nreason = "trial"\n'
    rules = ("inside-corner", "small-feature", "web", "small-hole")
    job.write_text(job.read_text() + "".join(accept.format(rule) for rule in rules))
    out = run("make", job, "--out", tmp_path / "out", "--kerf", "profile", code=2)
    assert "lower-front-mount/outer/left" in out
    assert "window slit: nothing of it is wider than the kerf, 1.7 mm" in out
    assert not (tmp_path / "out").exists()


def test_a_profile_of_ones_own_beside_the_job(tmp_path):
    run("coupon", "--plate", "6 mm S355", "--out", tmp_path / "coupon")
    form = tmp_path / "coupon" / "form.toml"
    form.write_text(form.read_text().replace('square-50 = ""', "square-50 = 48.65"))
    assert "kerf 1.35 mm" in run("coupon", "--measured", form, "--out", tmp_path / "mine.toml")
    job = tmp_path / "job.toml"
    job.write_text(BUGGY.read_text().replace('"plasma-65a"', '"mine.toml"'))
    assert "kerf 1.35 mm compensated" in run(
        "make", job, "--out", tmp_path / "out", "--kerf", "profile"
    )
    assert "give either --plate" in run("coupon", code=2)


def test_thickness_without_a_feed_has_no_program(tmp_path):
    job = tmp_path / "feeds.toml"
    row = '\n[[cutting.feed]]\nthickness = "3 mm"\nspeed = "4 m"\npierce = 0.3\n'
    job.write_text(BUGGY.read_text() + row)
    out = run("make", job, "--out", tmp_path / "out", "--motion", "plain", code=2)
    assert "has no feed for 6 mm S355; add a [[feed]] row" in out
    assert "no feed for this thickness" in run("make", job, "--out", tmp_path / "out")


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ("[measures]", '[cutting]\nlead = "1 mm"\n[measures]', "cutting.lead = 1 mm: must be at least the kerf"),
        ("[measures]", '[cutting]\ntext_height = "3 mm"\n[measures]', "least_text_height, 4 mm, is more than"),
        ("[measures]", '[cutting]\nleadd = 3\n[measures]', "cutting.leadd: unknown key; did you mean 'lead'?"),
        ("[measures]", '[[hole]]\nplate = "web"\nhole = "a"\npolicy = "drill"\n[measures]', "must be 'cut', 'pilot' or 'mark'"),
        ("[measures]", '[[hole]]\nplate = "web"\nhole = "a"\npolicy = "mark"\n[measures]', "web; it has no bolt holes"),
        ('cutting = "plasma-65a"', 'cutting = "nope.toml"', "'nope.toml': cannot be read: No such file"),
    ],
)  # fmt: skip
def test_wrong_entries_of_the_job_are_named(before, after, says, tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(BUGGY.read_text().replace(before, after, 1))
    assert says in run("make", job, "--out", tmp_path / "out", "--leads", code=2)
    assert not (tmp_path / "out").exists()
