"""Mistakes people make in a job file: each is told in one line, with what to do."""

from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.toml_text import toml_data

JOB = """[job]
name = "Wagon"
units = "mm"
[measures]
joint_width = 57
rail_width = 52
[rail.frame]
width = "= rail_width"
depth = 100
corner_radius = 8
lower_edge = [[0, 0], [260, 0], [420, -28], [700, -60]]
[joint.bush]
width = "= joint_width"
body_diameter = 64
bolt = "M16"
[[part]]
name = "mount"
family = "link-mount"
rail = "frame"
joint = "bush"
pivot = [310, -68]
plate = "6 mm S355"
[[part]]
name = "pad"
family = "spacer"
mount = "mount"
size = [150, 60]
[[sheet]]
plate = "6 mm S355"
size = [1250, 2500]
[[sheet]]
plate = "3 mm S355"
size = [1250, 2500]
"""
PIVOT = "pivot = [310, -68]"
MISTAKES = [
    # names
    ("corner_radius = 8", "corner_raduis = 8", "did you mean 'corner_radius'"),
    ("corner_radius = 8", "radius = 8", "did you mean 'corner_radius'"),
    (PIVOT, "position = 4\n" + PIVOT, "position: unknown key; known: adjust"),
    ('family = "link-mount"', 'famly = "link-mount"', "famly: unknown key; did you mean 'family'"),
    ('family = "link-mount"', 'family = "bracket"', "family = 'bracket'; known: axle-saddle"),
    ('joint = "bush"\n', "", '"mount".joint is missing: name of the joint its ears hold'),
    ('rail = "frame"', 'rail = "fram"', "no such rail; did you mean 'frame'"),
    ('joint = "bush"', 'joint = "rod-end-k-16"', 'it is in the library; add [joint.rod-end-k-16]'),
    ('mount = "mount"', 'mount = "mnt"', "no such mount; did you mean 'mount'"),
    ('name = "pad"', 'name = "mount"', "is there 2 times; names are unique"),
    ('name = "pad"', 'name = "My Pad"', "use lower-case letters, digits and single hyphens"),
    ("[joint.bush]", "[joint]", "joint: each is a table with a name of its own, as [joint.front]"),
    ("[joint.bush]", "[[joint]]", "joint: each is a table with a name of its own, as [joint.front]"),
    # sizes
    ("body_diameter = 64", "body_diameter = 0", "body_diameter = 0: must be more than 0"),
    ("body_diameter = 64", "body_diameter = -64", "body_diameter = -64: must be more than 0"),
    ("body_diameter = 64", 'body_diameter = "64 mn"', "unit 'mn' is not known; use mm, cm, m, in"),
    ("body_diameter = 64", 'body_diameter = "64,5"', "write a decimal point, no comma"),
    ("body_diameter = 64", "body_diameter = true", "True is no length"),
    ("corner_radius = 8", "corner_radius = 27", "at most 26 mm"),
    (PIVOT, "pivot = 310", "pivot = 310: must be a list in brackets, as [120, 40]"),
    (PIVOT, PIVOT + "\near_radius = 8", "no metal round the hole of 17 mm; give more than 8.5 mm"),
    (PIVOT, PIVOT + "\nweld_leg = 40", "needs 13 mm; lower the shelf (48 mm)"),
    (PIVOT, PIVOT + "\nears = { pivot = [400, -68] }", "must be a list of tables, as [{ ... }]"),
    (PIVOT, PIVOT + "\nwindows = [{ at = [310, 40], size = [40, 50], radius = 30 }]",
     "window 1: radius = 30 mm is more than half its smaller side; give at most 20 mm"),
    (PIVOT, PIVOT + '\nholes = [{ at = [900, 40], bolt = "M16" }]', "hole 1 is not inside the plate"),
    (PIVOT, PIVOT + '\nholes = [{ at = [900, 40], bolt = "M16" }]', "its middle is at (900.0, 40.0) mm"),
    ("pivot = [310, -68]", "pivot = [3100, -68]", "the rail is measured from x = 0 to 700 mm"),
    ("size = [150, 60]\n", "", "size is missing; shape 'rectangle' takes it"),
    # from tables
    ('bolt = "M16"', 'bolt = "16"', "did you mean 'M16'"),
    ('bolt = "M16"', 'bolt = "M15"', "nearest: 'M14' and 'M16'; offered: M5"),
    ('bolt = "M16"', 'bolt = "9/16"', "has no row for its hole; write the hole's diameter in place"),
    ('bolt = "M16"', 'bolt = "M16"\nhole = "lose"', "did you mean 'loose'?; or give the hole's diameter"),
    ('bolt = "M16"', 'bolt = "M16"\nhole = "5/8 in"', "its hole is 15.875 mm, needs more than 16 mm"),
    ('bolt = "M16"', 'bolt = "M16"\nhole = "wide open"', "'wide open' is no clearance; known: close"),
    ('bolt = "M16"', 'bolt = "M16"\nhole = "16,5 mm"', "joint.bush.hole: "),
    ('plate = "6 mm S355"', 'plate = "6 mm S356"', "material 'S356' is unknown; did you mean 'S355'"),
    ('plate = "6 mm S355"', 'plate = "6mm"', "write thickness and material, '6 mm S355'"),
    ('name = "Wagon"', 'name = "Wagon"\ncutting = "plasma65"', "did you mean 'plasma-65a'"),
    ('name = "Wagon"', 'name = "Wagon"\nrules = "mine.toml"', "it is looked for beside the job"),
    ('name = "Wagon"', 'name = "Wagon"\nlibrary = "our.toml"', "neither beside the job nor in"),
    ("[[sheet]]", '[strength]\nbolt_grade = "11.9"\n[[sheet]]', "did you mean '12.9'"),
    # measures
    ('width = "= rail_width"', 'width = "rail_width"', "is a measure; to use it write '= rail_width'"),
    ('width = "= rail_width"', 'width = "= rail_widht"', "did you mean 'rail_width'"),
    ("joint_width = 57", 'joint_width = "= joint_width + 5"', "goes round in a circle"),
    ("rail_width = 52", 'rail_width = "52 m m"', "measures.rail_width: "),
    # TOML
    ("joint_width = 57", "joint_width = 57,5", "line 5, 'joint_width = 57,5': write a decimal point"),
    ("joint_width = 57", "joint_width = .5", "a number begins with a digit: 0.5, not .5"),
    ("[0, 0], [260, 0]", "[0, 0], [260, -.5]", "a number begins with a digit: 0.5, not .5"),
    ("joint_width = 57", "joint_width = 57 mm", "line 5, 'joint_width = 57 mm': text and lengths"),
    ('name = "Wagon"', "name = Wagon", "line 2, 'name = Wagon': text and lengths with a unit stand"),
    ('name = "Wagon"', 'name = "Wagon', "a quote is left open on this line"),
    ("size = [150, 60]", "size = [150, 60", "a bracket before this line is left open"),
    ('[[part]]\nname = "pad"', '[part]\nname = "pad"', "one of several is [[part]], [[sheet]]"),
    ('name = "pad"', 'name = "pad"\nname = "pad"', "this key is there already"),
]  # fmt: skip


