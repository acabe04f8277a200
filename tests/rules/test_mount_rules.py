"""Rules about a mount: joint fit, bolt thread, joint room."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from helpers import shop
from pydantic import ValidationError

from partgen.entries.joint import Joint
from partgen.entries.stock import Stock
from partgen.entries.surroundings import Room
from partgen.fields import Reading
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import fit_options
from partgen.fit.mount import Ears, Lean, Mount, Seat, closer
from partgen.reference.bolt import bolt
from partgen.rules import bolt_room, bolt_thread, bush, joint_fit, joint_room
from partgen.rules.finding import Status


def mount(rail=50.0, joint=57.0, clearance=0.8, rack=(4.0,), size="M16", room=60.0, **how):
    fits = fit_options(rail, joint, clearance, [Stock(t, "S355") for t in rack], **how)
    lengths = bolt_lengths(bolt(size), 6, joint, 6)
    return Mount("front", fits, lengths, bolt(size), "both", 1, room, 64.0, (310, -60))


def only(found):
    (finding,) = found
    return finding


def test_fit_passes_with_its_numbers():
    finding = only(joint_fit.check(mount(), shop()))
    assert (finding.status, finding.measured) == (Status.PASS, pytest.approx(1.0))
    assert finding.note == ""
    assert finding.required == 0.8
    assert finding.source == "common practice, no source"


def test_fit_short_of_its_clearance_fails_and_says_what_it_needs():
    finding = only(joint_fit.check(mount(rack=(3.5,), most_plates=1), shop()))
    assert finding.status is Status.FAIL
    assert finding.measured == pytest.approx(0)
    assert finding.note.startswith(
        "needs 3.9 mm on each side, the plates at hand fill 3.5 mm; add a [[sheet]]"
    )
    assert "or set" not in finding.note  # nothing is left to set it to


def test_loose_fit_warns_with_its_shim():
    finding = only(joint_fit.check(mount(rack=(6,)), shop()))
    assert finding.status is Status.WARN
    assert "shim of 2.1 mm" in finding.note
    short = only(joint_fit.check(mount(rack=(3.8,), most_plates=1), shop()))
    assert short.note.endswith("set the joint's side_clearance to 0.6 mm")


@pytest.mark.parametrize("joint", [49.7, 49.2])
def test_a_loose_fit_on_a_rail_just_narrow_enough_still_warns(joint):
    """Needs 0.5 mm or none; 6 mm on one side, for the shift, leaves 5.5 or 6 too much."""
    finding = only(joint_fit.check(mount(joint=joint, rack=(6,), shift=3.0), shop()))
    assert finding.status is Status.WARN
    assert finding.note.startswith("fill with a shim of ")


def test_a_rail_just_too_wide_passes_loosely_and_a_wider_one_fails():
    """A rail wider than the joint by less than 1/16 in. leaves so much clearance, no more."""
    for rail, status in ((59.3, Status.PASS), (59.4, Status.FAIL)):
        assert only(joint_fit.check(mount(rail=rail), shop())).status is status


def test_rail_wider_than_the_joint_fails_with_ways_out():
    finding = only(joint_fit.check(mount(rail=70), shop()))
    assert finding.status is Status.FAIL
    assert "crossplate" in finding.note
    assert "12.2 mm wider" in finding.note


def test_bolt_with_full_ear_passes():
    finding = only(bolt_thread.check(mount(), shop()))
    assert (finding.status, finding.measured, finding.required) == (Status.PASS, 72, 66)


def test_bolt_with_threads_in_the_ear_warns():
    finding = only(bolt_thread.check(mount(joint=57.5), shop()))
    assert finding.status is Status.WARN
    assert "far ear" in finding.note


def test_no_bolt_long_enough_fails():
    finding = only(bolt_thread.check(mount(joint=300), shop()))
    assert finding.status is Status.FAIL
    assert "no stock length up to 200 mm" in finding.note


@pytest.mark.parametrize(("room", "status"), [(38.0, Status.PASS), (37.99, Status.FAIL)])
def test_joint_room_is_the_room_less_half_the_body(room, status):
    finding = only(joint_room.check(mount(room=room), shop()))
    assert finding.status is status
    assert finding.measured == pytest.approx(room - 32)


def test_right_only_mount_counts_one():
    assert mount().pieces == 2
    assert replace(mount(), hands="right", count=3).pieces == 3
    assert replace(mount(), hands="right", count=3, joints=2).pieces == 6


def test_leaning_ears_stand_closer_square_to_themselves():
    """By hand, 6 and 10 mm ears at 20 degrees: (58 + 8) cos 20 - 8, their middles 66 apart level."""
    near, far = 6, 10
    unequal = replace(mount(), bolts=bolt_lengths(bolt("M16"), near, 57, far), ear_angle=20)
    assert unequal.fit.gap == 58
    assert unequal.ear_gap == pytest.approx(54.0197, abs=1e-4)
    assert replace(unequal, ear_angle=0).ear_gap == pytest.approx(58)


@pytest.mark.parametrize(("angle", "gap"), [(20, 54.0197 - 0.3015), (-20, 54.0197 + 0.3015)])
def test_ears_whose_bends_differ_come_closer_or_farther(angle, gap):
    """By hand: 5 mm of spread times 1 - cos 20 = 0.0603: closer where they lean outward."""
    lean = Lean(angle, (0, -1), (0, -10), 6, 11, spread=5.0)
    unequal = replace(mount(), bolts=bolt_lengths(bolt("M16"), 6, 57, 10), ear_angle=angle)
    assert replace(unequal, bend=lean).ear_gap == pytest.approx(gap, abs=1e-3)
    assert closer(0.5, 300) == pytest.approx(300 * 3.8077e-5, rel=1e-3)


def test_the_dummy_spacer_leaves_room_for_the_shims():
    """6 mm spacers leave 5 mm in a gap of 62, shims of 2.1: the dummy is 57.8 and as wide as the
    washer (ISO 7089: 30), bored for a close hole (ISO 273: 17)."""
    dummy = mount(rack=(6,)).dummy
    assert (dummy.length, dummy.outside, dummy.bore) == (pytest.approx(57.8), 30, 17)


@pytest.mark.parametrize(
    ("size", "hole", "bore"),
    [("M16", "loose", 17), ("M16", 16.4, 17), ("9/16", 14.9, 14.9)],
)
def test_the_dummy_spacer_is_bored_close_or_as_typed_where_no_table_has_a_hole(size, hole, bore):
    """ISO 273 has 17 mm for M16; ASME B18.2.8 has none for 9/16 in."""
    joint = Joint(width=57, body_diameter=64, bolt=size, hole=hole)
    assert replace(mount(), bolt=bolt(size), joint=joint).dummy.bore == bore


def test_a_mount_of_which_nothing_more_is_told_lies_square_at_the_origin():
    bare = mount()
    assert (bare.faces, bare.seen((3.0, 4.0)), bare.rail_edge) == ((-29, 29), (3, 4), (0, 0))
    assert (bare.ear_angle, bare.skew, bare.rail_depth, bare.ear_radius) == (0, 0, 0, 0)
    assert bare.pads == (0, 0)
    assert Ears(24, 13, 87, 100, 8).middle == 0
    assert Lean(20, (0, -1), (0, -10), 6, 11).spread == 0
    assert Seat("low", (3, 4), 24).aside == 0


def test_holes_to_choose_from_take_one_bolt():
    assert Seat("low", (3, 4), 24).bolt == "low"
    assert Seat("high", (3, 34), 24, instead_of="low").bolt == "low"


def test_where_a_mounts_gap_and_drawing_lie():
    """Rail 50 about y = 7, spacers of 2 inside and 12 outside: faces at -20 and 44, middle 12."""
    fits = fit_options(
        50, 62, 0.8, [Stock(t, "S355") for t in (12, 2, 6)], shift=5.0
    )  # fmt: skip
    there = replace(mount(), fits=fits, y=7.0, origin=(100.0, -30.0))
    assert there.faces == pytest.approx((-20, 44))
    assert there.middle == pytest.approx(12)
    assert there.seen((4.0, 9.0)) == (104, -21)


def test_what_welding_and_coating_leave_is_a_finding_of_its_own():
    before, after = joint_fit.check(mount(coating=0.05, pull_in=0.3), shop())
    assert (before.measured, before.required) == (pytest.approx(1.0), pytest.approx(0.9))
    assert (after.status, after.measured) == (Status.PASS, pytest.approx(0.6))


def test_a_budget_below_zero_fails_with_the_amount():
    _, after = joint_fit.check(mount(coating=0.05, pull_in=1.2), shop())
    assert after.status is Status.FAIL
    assert after.measured == pytest.approx(-0.3)
    assert after.required == 0
    assert after.note.startswith(
        "0.3 mm too tight: the ears pull in 1.2 mm and coating takes 0.1 mm"
    )
    assert "dummy spacer" in after.note


def test_coating_that_takes_the_clearance_fails_before_welding():
    before, _ = joint_fit.check(mount(rack=(4.0,), coating=0.15), shop())
    assert before.status is Status.FAIL  # 1.0 against 0.8 + 2 x 0.15


def test_a_joint_off_its_place_warns_with_both_places():
    finding = only(joint_fit.check(mount(rack=(4.0,), shift=6.0, most_plates=1), shop()))
    assert finding.status is Status.WARN
    assert "0 mm off the rail's centre, wanted 6 mm" in finding.note


def in_hand(length, shank=None):
    base = mount()
    return replace(base, in_hand=replace(base.bolts[0], length=length, shank=shank))


def test_a_bolt_in_hand_that_does_is_the_bolt():
    found = only(bolt_thread.check(in_hand(105.0, 76.0), shop()))
    assert (found.status, found.measured) == (Status.PASS, 76)
    assert found.source == "measured shank"
    assert in_hand(105.0, 76.0).bolt_fit.length == 105


def test_a_bolt_in_hand_that_does_not_warns_beside_the_one_to_buy():
    own, chosen = bolt_thread.check(in_hand(110.0, 60.0), shop())
    assert own.status is Status.WARN
    assert own.note == "bolt in hand: threads inside the joint"
    assert (chosen.status, chosen.where) == (Status.PASS, "M16 x 110 mm")


def with_joint(**changes):
    data = {"width": 66.675, "body_diameter": 60, "bolt": "M16"} | changes
    return replace(mount(), joint=Joint(**data))


def test_sleeve_2_625_and_bush_2_640_is_pinched():
    """Worked by hand: 0.015 over, and 0.006 to 0.010 in must be free."""
    found = only(bush.check(with_joint(bush_width=2.640 * 25.4), shop(unit="in")))
    assert found.status is Status.FAIL
    assert found.measured / 25.4 == pytest.approx(-0.015)
    assert found.note == "the bush will be pinched; thin it by 0.021 to 0.025 in"
    assert found.required == pytest.approx(0.006 * 25.4)
    found = only(bush.check(with_joint(bush_width=67.0), shop()))  # .325 over; .1524 to .254
    assert found.note == "the bush will be pinched; thin it by 0.48 to 0.58 mm"


@pytest.mark.parametrize(("free", "status"), [(0.0061, Status.PASS), (0.0059, Status.FAIL)])
def test_bush_needs_six_thousandths(free, status):
    found = only(bush.check(with_joint(bush_width=66.675 - free * 25.4), shop()))
    assert found.status is status


@pytest.mark.parametrize(
    ("bore", "status"),
    [(15.99, Status.FAIL), (16.0, Status.PASS), (16.5, Status.PASS), (16.51, Status.WARN)],
)
def test_bore_suits_the_bolt(bore, status):
    found = only(bush.check(with_joint(bore=bore), shop()))
    assert (found.status, found.required) == (status, 0)
    assert found.measured == pytest.approx(bore - 16)
    words = {
        Status.FAIL: "M16 does not go through a bore of 15.99 mm",
        Status.WARN: "M16 is loose in a bore of 16.51 mm; sleeve it",
    }
    assert found.note == words.get(status, "")


def test_nothing_typed_nothing_judged():
    assert bush.check(with_joint(), shop()) == []
    assert bush.check(mount(), shop()) == []


def test_measured_width_wins_over_nominal():
    assert with_joint(measured=66.2).joint.width == 66.2
    assert with_joint().joint.width == 66.675


@pytest.mark.parametrize("wrong", [{"shank": 70}, {"shank": 90, "bolt_length": 90}])
def test_a_shank_belongs_to_a_longer_bolt(wrong):
    with pytest.raises(ValidationError, match="shank"):
        with_joint(**wrong)


ROOM = {"mount": "front", "outer": 40.0, "inner": 120.0, "outer_circle": 44.0}


def room_findings(the_mount, **changes):
    room = Room.model_validate(ROOM | changes, context=Reading("mm"))
    build = SimpleNamespace(
        job=SimpleNamespace(rooms=[room]), mounts=[the_mount], shop=shop(), plates=[]
    )
    return bolt_room.check(build)


@pytest.mark.parametrize(
    ("outer", "inner", "status", "where"),
    [
        (40, 120, Status.PASS, "bolt in from the inner side"),
        (120, 40, Status.PASS, "bolt in from the outer side"),
        (120, 119, Status.PASS, "bolt in from the outer or inner side"),
        (114.9, 40, Status.FAIL, "bolt insertion"),
        (40, 115, Status.PASS, "bolt in from the inner side"),
    ],
)
def test_a_bolt_of_110_needs_115_on_one_side(outer, inner, status, where):
    """M16 x 110 and 5 mm to hold it by (common practice, no source)."""
    found, spanner = room_findings(mount(), outer=outer, inner=inner)
    assert (found.status, found.where) == (status, where)
    assert (found.measured, found.required) == (max(outer, inner), 115)
    assert bool(found.note) is (status is Status.FAIL)
    assert spanner.where == "spanner at the outer ear"


def test_no_room_typed_and_no_bolt_known_are_not_covered():
    found = room_findings(mount(joint=300))[0]
    assert (found.status, found.where) == (Status.NOT_COVERED, "bolt insertion")
    assert "see bolt-thread" in found.note
    (found,) = room_findings(mount(), mount="rear")
    assert (found.status, found.where) == (Status.NOT_COVERED, "beside the ears")
