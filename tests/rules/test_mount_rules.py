"""Rules about a mount: joint fit, bolt thread, joint room."""

from dataclasses import replace

import pytest
from helpers import shop

from partgen.bolt import bolt
from partgen.bolting import bolt_lengths
from partgen.fit import fit_options
from partgen.mount import Mount
from partgen.rules import bolt_thread, joint_fit, joint_room
from partgen.rules.finding import Status
from partgen.stock import Stock


def mount(rail=50.0, joint=57.0, clearance=0.8, rack=(4.0,), size="M16", room=60.0):
    fits = fit_options(rail, joint, clearance, [Stock(t, "S355") for t in rack])
    lengths = bolt_lengths(bolt(size), 6, joint, 6)
    return Mount("front", fits, lengths, bolt(size), "both", 1, room, 64.0, (310, -60))


def only(found):
    (finding,) = found
    return finding


def test_fit_passes_with_its_numbers():
    finding = only(joint_fit.check(mount(), shop()))
    assert (finding.status, finding.measured) == (Status.PASS, pytest.approx(1.0))
    assert finding.required == 0.8
    assert finding.source == "common practice, no source"


def test_fit_short_of_its_clearance_fails_and_says_what_it_needs():
    finding = only(joint_fit.check(mount(rack=(3.5,)), shop()))
    assert finding.status is Status.FAIL
    assert finding.measured == pytest.approx(0)
    assert "3.9 mm on each side" in finding.note


def test_loose_fit_warns_with_its_shim():
    finding = only(joint_fit.check(mount(rack=(6,)), shop()))
    assert finding.status is Status.WARN
    assert "shim of 2.1 mm" in finding.note


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