@pytest.mark.parametrize(("right", "wrong", "words"), MISTAKES)
def test_a_mistake_is_one_line_that_says_what_to_do(tmp_path, right, wrong, words):
    assert right in JOB
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace(right, wrong, 1), encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        build(load_job(path))
    (line,) = error.value.problems
    assert words in line
    assert line.startswith("job.toml: ")


def test_the_job_without_mistakes_builds(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    assert len(build(load_job(path)).plates) == 5


def test_all_mistakes_at_once_and_none_that_only_follow(tmp_path):
    path = tmp_path / "job.toml"
    text = JOB.replace("depth = 100", "dept = 100").replace('"M16"', '"M15"')
    path.write_text(text.replace("size = [150, 60]", "size = [150, -60]"), encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        load_job(path)
    starts = [line.split(": ")[1].split(" ")[0] for line in error.value.problems]
    assert sorted(starts) == ["joint.bush.bolt", "part[2]", "rail.frame.dept", "rail.frame.depth"]


def test_parts_are_counted_as_typed_though_some_are_made_for_two_rails(tmp_path):
    """The mount and its pad are made twice; the mistakes are in the first and the third part."""
    path = tmp_path / "job.toml"
    pair = JOB.replace('rail = "frame"', 'rail = { left = "frame", right = "frame" }')
    text = pair.replace(PIVOT, PIVOT + "\nheel = 3")
    path.write_text(text + '[[part]]\nname = "last"\nfamily = "ear"\n', encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        load_job(path)
    places = [line.split(": ")[1].split(".")[0] for line in error.value.problems]
    assert places.count('part[1] "mount"') == 1
    assert set(places) == {'part[1] "mount"', 'part[3] "last"'}


def test_an_inch_job_is_told_its_limits_in_inches(tmp_path):
    path = tmp_path / "job.toml"
    head = JOB.split("[[part]]")[0].replace('units = "mm"', 'units = "in"')
    text = head.replace("52", "2").replace("depth = 100", "depth = 4")
    path.write_text(text.replace("corner_radius = 8", "corner_radius = 1.5"), encoding="utf-8")
    with pytest.raises(PartgenError, match=r"1-1/2 in is more than half .* at most 1 in"):
        load_job(path)


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"\xff\xfe", "not UTF-8 text"), (b"a = [1,", "is a bracket or a quote left open")],
)
def test_what_is_no_toml_at_all(content, words):
    with pytest.raises(PartgenError, match=words):
        toml_data(content, "a.toml")


EVERY_TABLE = Path(__file__).parent / "fuzz" / "every-table.toml"


@pytest.mark.parametrize(
    ("old", "new", "lines"),
    [
        ("[300, -40], [300", "[300], [300", ['part[3] "top".points[3][2] is missing']),
        ("[300, -40], [300", "{ at = [300, -40], radios = 3 }, [300",
         ['part[3] "top".points[3].radios: unknown key; did you mean \'radius\'?']),
        ("[260, 0], [420", "7, [420",
         ["rail.left.lower_edge.stations[2] = 7: must be a list in brackets, as [120, 40]"]),
        ("hole = 1 }", "hole = 2.5 }",
         ["linkage.link[1].frame.hole = 2.5: must be text in quotes",
          "linkage.link[1].frame.hole = 2.5: must be a whole number"]),
    ],
)  # fmt: skip
def test_a_value_of_several_kinds_is_told_by_its_place_alone(tmp_path, old, new, lines):
    """No name that only the validator knows stands in a line; the nearest kind counts."""
    text = EVERY_TABLE.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = tmp_path / "job.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        load_job(path)
    told = [p.removeprefix("job.toml: ") for p in error.value.problems]
    assert [p for p in told if "no such part" not in p and "rail.right" not in p] == lines
