"""Links held by holes of a job's parts: where they are in the vehicle, worked out beside each."""

from math import cos, radians, sin

import numpy as np
import pytest
from linkage_makers import ROOT, build_text, findings
from shapely import MultiPoint, Polygon

from partgen.errors import PartgenError
from partgen.linkage.bracket import on_place
from partgen.linkage.obstacle import axle_tube
from partgen.linkage.place import PartPlace
from partgen.packet.data import job_data
from partgen.rules.finding import Status

JOB = """
[job]
name = "brackets"
units = "{units}"
[rail.main]
width = 50
depth = 100
corner_radius = 8
[joint.bush]
width = 57
body_diameter = 64
bolt = "M16"
[measures]
which = 1
{parts}
[[sheet]]
plate = "6 mm S355"
size = [1250, 2500]
[linkage]
wheel = [12, 700, 330]
tyre_radius = 330
bump = 20
droop = 20
{places}
[[linkage.link]]
name = "lower"
tube = 40
frame = {{ {frame} }}
axle = {{ {axle} }}
[[linkage.link]]
name = "upper"
tube = 40
frame = {{ at = [500, 420, 520] }}
axle = {{ at = [-20, 150, 520] }}
"""
SADDLE = """
[[part]]
name = "saddle"
family = "axle-saddle"
plate = "6 mm S355"
joint = "bush"
tube = 80
pivot = [14, -105]
"""
MOUNT = """
[[part]]
name = "front"
family = "link-mount"
rail = "main"
joint = "bush"
pivot = [300, -120]
adjust = [[300, -165], [330, -145]]
ears = [{ pivot = [540, -90], adjust = [[550, -115]], name = "second" }]
plate = "6 mm S355"
rear = 200
front = 400
"""
AT = "at = [700, 450, 330]"
STATION = "[linkage.place.saddle]\nstation = 460\n"


def job(parts="", places="", frame=AT, axle="at = [0, 460, 260]", units="mm"):
    return JOB.format(parts=parts, places=places, frame=frame, axle=axle, units=units)


def spot(text, folder, end="axle"):
    built = build_text(text, folder)
    link = next(k for k in built.shop.linkage.layout.links if k.label == "lower/left")
    return getattr(link, end)


def seen(clock, reach, turn, x, y):
    """x forward and y up of a drawing, clocked anticlockwise in side view, then turned from above."""
    c, s = cos(radians(clock)), sin(radians(clock))
    ahead, up = c * x - s * (y + reach), s * x + c * (y + reach)
    t = radians(turn)
    return np.array([ahead * cos(t), ahead * sin(t), up])


@pytest.mark.parametrize(
    ("clock", "reach", "turn"), [(0, 0, 0), (17, 0, 0), (0, 31, 0), (0, 0, 9), (-13, 22, 21)]
)
def test_saddle_along_the_axle_clocked_and_turned(clock, reach, turn, tmp_path):
    place = f"{STATION}clock = {clock}\nreach = {reach}\nturn = {turn}\n"
    end = spot(job(SADDLE, place, axle='mount = "saddle"'), tmp_path)
    expected = np.array([12, 460, 330]) + seen(clock, reach, turn, 14, -105)
    assert end.spot.point == pytest.approx(expected)
    assert list(end.bolt) == pytest.approx([-sin(radians(turn)), cos(radians(turn)), 0], abs=1e-12)
    assert end.half_gap == pytest.approx((57 + 25.4 / 32) / 2)
    assert end.joint.body_diameter == 64


