"""Rules of plates on rails, of boxes and of room, on whole jobs with numbers known by hand."""

import pytest
from helpers import replaced

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.rules import BUILD_RULES, check
from partgen.rules.finding import Status

JOB = """
[job]
name = "one mount"
units = "mm"

[rail.left]
width = 50
depth = 100
corner_radius = 8
lower_edge = [[-400, 0], [20, 0], [500, 70]]

[joint.bush]
width = 57
body_diameter = 64
bolt = "M16"

[[part]]
name = "mount"
family = "link-mount"
rail = "left"
joint = "bush"
pivot = [-90, -64]
plate = "6 mm S355"
rear = 150
front = 260
shelf = 13
weld_leg = 4

[[part]]
name = "pad"
family = "spacer"
size = [60, 60]
plate = "10 mm S355"

[[sheet]]
plate = "4 mm S355"
size = [1250, 2500]
"""


def found(tmp_path, rule, *changes, more=""):
    text = replaced(JOB + more, *changes)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return BUILD_RULES[rule](build(load_job(path)))


def by_where(findings, start):
    return [f for f in findings if f.where.startswith(start)]


def test_shelf_is_measured_at_both_edges(tmp_path):
    for shelf in by_where(found(tmp_path, "weld-shelf"), "lower") + by_where(
        found(tmp_path, "weld-shelf"), "upper"
    ):
        assert shelf.measured == pytest.approx(13)
        assert shelf.required == 12  # corner radius 8 and leg 4
        assert shelf.status is Status.PASS


@pytest.mark.parametrize(("shelf", "status"), [(12.0, Status.PASS), (11.99, Status.FAIL)])
def test_shelf_turns_at_corner_radius_and_leg(tmp_path, shelf, status):
    changed = found(
        tmp_path, "weld-shelf", ("shelf = 13", f"shelf = {shelf}"), ("depth = 100", "depth = 140")
    )
    assert {f.status for f in by_where(changed, "lower")} == {status}


def test_upper_shelf_alone_may_be_short(tmp_path):
    changed = found(tmp_path, "weld-shelf", ("shelf = 13", "shelf = 13\nheight = 76"))
    assert {f.status for f in by_where(changed, "lower")} == {Status.PASS}
    (first, *_) = by_where(changed, "upper")
    assert (first.status, first.measured) == (Status.FAIL, pytest.approx(11))


def test_an_open_rail_keeps_welds_19_mm_off_its_flange(tmp_path):
    """3/4 in. from the flange's edge: common practice, no source."""
    for shelf, status in ((19, Status.PASS), (18.9, Status.FAIL)):
        changed = found(
            tmp_path,
            "weld-shelf",
            ("shelf = 13", f"shelf = {shelf}"),
            ("corner_radius = 8", "corner_radius = 8\nopen = true"),
        )
        assert {f.status for f in by_where(changed, "lower")} == {status}


def test_square_ends_across_the_rail_warn(tmp_path):
    assert {f.status for f in found(tmp_path, "plate-end")} == {Status.PASS}
    square = found(tmp_path, "plate-end", ("weld_leg = 4", 'weld_leg = 4\nends = "square"'))
    rear = [f for f in square if f.where.startswith("end at (-240")]
    assert [(f.status, f.measured) for f in rear] == [(Status.WARN, pytest.approx(0, abs=1e-4))] * 2


@pytest.mark.parametrize(("taper", "status"), [(69.9, Status.PASS), (70.1, Status.WARN)])
def test_ends_turn_at_20_degrees_off_square(tmp_path, taper, status):
    ends = found(tmp_path, "plate-end", ("weld_leg = 4", f"weld_leg = 4\ntaper = {taper}"))
    rear = [f for f in ends if f.where.startswith("end at (-2")]
    assert {f.status for f in rear} == {status}
    assert rear[0].measured == pytest.approx(90 - taper, abs=1e-3)


BOX = '\n[[box]]\nname = "tower"\nparts = ["mount", "pad"]\n'


def test_a_closed_box_without_a_drain_warns(tmp_path):
    (finding,) = found(tmp_path, "drain", more=BOX)
    assert (finding.status, finding.plate, finding.measured) == (Status.WARN, "tower", 0)


@pytest.mark.parametrize(("size", "status"), [(10, Status.PASS), (9.9, Status.WARN)])
def test_a_drain_is_10_mm_or_1_5_t(tmp_path, size, status):
    window = f'weld_leg = 4\nwindows = [{{ name = "drain", at = [0, 40], size = [40, {size}], radius = 2 }}]'
    (finding,) = found(tmp_path, "drain", ("weld_leg = 4", window), more=BOX)
    assert (finding.status, finding.measured) == (status, pytest.approx(size))
    assert "window drain of mount/inner" in finding.where


