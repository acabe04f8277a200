"""The job file: measures, references, and every mistake found in one pass."""

from pathlib import Path

import pytest
from helpers import replaced

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job

DEMOS = sorted((Path(__file__).parents[1] / "demo_parts").glob("*.toml"))
BUGGY = next(p for p in DEMOS if p.stem == "hill-trial-buggy")

WRONG = """
[job]
name = "Ten mistakes"
units = "mm"
cuting = "plasma-65a"

[measures]
joint_width = "57 furlongs"
half = "= rail_widht / 2"
rail_width = 50

[rail.left]
width = "= rail_width"
depth = -100

[joint.bush]
width = 57
bolt = "M17"
body_diameter = 64

[[part]]
name = "mount"
family = "link-mout"

[[part]]
name = "Pad 1"
family = "spacer"
size = [10, 20]
plate = "6 mm S35"

[[part]]
name = "web"
family = "gusset"
heigth = 40
height = 40
width = 80
plate = "S355"

[[sheet]]
plate = "6 mm S355"
size = [1250]
"""


def problems(text, tmp_path, changes=None):
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        build(load_job(path, changes or {}))
    assert all("\n" not in line and line.startswith("job.toml: ") for line in error.value.problems)
    return error.value.problems


def changed(tmp_path, *pairs):
    text = replaced(BUGGY.read_text(encoding="utf-8"), *pairs)
    return text


def test_ten_mistakes_are_ten_lines(tmp_path):
    found = problems(WRONG, tmp_path)
    expected = [
        "measures.joint_width: '57 furlongs': unit 'furlongs' is not known",
        "measures.half: 'rail_widht / 2' uses 'rail_widht', no such measure; did you mean 'rail_width'?",
        "job.cuting: unknown key; did you mean 'cutting'?",
        "rail.left.depth = -100: must be more than 0",
        "joint.bush.bolt",
        "sheet[1].size",
        "part[1] \"mount\": family = 'link-mout'; did you mean 'link-mount'?",
        "part[2] \"Pad 1\".name = 'Pad 1': use lower-case letters",
        'part[2] "Pad 1".plate',
        "part[3] \"web\".heigth: unknown key; did you mean 'height'?",
        'part[3] "web".plate',
    ]
    assert len(found) == len(expected)
    for line, words in zip(sorted(found), sorted(f"job.toml: {w}" for w in expected), strict=True):
        assert line.startswith(words)


def test_measures_refer_to_each_other_in_any_order(tmp_path):
    job = load_job(BUGGY)
    assert job.measures == {"joint_width": 57, "rail_width": 52}
    text = changed(
        tmp_path,
        (
            "joint_width = 57 ",
            "joint_width = '= twice - rail_width - 1'\ntwice = '= 2 * half'\nhalf = '= 55'\n",
        ),
    )
    (tmp_path / "j.toml").write_text(text)
    assert load_job(tmp_path / "j.toml").measures["joint_width"] == 57


def test_measures_in_a_circle_are_named(tmp_path):
    text = changed(
        tmp_path, ("joint_width = 57 ", "joint_width = '= a + 1'\na = '= joint_width - 1'\n")
    )
    found = problems(text, tmp_path)
    assert any("measures.joint_width: goes round in a circle through 'a'" in line for line in found)


def test_setting_a_measure_changes_gap_spacer_gusset_and_bolt():
    before, after = build(load_job(BUGGY)), build(load_job(BUGGY, {"joint_width": "63 mm"}))
    fits = [b.mounts[0].fit for b in (before, after)]
    assert [f.gap for f in fits] == [58, 64]
    assert [f.need for f in fits] == pytest.approx([5.79375, 11.79375])
    webs = [next(p for p in b.plates if p.part == "web").outline.box[2] for b in (before, after)]
    assert webs == [58, 64]
    spacers = [
        next(p for p in b.plates if p.part == "rail-spacer").thickness for b in (before, after)
    ]
    assert spacers == [3, 6]
    assert [b.mounts[0].bolt_fit.length for b in (before, after)] == [110, 120]


