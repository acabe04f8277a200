"""Swing, misalignment, linkage hold: jobs with hand geometry, at the limit and just short of it."""

from math import asin, atan2, cos, degrees, radians, sin, sqrt

import pytest
from linkage_makers import ROOT, arm_job, build_text, findings, rear_job

from partgen import rules
from partgen.errors import PartgenError
from partgen.rules.finding import Status

BUGGY = rear_job()


def arm(clearance=6.0, spare=2.0, extra=""):
    return arm_job(clearance=clearance, spare=spare, more=extra)


def by_hand():
    """Far upper corner of the tube to the rail, hub 120 mm up and 3 degrees beyond."""
    angle = asin((120 - 100) / 800) + radians(3)
    return 150 - (800 * sin(angle) + 22 * cos(angle))


def test_swing_against_the_closed_form(tmp_path):
    (finding,) = findings(arm(), tmp_path, "swing")
    assert finding.measured == pytest.approx(by_hand(), abs=1e-6)
    assert finding.status is Status.PASS
    assert "link arm to rail main" in finding.where
    assert "full bump + 3.0 deg" in finding.where


@pytest.mark.parametrize(("short", "status"), [(-1e-3, Status.PASS), (1e-3, Status.FAIL)])
def test_swing_at_its_limit(short, status, tmp_path):
    (finding,) = findings(arm(clearance=by_hand() + short), tmp_path, "swing")
    assert finding.status is status


def test_swing_names_what_is_nearest(tmp_path):
    pipe = '[[linkage.obstacle]]\nname = "pipe"\nmount = "mount"\nat = [100, -40]\ndiameter = 20\n'
    (finding,) = findings(arm(extra=pipe), tmp_path, "swing")
    angle = asin(20 / 800) + radians(3)
    away = 110 * cos(angle) - 200 * sin(angle) - 22 - 10  # square to the tube, seen from the pivot
    assert finding.measured == pytest.approx(away, abs=1e-6)
    assert "to pipe at" in finding.where


def test_swing_counts_the_margin_below_full_droop_too(tmp_path):
    pipe = '[[linkage.obstacle]]\nname = "pipe"\nmount = "mount"\nat = [0, -320]\ndiameter = 20\n'
    (finding,) = findings(arm(extra=pipe), tmp_path, "swing")
    angle = asin((100 + 80) / 800) + radians(3)
    away = 170 * cos(angle) - 300 * sin(angle) - 22 - 10  # square to the tube, seen from the pivot
    assert finding.measured == pytest.approx(away, abs=1e-6)
    assert "full droop + 3.0 deg" in finding.where


def test_swing_says_when_they_meet(tmp_path):
    pipe = '[[linkage.obstacle]]\nname = "pipe"\nmount = "mount"\nat = [0, -160]\ndiameter = 20\n'
    (finding,) = findings(arm(extra=pipe), tmp_path, "swing")
    assert (finding.status, finding.measured) == (Status.FAIL, 0)
    assert finding.note.startswith("they meet")


def test_part_in_the_gap_that_is_not_placed_is_not_covered(tmp_path):
    web = '[[part]]\nname = "web"\nfamily = "gusset"\nmount = "mount"\nplate = "6 mm S355"\nheight = 50\n'
    first, second = findings(arm(extra=web), tmp_path, "swing")
    assert second.status is Status.NOT_COVERED
    assert 'part = "web"' in second.note
    place = '[[linkage.obstacle]]\npart = "web"\nmount = "mount"\nline = [[360, 0], [360, -50]]\n'
    assert len(findings(arm(extra=web + place), tmp_path, "swing")) == 1
    assert first.rule == "swing"


def test_arm_in_one_piece_asks_nothing_of_its_joint_but_may_lean_on_an_ear(tmp_path):
    text = arm_job(hub=680)
    (finding,) = findings(text, tmp_path, "misalignment")
    lean = degrees(asin(180 / sqrt(800**2 + 180**2)))
    assert finding.required == pytest.approx(lean + 2, abs=0.01)
    assert "link on plate edge" in finding.where


def test_joint_at_its_limit(tmp_path):
    """The lower links' joints: what they ask for, plus 2 degrees to spare, is just enough."""
    ends = build_text(BUGGY, tmp_path).shop.linkage.ends
    demand = max(e.worst for e in ends if e.link.name == "lower")
    for more, statuses in ((0.001, {Status.PASS}), (-0.001, {Status.PASS, Status.FAIL})):
        text = BUGGY.replace('"14 deg"', f'"{demand + 2 + more:.6f} deg"')
        lower = [f for f in findings(text, tmp_path, "misalignment") if "link lower" in f.where]
        assert {f.status for f in lower} == statuses
        assert len(lower) == 2


