"""Shared space: ears on one plate, footprints and overlaps by hand."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from places import filling, made, shared

from partgen import rules
from partgen.job.assembly import standing
from partgen.plates.meeting import meet
from partgen.plates.solid import Frame
from partgen.rules import shared_space
from partgen.rules.finding import Status

JOB = """
[job]
name = "Crowded"
units = "mm"
[joint.ball]
width = 40
body_diameter = 50
bolt = "M14"
side_clearance = 1
[[part]]
name = "top"
family = "plate"
plate = "8 mm S355"
hands = "left"
points = [[-300, -150], [340, -150], [340, 160], [-300, 160]]
[[part]]
name = "pair"
family = "clevis"
plate = "6 mm S355"
joint = "ball"
hands = "left"
height = 118
offset = 11
base = 120
stands = {{ on = "top", at = [-120, 8], tabs = false }}
[[part]]
name = "stub"
family = "ear"
plate = "10 mm S355"
bolt = "M14"
hands = "{hands}"
height = 60
base = 90
stands = {{ on = "top", tabs = false, {stands} }}
[[sheet]]
plate = "6 mm S355"
size = [1250, 1250]
"""


def found(tmp_path, stands, hands="left"):
    built = made(tmp_path, JOB.format(stands=stands, hands=hands))
    return shared_space.check(built), built


@pytest.mark.parametrize(
    ("stands", "apart"),
    [
        # The pair's ears cover x -180 to -60, y -18.5 to -12.5 and 28.5 to 34.5; the stub 90 x 10.
        ("at = [-70, 44.5]", 5.0),  # beside the outer ear: its face is at y = 39.5
        ("at = [-70, 39.5]", 0.0),  # face to face
        ("at = [-12, 31]", 3.0),  # end to end: from x = -57
        ("at = [-120, 8]", 15.5),  # between the ears
    ],
)
def test_ears_that_stand_apart_pass_with_their_distance(tmp_path, stands, apart):
    (only,), _ = found(tmp_path, stands)
    assert (only.status, only.plate, only.required) == (Status.PASS, "top/plate", 0)
    assert only.measured == pytest.approx(apart)


@pytest.mark.parametrize(
    ("stands", "wide", "long", "other"),
    [
        ("at = [-70, 37]", 2.5, 55, "outer"),  # 32 to 42 against 28.5 to 34.5; x -115 to -60
        ("at = [-20, 31]", 5, 6, "outer"),  # x from -65 against -60, 5 mm; 6 mm of thickness
        ("at = [-90, -40], angle = 90", 6, 10, "inner"),  # across: y to 5
        ("at = [-15.1, 31]", 0.1, 6, "outer"),  # x from -60.1
    ],
)
def test_ears_that_run_into_each_other_fail_with_both_names_and_the_overlap(
    tmp_path, stands, wide, long, other
):
    (only,), built = found(tmp_path, stands)
    assert (only.status, only.required) == (Status.FAIL, 0)
    assert only.where.startswith(f"pair {other} and stub ")
    assert -only.measured == pytest.approx(wide)
    assert f"run {wide:.1f} mm into each other, over {long:.1f} mm" in only.note
    assert only in rules.check(built)


def test_a_footprint_is_in_the_plates_own_drawing_wherever_both_are(tmp_path):
    """The stub covers 90 x 10 mm about (150, 20)."""
    _, built = found(tmp_path, "at = [150, 20]")
    (groups,) = standing(built).values()
    (stub,), plate = groups[1].solids, groups[1].carrier

    def moved(solid):
        x, y, z = solid.frame.origin
        return replace(solid, frame=replace(solid.frame, origin=(x + 500, y - 70, z + 9)))

    for solid, carrier in ((stub, plate), (moved(stub), moved(plate))):
        box = shared_space._footprint(solid, carrier).bounds
        assert box == pytest.approx((105, 15, 195, 25))


def test_openings_in_an_ear_take_nothing_from_its_footprint(tmp_path):
    windows = "height = 60\nwindows = [{{ at = [0, 20], size = [12, 10], radius = 3 }}]"
    text = JOB.replace("height = 60", windows)
    built = made(tmp_path, text.format(stands="at = [-12, 31]", hands="left"))
    (only,) = shared_space.check(built)
    assert only.measured == pytest.approx(3.0)


def test_at_the_far_face_there_is_no_one(tmp_path):
    results, _ = found(tmp_path, 'at = [-70, 37], face = "far"')
    assert results == []


def test_on_the_other_side_the_mirror_image_counts(tmp_path):
    """Both hands on one plate whose middle is at x = 20: what stands at 24 stands at 16 too."""
    results, _ = found(tmp_path, "at = [24, 90], angle = 3", "both")
    (only,) = [f for f in results if f.status is Status.FAIL]
    assert only.where.startswith("stub ear and stub ear, place 1 right at (20.0, ")


def test_pieces_one_over_the_other_do_not_meet(tmp_path):
    """The pair's eye is at 118, its ear 21 above that: at 139.1 nothing is left of it."""
    _, built = found(tmp_path, "at = [-109, 31.5], angle = 90")
    (groups,) = standing(built).values()
    outer = next(s for s in groups[0].solids if s.name == "pair outer")
    (stub,) = groups[1].solids
    top = outer.box[1][2]
    for lift, crosses in ((0.0, True), (top - 8 - 0.2, True), (top - 8 + 0.1, False)):
        x, y, z = stub.frame.origin
        lifted = replace(stub, frame=replace(stub.frame, origin=(x, y, z + lift)))
        assert meet(outer, lifted) == crosses


@pytest.mark.parametrize("turn", [0.0, 3.0, 37.0, 90.0])
@pytest.mark.parametrize("shift", [0.0, 4.0, 7.9, 8.6, 30.0])
def test_meeting_agrees_with_points_all_through_the_pieces(tmp_path, turn, shift):
    """Two ears, one turned and pushed aside: points of each in the other's metal tell the same."""
    _, built = found(tmp_path, "at = [150, 0]")
    (groups,) = standing(built).values()
    ear, stub = groups[0].solids[0], groups[1].solids[0]
    c, s = cos(radians(turn)), sin(radians(turn))
    x, y, z = ear.frame.origin
    across = ear.frame.normal
    origin = tuple(o + shift * n for o, n in zip((x, y, z), across, strict=True))
    u = ear.frame.u
    turned = tuple(c * a + s * n for a, n in zip(u, across, strict=True))
    moved = replace(stub, frame=Frame(origin, turned, ear.frame.v))
    inside = shared(moved, ear) + shared(ear, moved)
    assert meet(ear, moved) == (inside > 0)
    assert len(filling(moved)) > 100