@pytest.mark.parametrize(
    ("skew", "clock", "reach"), [(19, 0, 0), (-27, 0, 12), (23, 34, 0), (-14, -41, 9)]
)
@pytest.mark.parametrize("ears", [1, 2])
def test_a_skewed_saddle_turns_its_bolt_by_the_skew(skew, clock, reach, ears, tmp_path):
    """Front outward: on the left anticlockwise from above; then the clock turns all on the tube."""
    part = f"{SADDLE}skew = {skew}\nears = {ears}\n"
    place = f"{STATION}clock = {clock}\nreach = {reach}\n"
    end = spot(job(part, place, axle='mount = "saddle"'), tmp_path)
    c, s, turn = cos(radians(clock)), sin(radians(clock)), radians(skew)
    ahead, out, up = 14 * cos(turn), 14 * sin(turn), -105 + reach
    expected = np.array([12 + c * ahead - s * up, 460 + out, 330 + s * ahead + c * up])
    assert end.spot.point == pytest.approx(expected)
    bolt = [-sin(turn) * c, cos(turn), -sin(turn) * s]
    assert list(end.bolt) == pytest.approx(bolt, abs=1e-12)


def test_a_turn_of_its_own_stands_instead_of_the_skew(tmp_path):
    part = f"{SADDLE}skew = 19\n"
    for turn in (0, 8):
        place = f"{STATION}turn = {turn}\n"
        end = spot(job(part, place, axle='mount = "saddle"'), tmp_path)
        assert end.spot.point == pytest.approx(
            np.array([12, 460, 330]) + seen(0, 0, turn, 14, -105)
        )


def test_across_the_middle_the_skew_is_outward_too():
    wheel = (12, 700, 330)
    (a, left), (b, right) = (
        on_place(PartPlace(at=(-8, y, 320), clock=11, reach=6), wheel, 19) for y in (430, -430)
    )
    assert list(b) == pytest.approx(list(a * [1, -1, 1]))
    flip = np.diag([1, -1, 1])
    assert right == pytest.approx(flip @ left @ flip)


def test_changing_the_bracket_moves_the_point(tmp_path):
    text = job(SADDLE, STATION, axle='mount = "saddle"')
    before = spot(text, tmp_path).spot.point
    after = spot(text.replace("[14, -105]", "[14, -125]"), tmp_path).spot.point
    assert list(after - before) == pytest.approx([0, 0, -20])


EAR = '[[part]]\nname = "ear"\nfamily = "ear"\nplate = "6 mm S355"\njoint = "bush"\nheight = 70\noffset = -8\n'
CLEVIS = EAR.replace('"ear"\nfamily = "ear"', '"ear"\nfamily = "clevis"')
TABS = EAR.replace('family = "ear"', 'family = "shock-mount"\neyes = 3\npitch = 60')
FACE = '[[part]]\nname = "ear"\nfamily = "face-plate"\nplate = "6 mm S355"\nlength = 400\nheight = 120\nears = [{ at = 90, drop = 40, bolt = "M16" }, { at = 300, drop = 55, bolt = "M16" }]\n'


@pytest.mark.parametrize(
    ("part", "hole", "at", "gap"),
    [
        (EAR, "", (-8, 70), None),
        (CLEVIS, "", (-8, 70), 57),
        (TABS, ', hole = "joint-3"', (-8, 190), 57),
        (TABS, ", hole = 2", (-8, 130), 57),
        (FACE, ', hole = "ear-2"', (300, -55), None),
        (SADDLE.replace('"saddle"', '"ear"') + "ears = 1\n", "", (14, -105), None),
    ],
)
def test_every_family_with_a_bolt_hole_may_hold_a_link(part, hole, at, gap, tmp_path):
    place = "[linkage.place.ear]\nat = [-30, 400, 300]\n"
    end = spot(job(part, place, axle=f'mount = "ear"{hole}'), tmp_path)
    assert list(end.spot.point) == pytest.approx([-30 + at[0], 400, 300 + at[1]])
    assert end.half_gap == (None if gap is None else pytest.approx((gap + 25.4 / 32) / 2))


RAIL = "[linkage.rail.main]\nat = [400, 450, 500]\n"