def test_misalignment_says_how_to_turn_the_bolt(tmp_path):
    text = BUGGY.replace('"32 deg"', '"15 deg"')
    upper = next(
        f for f in findings(text, tmp_path, "misalignment") if "link upper, frame" in f.where
    )
    assert upper.status is Status.FAIL
    assert upper.note.startswith("turn the bolt's axis +22.")


def test_turning_the_bolt_as_told_mends_it(tmp_path):
    text = BUGGY.replace('"32 deg"', '"15 deg"').replace(
        'frame = { mount = "upper-front-mount",', 'frame = { mount = "upper-front-mount", turn = 22.2,'
    ).replace('joint = "ball", gap', 'joint = "ball", turn = 21.5, gap')  # fmt: skip
    assert all(f.status is Status.PASS for f in findings(text, tmp_path, "misalignment"))


def test_end_with_nothing_known_is_not_covered(tmp_path):
    text = BUGGY.replace('at = [0, 470, 320], joint = "bush"', "at = [0, 470, 320]")
    (finding,) = [
        f for f in findings(text, tmp_path, "misalignment") if f.status is not Status.PASS
    ]
    assert finding.status is Status.NOT_COVERED
    assert "link lower, axle" in finding.where


def test_triangle_at_40_degrees(tmp_path):
    """Upper frame ends 385 + 140 ahead at y = 400, axle ends at x = -20: 20 deg each at y1."""
    run = 385 + 140 + 20
    for more, status in ((-0.01, Status.PASS), (0.01, Status.WARN)):
        y = 400 - run * sin(radians(20)) / cos(radians(20)) + more
        text = BUGGY.replace("at = [-20, 180, 530]", f"at = [-20, {y:.6f}, 530]")
        triangle = [f for f in findings(text, tmp_path, "linkage-hold") if f.unit == "deg"]
        assert [f.status for f in triangle] == [status]
        assert triangle[0].measured == pytest.approx(40, abs=0.01)
        assert triangle[0].measured == pytest.approx(2 * degrees(atan2(400 - y, run)))


def test_bar_beside_a_triangle_binds(tmp_path):
    bar = '[[linkage.link]]\nname = "bar"\npair = false\ntube = 30\nframe = { at = [-60, -420, 420] }\naxle = { at = [-60, 420, 380] }\n'
    hold = findings(BUGGY + bar, tmp_path, "linkage-hold")
    assert hold[0].status is Status.WARN
    assert hold[0].measured > 1
    assert "heave without roll" in hold[0].note
    assert len(hold) == 1  # a bar holds it: the triangle is not asked for


def test_job_without_links_has_no_such_findings(tmp_path):
    plain = (ROOT / "demo_parts" / "hill-trial-buggy.toml").read_text(encoding="utf-8")
    names = {f.rule for f in rules.check(build_text(plain, tmp_path))}
    assert not names & {"swing", "misalignment", "linkage-hold"}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('frame = { mount = "lower-front-mount",', 'frame = { mount = "lower-front",', "did you mean 'lower-front-mount'"),
        ("[linkage.rail.left]", "[linkage.rail.right]", "give [linkage.rail.left] at = [x, y, z]"),
        ("320], joint = \"bush\"", "320], joint = \"bosh\"", "did you mean 'bush'"),
        ('part = "web"\nmount', 'part = "wb"\nmount', "no such part, or no plate of it"),
        ("at = [0, 470, 320]", "at = [0, -470, 320]", "typed for the left side"),
        ("shank = 95, engaged = 45, shank_diameter = 24 }", "shank = 95 }", "go together"),
        ("bump = 110", "bump = 1100", "run out of reach"),
        ("droop = 130", "droop = 1400", "not less than the track"),
        ('name = "upper"\ntube = 38', 'name = "upper"\ntube = 38\nlever = "x"', "unknown key"),
        ("at = [-20, 180, 530], joint", 'at = [-20, 180, 530], lever = "middle", joint', "no such lever"),
        ("shoulder = 20", "shoulder = 700", "longer than the link"),
        ("bump = 110", "bump = -1", "must be at least 0"),
    ],
)  # fmt: skip
def test_mistakes_are_said_in_one_line(old, new, words, tmp_path):
    assert old in BUGGY
    with pytest.raises(PartgenError) as caught:
        build_text(BUGGY.replace(old, new), tmp_path)
    assert any(words in line and "linkage" in line for line in caught.value.problems), caught.value
    assert all("\n" not in line for line in caught.value.problems)