def test_the_largest_opening_drains(tmp_path):
    windows = "weld_leg = 4\nwindows = [{ at = [-60, 40], size = [40, 6], radius = 2 }, { at = [60, 45], size = [40, 12], radius = 2 }]"
    (finding,) = found(tmp_path, "drain", ("weld_leg = 4", windows), more=BOX)
    assert (finding.status, finding.measured) == (Status.PASS, pytest.approx(12))


ROOM = '\n[[room]]\nmount = "mount"\nouter = {}\ninner = {}\nouter_circle = {}\n'


def test_without_measured_room_nothing_is_judged(tmp_path):
    (finding,) = found(tmp_path, "bolt-room")
    assert finding.status is Status.NOT_COVERED
    assert "[[room]]" in finding.note


@pytest.mark.parametrize(
    ("outer", "inner", "status", "where"),
    [
        (125.0, 10, Status.PASS, "bolt in from the outer side"),
        (10, 125.0, Status.PASS, "bolt in from the inner side"),
        (300, 300, Status.PASS, "bolt in from the outer or inner side"),
        (124.99, 10, Status.FAIL, "bolt insertion"),
    ],
)
def test_the_bolt_needs_its_length_and_5_mm_on_one_side(tmp_path, outer, inner, status, where):
    """M16 x 120 goes through 6 + 57 + 6 with its thread out of the joint."""
    first, _ = found(
        tmp_path, "bolt-room", ("width = 57", "width = 62"), more=ROOM.format(outer, inner, 60)
    )
    assert (first.status, first.where) == (status, where)


@pytest.mark.parametrize(("slack", "status"), [(0.01, Status.PASS), (-0.01, Status.FAIL)])
def test_a_spanner_turns_in_its_circle(tmp_path, slack, status):
    """CID A-A-1346A by 1.5 W + .04 in.; ISO 4014 M16: W 24 mm."""
    circle = 1.5 * 24 + 0.04 * 25.4 + slack
    _, spanner = found(tmp_path, "bolt-room", more=ROOM.format(300, 10, circle))
    assert (spanner.status, spanner.where) == (status, "spanner at the outer ear")


@pytest.mark.parametrize(
    ("more", "line"),
    [
        (ROOM.format(1, 1, 1).replace('"mount"', '"mont"'), "room[1].mount = 'mont': no such part; did you mean 'mount'?"),
        (BOX.replace('"pad"', '"lid"'), "box[1].parts = 'lid': no such part"),
        ('\n[[load]]\nmount = "x"\nforce = "8 kN"\nangle = 0\nfactor = 2\n', "load[1].mount = 'x': no such part"),
        ('\n[[load]]\nmount = "mount"\nforce = 8\nangle = 0\nfactor = 2\n', "'8' is no force with a unit; write 8 kN, 1800 lbf or 1.8 kip"),
        ('\n[[load]]\nmount = "mount"\nforce = "8 kN"\nfactor = 2\n', "give either 'direction' = [x, y, z] or 'angle'"),
        ('\n[[load]]\nmount = "mount"\nforce = "8 kN"\nangle = 0\n', "factor is missing"),
        ('\n[[load]]\nmount = "mount"\nforce = "8 kN"\ndirection = [0, 0, 0]\nfactor = 2\n', "not all 0"),
        ('\n[strength]\nweld_metal = "70"\n', "is no strength with a unit"),
    ],
)  # fmt: skip
def test_mistakes_are_one_line_each(tmp_path, more, line):
    with pytest.raises(PartgenError) as error:
        found(tmp_path, "drain", more=more)
    (problem,) = error.value.problems
    assert line in problem


def test_right_hand_mounts_are_judged_as_drawn(tmp_path):
    right = found(tmp_path, "weld-shelf", ("weld_leg = 4", 'weld_leg = 4\nhands = "right"'))
    both = found(tmp_path, "weld-shelf")
    assert [(f.where, f.measured) for f in right] == [
        (f.where, pytest.approx(f.measured)) for f in both
    ]


def test_waivers_reach_these_rules_too(tmp_path):
    accept = '\n[[accept]]\nrule = "plate-end"\nplate = "mount/inner"\nreason = "boxed over"\n'
    text = JOB.replace("weld_leg = 4", 'weld_leg = 4\nends = "square"') + accept
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    ends = [
        f for f in check(build(load_job(path))) if f.rule == "plate-end" and f.status is Status.WARN
    ]
    assert {f.plate: f.accepted for f in ends} == {"mount/inner": "boxed over", "mount/outer": ""}