@pytest.mark.parametrize(
    ("hole", "at"),
    [
        ("", (300, -120)),
        (', hole = "joint"', (300, -120)),
        (', hole = "joint-adjust-1"', (300, -165)),
        (', hole = "joint-adjust-2"', (330, -145)),
        (', hole = "second"', (540, -90)),
        (", hole = 3", (330, -145)),
        (', hole = "= which + 3"', (540, -90)),
    ],
)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_holes_of_a_mount_by_name_and_number(units, hole, at, tmp_path):
    text = job(MOUNT, RAIL, frame=f'mount = "front"{hole}')
    if units == "in":
        text = "\n".join(_inches(line) for line in text.splitlines())
    end = spot(text, tmp_path, "frame")
    assert list(end.spot.point) == pytest.approx([400 + at[0], 450, 500 + at[1]], abs=1e-6)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_a_holes_number_is_made_of_counts_too(units, tmp_path):
    text = job(MOUNT, RAIL, frame='mount = "front", hole = "= which + 1"')
    if units == "in":
        text = "\n".join(_inches(line) for line in text.splitlines())
    made = 'which = "= row + (low - drop) / pitch"\nrow = 2\nlow = 60\ndrop = 90\npitch = 30'
    made = build_text(text.replace("which = 1", made), tmp_path)
    assert made.job.numbers == {"which", "row"}
    assert [made.job.unit_of(n) for n in ("which", "row", "pitch")] == ["", "", f" {units}"]
    told = job_data(made, [], [], [], {})["measures"]
    one = 25.4 if units == "in" else 1
    assert told == {"which": 1, "row": 2} | {n: told[n] for n in ("low", "drop", "pitch")}
    assert told["pitch"] == pytest.approx(30 * one)
    links = {link.label: link for link in made.shop.linkage.layout.links}
    seat = links["lower/left"].frame.spot.point
    assert list(seat) == pytest.approx([400 + 300, 450, 500 - 165], abs=1e-6)


def _inches(line):
    """The same job with inches as its unit: every bare length gets its mm."""
    import re

    if line.startswith("units"):
        return 'units = "in"'
    if line.startswith("which"):
        return line
    line, *hole = line.split("hole = ") if "hole = " in line else (line,)
    line = re.sub(r"(?<![\w.\"'-])(-?\d+)(?![\w.\"'-])(?! deg)", r'"\1 mm"', line)
    return line + "".join(f"hole = {h}" for h in hole)


@pytest.mark.parametrize(
    ("frame", "axle", "places", "words"),
    [
        ('mount = "front", hole = "joint-adjst-1"', AT, RAIL, "did you mean 'joint-adjust-1'"),
        ('mount = "front", hole = "secnd"', AT, RAIL, "did you mean 'second'"),
        ('mount = "front", hole = 6', AT, RAIL, "has 5, counted from 1: joint, joint-adjust-1"),
        ('mount = "front", hole = "= which / 2"', AT, RAIL, "holes are counted 1, 2, 3"),
        ('mount = "frnt"', AT, RAIL, "did you mean 'front'"),
        (AT, 'mount = "front"', RAIL, "is on the frame, not on the axle"),
        ('mount = "saddle"', AT, RAIL + STATION, "is on the axle, not on the frame"),
        (AT, 'mount = "saddle"', "", "give [linkage.place.saddle] with 'station'"),
        (AT, 'mount = "saddle"', "[linkage.place.sadle]\nstation = 4\n", "did you mean 'saddle'"),
        (AT, 'at = [0, 1, 2], hole = "joint"', "", "'hole' is one of a 'mount'"),
        (AT, 'mount = "saddle"', STATION + "at = [1, 2, 3]\n", "either 'station'"),
        (AT, 'mount = "saddle"', STATION + 'on = "frame"\n', "'station' is along the axle"),
        ('mount = "front"', AT, RAIL + "[linkage.place.front]\nstation = 3\n", "lies on rail 'main'"),
    ],
)  # fmt: skip
def test_mistakes_are_said_with_the_nearest_name(frame, axle, places, words, tmp_path):
    with pytest.raises(PartgenError) as caught:
        build_text(job(MOUNT + SADDLE, places, frame, axle), tmp_path)
    assert any(words in line for line in caught.value.problems), caught.value.problems


