"""A web in a link's way cut back: how much against hand geometry, shape against areas and shapely."""

from math import asin, cos, radians, tan

import pytest
import shapely
from linkage_makers import WEB, arm_job, build_text

from partgen import rules
from partgen.errors import PartgenError
from partgen.rules.finding import Status

LINE = '[[linkage.obstacle]]\npart = "web"\nmount = "mount"\nline = [[200, 0], [200, -{height}]]\n'


def job(trim="", height=130, **told):
    web = WEB.format(height=height, far=height - 10)
    return arm_job(parts=web, more=LINE.format(height=height) + trim, **told)


def made(tmp_path, trim="", **told):
    return build_text(job(trim, **told), tmp_path)


def by_hand():
    """Height at which a web 6 thick keeps 6 mm from the tube's upper side, turned up most.

    The web's end is taken as round, 3 mm about its middle line (100 mm behind the pivot).
    """
    angle = asin(20 / 800) + radians(3)
    upper = -150 + 100 * tan(angle) + 22 / cos(angle)  # the tube's upper side at that x
    return -(upper + 9 / cos(angle))


def webs(built):
    return [p for p in built.plates if p.part == "web"]


def test_untrimmed_the_web_is_in_the_way(tmp_path):
    swing = [f for f in rules.check(made(tmp_path)) if f.rule == "swing"]
    assert swing[0].status is Status.FAIL
    assert webs(made(tmp_path))[0].outline.box[3] == pytest.approx(130)


@pytest.mark.parametrize("kind", ["edge", "notch"])
def test_trimmed_it_keeps_the_clearance_exactly(kind, tmp_path):
    built = made(tmp_path, f'trim = "{kind}"')
    (swing,) = [f for f in rules.check(built) if f.rule == "swing"]
    assert swing.status is Status.PASS
    assert swing.measured == pytest.approx(6, abs=1e-4)
    assert built.shop.linkage.trims["web"].kept == pytest.approx(by_hand(), abs=1e-4)


def test_an_edge_is_cut_straight_across_in_lines(tmp_path):
    whole, cut = webs(made(tmp_path))[0], webs(made(tmp_path, 'trim = "edge"'))[0]
    assert cut.outline.box[3] == pytest.approx(by_hand(), abs=1e-4)
    half = shapely.box(-1, -1, 500, by_hand())
    expected = whole.outline.polygon("inside", 1e-4).intersection(half).area
    assert cut.outline.area == pytest.approx(expected, abs=0.05)
    assert sum(bool(s.bulge) for s in cut.outline.segments) == 0  # its round corner is cut off


def test_a_notch_is_as_wide_as_the_tube_and_its_clearance_with_round_corners(tmp_path):
    whole = webs(made(tmp_path, rail=100, joint=107))[0]
    cut = webs(made(tmp_path, 'trim = "notch"', rail=100, joint=107))[0]
    width = whole.outline.box[2]
    arcs = [s for s in cut.outline.segments if abs(s.radius - 10) < 1e-6]
    assert len(arcs) == 2
    assert all(s.bulge < 0 for s in arcs)  # concave
    assert cut.outline.box[3] == pytest.approx(130)  # the horns stand
    walls = sorted({round(s.x0, 6) for s in cut.outline.segments if abs(s.x0 - s.x1) < 1e-9})
    inner = [x for x in walls if 1 < x < width - 1]
    assert inner == pytest.approx([width / 2 - 28, width / 2 + 28], abs=1e-6)
    tool = shapely.box(width / 2 - 28, by_hand(), width / 2 + 28, 200)
    corners = 2 * (100 - 25 * 3.141592653589793)
    gone = whole.outline.polygon("inside", 1e-4).intersection(tool).area - corners
    assert whole.outline.area - cut.outline.area == pytest.approx(gone, abs=0.05)


def test_a_notch_that_would_leave_thin_horns_is_cut_all_across(tmp_path):
    cut = webs(made(tmp_path, 'trim = "notch"'))[0]
    assert cut.outline.box[3] == pytest.approx(by_hand(), abs=1e-4)


def test_both_hands_are_cut_alike(tmp_path):
    left, right = webs(made(tmp_path, 'trim = "notch"', rail=100, joint=107))
    assert right.mirrored().outline.is_same(left.outline, 1e-6)
    assert (left.hand, right.hand) == ("left", "right")


def test_a_web_that_is_clear_is_left_alone(tmp_path):
    built = made(tmp_path, 'trim = "edge"', bump=5, height=80)
    assert built.shop.linkage.trims == {}
    assert webs(built)[0].outline.box[3] == pytest.approx(80)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[200, -130]]", "[200, -100]]", "line is 100 mm long, but part 'web' is 130 mm high"),
        ("line = [[200, 0], [200, -130]]", "at = [200, -40]\ndiameter = 30", "'trim' needs the 'part'"),
        ("clearance = 6", "clearance = 150", "cannot be trimmed"),
    ],
)  # fmt: skip
def test_what_cannot_be_trimmed_is_said(old, new, words, tmp_path):
    text = job('trim = "edge"')
    assert old in text
    with pytest.raises(PartgenError, match=words):
        build_text(text.replace(old, new), tmp_path)


def test_a_part_with_a_place_is_in_the_way_without_being_named(tmp_path):
    web = WEB.format(height=130, far=120) + "place = [203, 0]"
    built = build_text(arm_job(parts=web), tmp_path)
    (swing,) = [f for f in rules.check(built) if f.rule == "swing"]
    assert swing.status is Status.FAIL
    assert "to web at" in swing.where
