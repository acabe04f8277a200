"""Joints and sections: shipped records against published sizes, and a shop's own file."""

from math import pi

import pytest

from partgen.entries.library import find, library, shipped, user_folder
from partgen.errors import PartgenError
from partgen.job.job import load_job

JOB = """
[job]
name = "Library"
units = "in"
{head}
[measures]
sleeve = "2.64 in"
[rail.main]
{rail}
[joint.bush]
{joint}
[[part]]
name = "pad"
family = "spacer"
size = [4, 2]
plate = "1/4 in A36"
"""
RAIL = 'section = "rect-4x2-in-188"'
OWN = """
title = "Our rack"
source = "our own, by calliper"
units = "in"
[joint.our-bush]
width = 2.625
body_diameter = "57 mm"
bolt = "5/8-11"
[section.our-tube]
width = 2
depth = 4
wall = 0.12
corner_radius = 0.25
[[sheet]]
plate = "1/4 in A36"
size = [24, 48]
"""


@pytest.fixture(autouse=True)
def _no_user_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))


def job(tmp_path, head="", rail=RAIL, joint='like = "bonded-bush-5-8"'):
    path = tmp_path / "job.toml"
    path.write_text(JOB.format(head=head, rail=rail, joint=joint))
    return load_job(path)


def problems(tmp_path, **changes):
    with pytest.raises(PartgenError) as caught:
        job(tmp_path, **changes)
    return "\n".join(caught.value.problems)


@pytest.mark.parametrize(
    ("bore", "width", "housing"),
    [(5, 8, 18), (6, 9, 20), (8, 12, 24), (10, 14, 28), (12, 16, 32), (14, 19, 36), (16, 21, 42),
     (18, 23, 46), (20, 25, 50)],
)  # fmt: skip
def test_rod_ends_of_series_k(bore, width, housing):
    """ISO 12240-4, series K: bore d, ball width B, housing d2 in mm; from memory."""
    joint = shipped().joints[f"rod-end-k-{bore}"]
    assert (joint.bore, joint.width, joint.body_diameter) == (bore, width, housing)
    assert joint.bolt.size == f"M{bore}"
    assert "memory" in shipped().sources[f"rod-end-k-{bore}"]


@pytest.mark.parametrize(
    ("name", "mass"),
    [("60x40x3", 4.25), ("100x50x4", 8.59), ("120x80x5", 14.4), ("100x100x8", 21.4)],
)
def test_section_radii_give_the_printed_mass(name, mass):
    """EN 10219-2 table of square and rectangular sections, kg/m; from memory, to its digits."""
    s = shipped().sections[f"rect-{name}"]
    inside = s.corner_radius - s.wall
    area = 2 * s.wall * (s.width + s.depth - 2 * s.wall)
    area -= (4 - pi) * (s.corner_radius**2 - inside**2)
    assert area * 7850e-6 == pytest.approx(mass, rel=0.004)


def test_every_section_is_thicker_than_nothing_and_every_joint_says_its_source():
    found = shipped()
    assert set(found.sources) == {*found.joints, *found.sections}
    rectangular = [s for s in found.sections.values() if not s.is_round]
    assert all(1.6 * s.wall <= s.corner_radius <= 3 * s.wall for s in rectangular)
    assert any(s.is_round for s in found.sections.values())


def test_generic_joints_are_marked_as_examples():
    assert "measure yours" in shipped().sources["urethane-bush-5-8"]


def test_a_record_keeps_its_own_unit_in_an_inch_job(tmp_path):
    found = job(tmp_path, joint='like = "rod-end-k-16"\nmeasured = "= sleeve"')
    joint = found.shop.joints["bush"]
    assert (joint.nominal, joint.body_diameter) == (21, 42)
    assert joint.width == pytest.approx(2.64 * 25.4)
    assert joint.max_misalignment == 15


def test_a_rail_takes_its_section_and_what_is_typed_wins(tmp_path):
    rail = job(tmp_path, rail=RAIL + "\nwidth = 2.02").shop.rails["main"]
    assert rail.width == pytest.approx(2.02 * 25.4)
    assert rail.depth == pytest.approx(101.6)
    assert rail.corner_radius == pytest.approx(2 * 0.1875 * 25.4)