def test_a_link_on_an_adjusting_hole_is_judged_there(tmp_path):
    """Lower hole, lower link: the bolt of its own ear is not in its way, that of the next ear is."""
    high = findings(job(MOUNT, RAIL, frame='mount = "front"'), tmp_path, "swing")
    low = findings(job(MOUNT, RAIL, frame='mount = "front", hole = 2'), tmp_path, "swing")
    assert "to rail main" in high[0].where
    assert low[0].measured > high[0].measured
    swing = build_text(job(MOUNT, RAIL, frame='mount = "front", hole = 2'), tmp_path).shop.linkage
    names = {n.obstacle for n in swing.at_mount("front")[0].nearest}
    assert names == {"rail main", "bolt second"}


def test_at_the_axle_the_link_must_clear_its_tube(tmp_path):
    """Straight back from the pivot at (14, -105), 20 half width: 105 - 40 - 20 at least at ride."""
    text = job(SADDLE, STATION, axle='mount = "saddle"', frame="at = [700, 460, 225]")
    swing = build_text(text, tmp_path).shop.linkage.at_mount("saddle")[0]
    assert swing.which == "axle"
    assert swing.range.ride == pytest.approx(0, abs=1e-9)
    (near,) = swing.nearest
    assert near.obstacle == "the axle's tube"
    assert near.clearance <= 105 - 40 - 20
    close = text.replace("[14, -105]", "[30, -66]").replace("460, 225]", "460, 264]")
    assert any(f.status is Status.FAIL for f in findings(close, tmp_path, "swing"))


@pytest.mark.parametrize(("skew", "gap"), [(0, 58), (23, 58), (-17, 44), (31, 0)])
def test_a_skewed_tube_is_as_wide_as_it_runs_through_the_gap(skew, gap):
    """Points of the tube in space between the ears, seen along the bolt: all inside, some on it."""
    tube = axle_tube(80, skew, gap)
    turn, around = radians(skew), np.radians(np.arange(0, 360, 3))
    seen = Polygon([s.at(k / 20) for s in tube.segments for k in range(20)])
    spots = []
    for out in np.linspace(-gap / 2, gap / 2, 9):  # from the middle of the gap, along the bolt
        # A point of the tube: (40 cos a, w, 40 sin a), w along it; ``out`` off the ears' middle.
        w = (out + 40 * np.cos(around) * np.sin(turn)) / np.cos(turn)
        ahead = 40 * np.cos(around) * np.cos(turn) + w * np.sin(turn)
        spots += list(zip(ahead, 40 * np.sin(around), strict=True))
    assert MultiPoint(spots).convex_hull.symmetric_difference(seen).area < 0.005 * seen.area
    assert max(x for x, _ in spots) == pytest.approx(seen.bounds[2], abs=0.05)


def test_a_part_with_nothing_near_it_is_not_covered(tmp_path):
    place = "[linkage.place.ear]\nat = [-30, 400, 300]\n"
    text = job(CLEVIS, place, axle='mount = "ear"')
    (finding,) = findings(text, tmp_path, "swing")
    assert finding.status is Status.NOT_COVERED
    assert 'mount = "ear"' in finding.note


def test_both_ends_of_the_buggys_links_are_plates(tmp_path):
    text = (ROOT / "demo_parts" / "hill-trial-buggy-rear-links.toml").read_text(encoding="utf-8")
    built = build_text(text, tmp_path)
    links = built.shop.linkage.layout.links
    assert all(link.frame.mount and link.axle.mount for link in links)
    held = {name for link in links for name in (link.frame.mount, link.axle.mount)}
    assert held <= {p.part for p in built.plates}
    upper = next(k for k in links if k.label == "upper/left").axle.spot.point
    assert list(upper) == pytest.approx([0, 180, 390 + 60 + 80])
