"""Left and right rail: compared against hand sums, mirrored only by choice."""

import pytest
from helpers import shop

from partgen.entries.rail import Rail
from partgen.errors import PartgenError
from partgen.geometry.path import Path
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.rules import check
from partgen.rules.finding import Status
from partgen.rules.rail_sides import RULE, difference
from partgen.rules.rail_sides import check as compared


def rail(lower, **more):
    return Rail.model_validate({"width": 50, "depth": 100, "lower_edge": lower, **more})


def found(left, right):
    return {
        f.where.split(" at ")[0]: f for f in compared(shop(rails={"left": left, "right": right}))
    }


LEFT = rail([(0, 0), (300, 0), (700, -40)])


@pytest.mark.parametrize(("limit", "status"), [(4.4, Status.WARN), (4.5, Status.PASS)])
def test_heights_are_compared_where_both_are_measured(limit, status):
    """The right kicks 45 mm earlier: at x = 300 it is 4.5 mm lower, and so to the end at 600."""
    right = rail([(100, 0), (255, 0), (600, -34.5)], difference=limit)
    answer = found(LEFT, right)["lower edge against 'left'"]
    assert answer.measured == pytest.approx(4.5)
    assert answer.status is status
    assert answer.required == limit


def test_width_and_depth_are_compared():
    answers = found(LEFT, rail([(0, 0), (700, 0)], width=46.5, difference=3.4))
    assert answers["width against 'left'"].measured == pytest.approx(3.5)
    assert answers["width against 'left'"].status is Status.WARN
    assert answers["depth against 'left'"].status is Status.PASS


def test_arcs_are_compared_between_stations():
    a = Path.through([(0, 0), (100, 0)])
    b = rail([(0, 0), (50, 10, 30), (100, 0)]).lower
    away, x = difference(a, b)
    assert x == pytest.approx(50)
    assert away == pytest.approx(b.height(50))
    assert difference(a, Path.through([(200, 0), (300, 0)]))[0] == 0


def test_a_mirrored_side_and_a_missing_one_are_said():
    mirrored = found(LEFT, rail([(0, 0), (9, 0)], mirror_from="left"))["whole rail"]
    assert mirrored.status is Status.NOT_COVERED
    assert "mirrored from 'left'" in mirrored.note
    other = found(LEFT, rail([(0, 0), (9, 0)], other_side="lift"))["whole rail"]
    assert "no rail 'lift'" in other.note
    assert not compared(shop(rails={"left": LEFT}))


JOB = """
[job]
name = "t"
units = "mm"
[rail.left]
width = 52
depth = 100
corner_radius = 8
lower_edge = [[0, 0], [300, 0], [700, -40]]
[rail.right]
{right}
[joint.bush]
width = 57
body_diameter = 64
bolt = "M16"
[[part]]
name = "mount"
family = "link-mount"
rail = {{ left = "left", right = "right" }}
joint = "bush"
pivot = [310, -68]
plate = "6 mm S355"
rear = 160
front = 180
weld_leg = 5
{more}
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
MEASURED = "width = 50\ndepth = 100\ncorner_radius = 8\nlower_edge = [[0, 0], [320, 0], [700, -30]]"


def job(tmp_path, right=MEASURED, more=""):
    path = tmp_path / "job.toml"
    path.write_text(JOB.format(right=right, more=more))
    return build(load_job(path))


def test_each_side_gets_its_own_plates_and_spacers(tmp_path):
    made = job(tmp_path)
    labels = [p.label for p in made.plates]
    assert labels == ["mount-left/inner/left", "mount-left/outer/left", "mount-right/inner/right",
                      "mount-right/outer/right", "pad-left/pad", "pad-right/pad"]  # fmt: skip
    left, right = made.plates[0], made.plates[2]
    assert right.mirrored().outline != left.outline
    right_rail = made.shop.rails["right"]
    on_edge = [s.at(0.5) for s in right.mirrored().outline.segments]
    assert sum(abs(right_rail.lower.distance(p) - 13) < 1e-6 for p in on_edge) >= 2
    pads = {p.part: p for p in made.plates if p.name == "pad"}
    assert pads["pad-left"].thickness == 3
    assert pads["pad-left"].count == pads["pad-right"].count == 2
    warned = [f for f in check(made) if f.rule == RULE and f.status is Status.WARN]
    assert [f.where for f in warned] == ["lower edge against 'left' at x = 700.0 mm"]


def test_mirrored_by_choice_gives_mirror_images(tmp_path):
    made = job(tmp_path, 'mirror_from = "left"')
    plates = {p.label: p for p in made.plates}
    left, right = plates["mount-left/inner/left"], plates["mount-right/inner/right"]
    assert right.mirrored().outline == left.outline
    assert made.shop.rails["right"].width == 52


@pytest.mark.parametrize(
    ("right", "more", "words"),
    [
        ('mirror_from = "left"\nwidth = 50', "", "rail.right.width: a mirrored rail has no measures"),
        ('mirror_from = "lft"', "", "rail.right.mirror_from = 'lft': no such other rail; did you mean 'left'?"),
        ('mirror_from = "right"', "", "no such other rail"),
        (MEASURED, 'hands = "left"', 'part[1] "mount".hands: a part on a pair of rails'),
    ],
)  # fmt: skip
def test_mistakes_in_pairs_say_why(tmp_path, right, more, words):
    with pytest.raises(PartgenError) as error:
        job(tmp_path, right, more)
    assert any(words in p for p in error.value.problems), error.value.problems


def test_a_pair_lacks_a_side(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB.format(right=MEASURED, more="").replace(', right = "right" }', " }"))
    with pytest.raises(PartgenError, match="a pair of rails is"):
        load_job(path)


@pytest.mark.parametrize(("right_limit", "times"), [(3.4, 1), (5.0, 2)])
def test_two_rails_that_name_each_other_are_compared_once_by_each_limit(right_limit, times):
    left = rail([(0, 0), (700, 0)], difference=3.4, other_side="right")
    right = rail([(0, 0), (700, 0)], width=46.5, difference=right_limit, other_side="left")
    answers = compared(shop(rails={"left": left, "right": right}))
    assert sum(f.where.startswith("width") for f in answers) == times