def test_unknown_records_are_named_with_the_nearest(tmp_path):
    text = problems(tmp_path, joint='like = "rod-end-k-61"', rail='section = "rect-4x2-in-189"')
    assert "joint.bush.like = 'rod-end-k-61': no such joint in the library; did you mean" in text
    assert "did you mean 'rect-4x2-in-188'" in text


def test_round_tube_is_no_rail(tmp_path):
    text = problems(tmp_path, rail='section = "round-2-in-120"')
    assert "is round; a rail needs flat faces" in text


def test_a_shops_own_file_beside_the_job(tmp_path):
    (tmp_path / "our.toml").write_text(OWN)
    found = job(
        tmp_path,
        head='library = "our.toml"',
        rail='section = "our-tube"',
        joint='like = "our-bush"',
    )
    assert found.shop.joints["bush"].width == pytest.approx(66.675)
    assert found.shop.joints["bush"].body_diameter == 57
    assert found.shop.rails["main"].depth == pytest.approx(101.6)
    assert [s.text("in") for s in found.shop.rack] == ["1/4 in A36"]
    assert found.sheets[0].size == pytest.approx((609.6, 1219.2))


def test_a_file_in_the_user_folder_and_the_one_beside_the_job_wins(tmp_path):
    user_folder().mkdir(parents=True)
    (user_folder() / "our.toml").write_text(OWN)
    found = library("our.toml", tmp_path)
    assert found.joints["our-bush"].body_diameter == 57
    assert found.sources["our-tube"] == "our own, by calliper"
    assert "rod-end-k-16" in found.joints
    (tmp_path / "our.toml").write_text(OWN.replace("57 mm", "58 mm"))
    assert library("our.toml", tmp_path).joints["our-bush"].body_diameter == 58


@pytest.mark.parametrize("name", ["x" * 5000 + ".toml", "nul\0.toml", "folder.toml"])
def test_a_name_that_is_no_file_is_not_there(tmp_path, name):
    (tmp_path / "folder.toml").mkdir()
    with pytest.raises(PartgenError, match="neither beside the job"):
        find(name, tmp_path)


@pytest.mark.parametrize("name", ["../our.toml", "/tmp/our.toml", "our.txt", "a/../../our.toml"])
def test_a_library_stays_in_its_folders(tmp_path, name):
    (tmp_path / "our.toml").write_text(OWN)
    (tmp_path / "jobs").mkdir()
    with pytest.raises(PartgenError, match="beside the job or in"):
        find(name, tmp_path / "jobs")


def test_a_link_out_of_the_folder_is_refused(tmp_path):
    (tmp_path / "our.toml").write_text(OWN)
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "our.toml").symlink_to(tmp_path / "our.toml")
    with pytest.raises(PartgenError, match="leads out of"):
        find("our.toml", tmp_path / "jobs")


def test_a_missing_file_is_one_line(tmp_path):
    text = problems(tmp_path, head='library = "ours.toml"')
    assert text.count("\n") == 0
    assert "library = 'ours.toml': neither beside the job nor in" in text


def test_every_mistake_of_a_library_is_told(tmp_path):
    wrong = OWN.replace('bolt = "5/8-11"', 'bolt = "M15"').replace("wall = 0.12", "wall = 3")
    (tmp_path / "our.toml").write_text(wrong.replace("corner_radius", "corner_raduis"))
    text = problems(tmp_path, head='library = "our.toml"')
    assert "our.toml: joint.our-bush.bolt" in text
    assert "did you mean 'corner_radius'" in text


@pytest.mark.parametrize(
    ("section", "words"),
    [("width = 2\nwall = 0.1", "give width and depth"),
     ("width = 2\ndepth = 4\ndiameter = 2\nwall = 0.1", "not both"),
     ("width = 2\ndepth = 4\nwall = 1.1", "more than half")],
)  # fmt: skip
def test_a_section_is_one_tube(tmp_path, section, words):
    (tmp_path / "our.toml").write_text(OWN[: OWN.index("[section")] + "[section.x]\n" + section)
    assert words in problems(tmp_path, head='library = "our.toml"')