def test_setting_an_unknown_measure_names_the_nearest(tmp_path):
    found = problems(BUGGY.read_text(), tmp_path, {"joint_widht": "63"})
    assert found == ["job.toml: --set joint_widht: no such measure; did you mean 'joint_width'?"]


def test_inch_job_reads_bare_numbers_as_inches_and_errors_in_inches(tmp_path):
    trailer = next(p for p in DEMOS if p.stem == "camping-trailer")
    job = load_job(trailer)
    assert job.measures["rail_width"] == pytest.approx(50.8)
    text = trailer.read_text().replace('rear = "5-1/2 in"', "rear = 1")
    (line,) = problems(text, tmp_path)
    assert " in)" in line
    assert "mm" not in line


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('rail = "left"', 'rail = "lefd"', "rail = 'lefd': no such rail; did you mean 'left'?"),
        ('mount = "lower-front-mount"\nsize', 'mount = "front"\nsize', "mount = 'front': no such mount"),
        ('rules = "aisc-360-16"', 'rules = "aisc"', "job.rules: profiles/rules: 'aisc' is unknown"),
        ('cutting = "plasma-65a"', 'cutting = "x"', "job.cutting: profiles/cutting: 'x' is unknown"),
        ('name = "web"', 'name = "rail-spacer"', 'part "rail-spacer" is there 2 times'),
        ("[0, 0], [260, 0]", "[260, 0], [0, 0]", "rail.left.lower_edge: station 2 (x = 0 mm) must lie"),
        ("depth = 100", "depth = nan", "rail.left.depth: nan is no length"),
        ("depth = 100", "depth = 1e300", "longer than 100 m"),
        ("depth = 100", "depth = true", "is no length"),
        ("depth = 100", 'depth = "= 1/0"', "divides by zero"),
        ("depth = 100", 'depth = "= __import__(1)"', "no plain arithmetic"),
        ('size = [150, 60]', 'size = [150, 60]\ncount = 0', "count = 0: must be at least 1"),
        ('size = [150, 60]', 'size = [150, 60]\ncount = 1000000000', "must be at most 10000"),
        ("pivot = [310, -68]", "pivot = [310]", "pivot"),
        ('units = "mm"', 'units = "cubit"', "job.units = 'cubit': must be 'mm' or 'in'"),
        ("[[sheet]]", "[[sheets]]", "sheets: unknown key; did you mean 'sheet'?"),
    ],
)  # fmt: skip
def test_each_mistake_is_one_line_a_person_can_act_on(old, new, words, tmp_path):
    found = problems(changed(tmp_path, (old, new)), tmp_path)
    assert any(words in line for line in found), found


@pytest.mark.parametrize("content", [b"\xff\xfe", b"[job", b"a = " + b"[" * 5000, b"\x00", b""])
def test_what_is_no_job_file_says_so(content, tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    with pytest.raises(PartgenError):
        load_job(path)


def test_missing_file_and_folder(tmp_path):
    with pytest.raises(PartgenError, match="No such file"):
        load_job(tmp_path / "none.toml")
    with pytest.raises(PartgenError, match="directory"):
        load_job(tmp_path)


def test_huge_file_is_refused_unread(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"#" * 2_000_000)
    with pytest.raises(PartgenError, match="larger than 1 MB"):
        load_job(path)


FIRST = [p for p in DEMOS if p.stem in ("hill-trial-buggy", "camping-trailer")]


@pytest.mark.parametrize("path", FIRST, ids=lambda p: p.stem)
def test_demos_hold_what_a_demo_holds(path):
    made = build(load_job(path))
    hands = [(p.name, p.hand) for p in made.plates if p.part.endswith("mount")]
    assert hands == [("inner", "left"), ("inner", "right"), ("outer", "left"), ("outer", "right")]
    inner, outer = (next(p for p in made.plates if p.name == n) for n in ("inner", "outer"))
    assert len(outer.windows) == len(inner.windows) + 1
    assert len({p.thickness for p in made.plates}) == 2
    assert sum(p.name == "gusset" for p in made.plates) >= 2
    assert any(p.name == "pad" for p in made.plates)
