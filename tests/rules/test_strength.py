"""Screening strength of whole mounts: forces shared, modes summed by hand, nothing called safe."""

from dataclasses import replace
from math import cos, hypot, pi, radians, sin

import pytest
import shapely
from helpers import replaced
from rules.test_on_rail import JOB

from partgen.errors import MeasureError, PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.measure import parse_force, parse_stress
from partgen.packet.screening import screening_data
from partgen.printing.screening import screening as show
from partgen.rules import check, strength
from partgen.rules.ear import ears_of
from partgen.rules.finding import Status
from partgen.rules.on_rail import on_rails
from partgen.rules.screening import screen, weakest
from partgen.strength.weld_line import WeldLine

STRENGTH = '\n[strength]\nbolt_grade = "10.9"\nweld_metal = "480 MPa"\n'
OUT = 'threads = "out"\n'
DOWN = '\n[[load]]\nmount = "mount"\nforce = "8 kN"\nangle = -90\nfactor = 2.5\n'
SIDEWAYS = DOWN.replace("angle = -90", "direction = [0, -3, 0]")
FU, FY, T, D, HOLE = 470.0, 355.0, 6.0, 16.0, 17.0  # S355, M16 in a close hole (ISO 273)
CLEAR = 24 - HOLE / 2  # the ear's radius is 1.5 bolts


def made(tmp_path, more, *changes):
    text = replaced(JOB + more, *changes)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return build(load_job(path))


def modes(tmp_path, more, *changes, plate="mount/inner"):
    found = strength.check(made(tmp_path, more, *changes))
    return {f.where.split(", load")[0]: f for f in found if f.plate == plate}


PLANE = radians(55 * D / HOLE)  # ASME BTH-1: where the shear planes leave the pin
CURVE = 24 - (24**2 - (D / 2 * sin(PLANE)) ** 2) ** 0.5  # what the round end takes off each

# AISC 360-16 D2, J3.10 and ASME BTH-1 by hand, N: what one ear carries straight down.
BY_HAND = {
    "double-plane shear": 0.70 * FU / 1.2 * 2 * T * (CLEAR + D / 2 * (1 - cos(PLANE)) - CURVE),
    "tear-out": 0.75 * 1.2 * CLEAR * T * FU,
    "bearing": 0.75 * 2.4 * D * T * FU,
    "shear rupture beyond the pin": 0.75 * 0.6 * FU * 2 * T * (CLEAR + D / 2),
    "bearing on the projected pin": 0.75 * 1.8 * FY * D * T,
    "bearing on the pin": 1.25 * FY * D * T,
}


@pytest.mark.parametrize("mode", BY_HAND)
def test_one_ear_takes_half_of_force_times_factor(tmp_path, mode):
    finding = modes(tmp_path, STRENGTH + DOWN)[mode]
    assert finding.measured == pytest.approx(BY_HAND[mode])
    assert finding.required == pytest.approx(8000 * 2.5 / 2)
    assert (finding.unit, finding.status) == ("N", Status.PASS)


def test_the_bolt_takes_the_whole_in_two_planes(tmp_path):
    """10.9, 1040 MPa (ISO 898-1), threads out: .563 Fu on the body, twice."""
    finding = modes(tmp_path, STRENGTH + OUT + DOWN, plate="mount")["bolt shear, double"]
    assert finding.measured == pytest.approx(0.75 * 0.563 * 1040 * pi / 4 * 16**2 * 2)
    assert finding.required == 20_000
    for words in (
        "",
        'threads = "in"',
    ):  # nothing said: the run-out, 62 to 72, lies in the plane at 66
        inside = modes(tmp_path, STRENGTH + words + DOWN, plate="mount")["bolt shear, double"]
        assert inside.measured == pytest.approx(finding.measured * 0.450 / 0.563)


@pytest.mark.parametrize(("slack", "status"), [(1.0, Status.PASS), (1.0001, Status.FAIL)])
def test_the_limit_is_where_the_hand_sum_says(tmp_path, slack, status):
    force = 2 * BY_HAND["tear-out"] / 2.5 * slack
    found = modes(tmp_path, STRENGTH + DOWN.replace('"8 kN"', f'"{force:.3f} N"'))
    assert found["tear-out"].status is status
    assert found["bearing"].status is Status.PASS


def test_every_finding_says_screening_only_with_clause_and_assumption(tmp_path):
    for finding in modes(tmp_path, STRENGTH + DOWN).values():
        assert finding.source.startswith("screening only: ")
        assert any(word in finding.source for word in ("AISC", "BTH", "EN 1993"))
        assert len(finding.note) > len("screening only; ")
        assert "safe" not in finding.source + finding.note
    assert (
        "your factor stands for Nd" in modes(tmp_path, STRENGTH + DOWN)["bearing on the pin"].note
    )


def test_direction_and_angle_mean_the_same(tmp_path):
    angled = modes(tmp_path, STRENGTH + DOWN.replace("angle = -90", "angle = -35"))
    x, z = cos(radians(-35)), sin(radians(-35))
    drawn = modes(
        tmp_path, STRENGTH + DOWN.replace("angle = -90", f"direction = [{5 * x}, 0, {5 * z}]")
    )
    assert angled.keys() == drawn.keys()
    for mode, finding in angled.items():
        assert drawn[mode].measured == pytest.approx(finding.measured)
    assert angled["tear-out"].measured >= modes(tmp_path, STRENGTH + DOWN)["tear-out"].measured - 1


def test_weld_of_one_plate_takes_half_through_its_own_path(tmp_path):
    job = made(tmp_path, STRENGTH + DOWN)
    piece = next(p for p in on_rails(job) if p.plate.name == "inner")
    line, leg = WeldLine(piece.welded), 4.0
    cx, cy = line.centroid
    assert 300 < line.length < piece.plate.outline.length
    turn = 0.5 * (-90 - cx)
    worst = max(
        hypot(turn / line.polar * (y - cy), -0.5 / line.length - turn / line.polar * (x - cx))
        for x, y in line.points
    )
    finding = modes(tmp_path, STRENGTH + DOWN)["weld of the plate to the rail"]
    assert finding.measured == pytest.approx(0.75 * 0.6 * 480 * 0.5**0.5 * leg / worst)
    assert finding.required == 20_000


def test_a_force_along_the_bolt_bends_one_ear(tmp_path):
    """Plastic moment of 6 mm S355 at the weakest section; at the weld's height 77 mm below the bolt."""
    found = modes(tmp_path, STRENGTH + SIDEWAYS)
    assert set(found) == {"ear bent out of its plane", "weld of the plate to the rail"}
    bent = found["ear bent out of its plane"]
    assert bent.required == 20_000
    piece = next(p for p in on_rails(made(tmp_path, STRENGTH)) if p.plate.name == "inner")
    ear = piece.plate.outline.polygon("inside")
    widths = {}
    for k in range(1, 25):
        away = 77 * k / 24
        row = shapely.LineString([(-400, -64 + away), (500, -64 + away)]).intersection(ear)
        widths[away] = row.length if away > 8.5 else None
    by_hand = min(0.9 * FY * w * T**2 / 4 / a for a, w in widths.items() if w)
    assert bent.measured == pytest.approx(by_hand, rel=1e-3)
    assert bent.status is Status.FAIL


def test_upwards_the_metal_reaches_to_the_top_of_the_plate(tmp_path):
    """Pivot at y = -64, body up to 100 - 13: 151 mm less half the hole."""
    finding = modes(tmp_path, STRENGTH + DOWN.replace("-90", "90"))["tear-out"]
    assert finding.measured == pytest.approx(0.75 * 1.2 * (151 - HOLE / 2) * T * FU)


def test_a_slanting_force_is_split(tmp_path):
    """3 forward to 4 sideways of 20 kN: 12 kN in the plane, half for each ear; 16 along the bolt."""
    found = modes(tmp_path, STRENGTH + DOWN.replace("angle = -90", "direction = [3, -4, 0]"))
    assert found["tear-out"].required == pytest.approx(6000)
    assert found["ear bent out of its plane"].required == pytest.approx(16000)
    assert found["weld of the plate to the rail"].required == pytest.approx(20000)


def test_link_in_compression(tmp_path):
    link = 'link = { diameter = 40, wall = 4, length = 900, strength = "355 MPa" }\n'
    (finding,) = modes(tmp_path, STRENGTH + DOWN + link, plate="mount, link").values()
    assert finding.required == 20_000
    assert "Johnson" in finding.source
    long = link.replace("900", "1900")
    (slender,) = modes(tmp_path, STRENGTH + DOWN + long, plate="mount, link").values()
    inertia = pi / 64 * (40**4 - 32**4)
    assert slender.measured == pytest.approx(pi**2 * 200e3 * inertia / 1900**2)


def test_what_the_job_does_not_say_is_not_covered(tmp_path):
    found = modes(tmp_path, DOWN)
    assert found["weld of the plate to the rail"].status is Status.NOT_COVERED
    assert "weld_metal is not given" in found["weld of the plate to the rail"].note
    bolt = modes(tmp_path, DOWN, plate="mount")["bolt shear, double"]
    assert (bolt.status, bolt.note) == (
        Status.NOT_COVERED,
        "bolt_grade is not given; add it under [strength]",
    )
    wrong = modes(tmp_path, STRENGTH.replace("10.9", "8") + DOWN, plate="mount")
    assert "property class '8' is unknown" in wrong["bolt shear, double"].note
    with pytest.raises(
        PartgenError, match=r"bolt_grade = '10\.8': no such grade; did you mean '10\.9'"
    ):
        modes(tmp_path, STRENGTH.replace("10.9", "10.8") + DOWN, plate="mount")


def test_eurocode_rule_set(tmp_path):
    """Table 3.9 type A: F = 2 t fy (a - 2 d0/3); Table 3.10: 1.5 t d fy; Table 3.4."""
    changes = ('units = "mm"', 'units = "mm"\nrules = "en-1993-1-8"')
    found = modes(tmp_path, STRENGTH + OUT + DOWN, changes)
    beyond = found["pin plate, metal beyond the hole"]
    assert beyond.measured == pytest.approx(2 * T * FY * (CLEAR - 2 * HOLE / 3))
    assert found["bearing on the pin"].measured == pytest.approx(1.5 * T * D * FY)
    assert found["bearing"].measured == pytest.approx(2.5 * 24 / 51 * FU * D * T / 1.25, rel=0.01)
    bolt = modes(tmp_path, STRENGTH + OUT + DOWN, changes, plate="mount")["bolt shear, double"]
    assert bolt.measured == pytest.approx(2 * 0.6 * 1000 * pi / 4 * 256 / 1.25)
    pin = modes(tmp_path, STRENGTH + OUT + DOWN, changes, plate="mount")["pin in shear and bending"]
    fit = made(tmp_path, STRENGTH + OUT, changes).mounts[0].fit
    arm = (57 + 4 * fit.clearance / 2 + 2 * T) / 8
    bend, shear = 1.5 * pi / 32 * 16**3 * 900 / arm, bolt.measured
    assert pin.measured == pytest.approx((bend**-2 + shear**-2) ** -0.5)


def test_the_2005_edition_is_weaker_in_bolt_shear(tmp_path):
    old = modes(
        tmp_path,
        STRENGTH + OUT + DOWN,
        ('units = "mm"', 'units = "mm"\nrules = "aisc-360-05"'),
        plate="mount",
    )
    new = modes(tmp_path, STRENGTH + OUT + DOWN, plate="mount")
    ratio = old["bolt shear, double"].measured / new["bolt shear, double"].measured
    assert ratio == pytest.approx(0.50 / 0.563)


def test_without_a_load_there_are_capacities_and_a_weakest_link(tmp_path):
    job = made(tmp_path, STRENGTH)
    found = screen(job, job.mounts[0])
    assert len(found) == 1 + 2 * (11 + 2 + 1)
    in_plane, along = weakest(found), weakest(found, side=True)
    judged = [s for s in found if not s.side]
    assert in_plane.at_joint == min(s.at_joint for s in judged)
    by_hand = {m: v / 0.5 for m, v in BY_HAND.items()} | {
        mode: BY_HAND[mode] / 3 / 0.5 for mode in ("bearing on the pin", "double-plane shear")
    }
    by_hand["rupture of the net section"] = 0.75 * FU * 2 * CLEAR * T / 0.5
    assert set(by_hand) <= {s.mode for s in found}
    for s in found:
        if s.mode in by_hand:
            assert s.at_joint == pytest.approx(by_hand[s.mode])
    assert in_plane.mode == "bearing on the pin"
    assert along.mode == "ear bent out of its plane"
    assert not [f for f in check(job) if f.rule == "strength"]


def test_mounts_on_the_right_alone_are_screened_alike(tmp_path):
    right = made(tmp_path, STRENGTH, ("weld_leg = 4", 'weld_leg = 4\nhands = "right"'))
    both = made(tmp_path, STRENGTH)
    got = [s.at_joint for s in screen(right, right.mounts[0])]
    assert got == pytest.approx([s.at_joint for s in screen(both, both.mounts[0])])


def test_data_and_words_say_screening_only(tmp_path, capsys):
    job = made(tmp_path, STRENGTH)
    (data,) = screening_data(job)
    assert data["label"] == "screening only"
    assert {m["label"] for m in data["modes"]} == {"screening only"}
    assert all(m["clause"] and m["assumptions"] for m in data["modes"])
    assert data["weakest_in_plane"]["mode"] == "bearing on the pin"
    for whole in (True, False):
        show(job, whole=whole)
        lines = capsys.readouterr().out.splitlines()
        assert lines[-1].startswith("Screening only")
        assert any(line.startswith("screening only: weakest link of mount") for line in lines)
        assert any("tear-out" in line for line in lines) is whole


def test_plates_that_lie_on_no_rail_say_so(tmp_path):
    job = made(tmp_path, DOWN, ("pivot = [-90, -64]", "pivot = [-90, 40]"))
    bent = [s for s in screen(job, job.mounts[0]) if s.mode == "ear bent out of its plane"]
    assert {s.why_not for s in bent} == {"the joint does not hang below a rail"}


def test_what_breaks_in_one_mode_is_not_covered_there(tmp_path, monkeypatch):
    def broken(*_):
        raise PartgenError("no sense in these numbers")

    monkeypatch.setattr("partgen.rules.screening.metal", broken)
    found = modes(tmp_path, STRENGTH + DOWN)
    assert found["metal round the hole"].status is Status.NOT_COVERED
    assert found["metal round the hole"].note == "no sense in these numbers"
    assert found["weld of the plate to the rail"].status is Status.PASS


@pytest.mark.parametrize(
    ("text", "newton"),
    [
        ("8 kN", 8000),
        ("8000N", 8000),
        ("1 lbf", 4.4482216152605),
        ("1.8 kip", 8006.7989),
        (".5 kN", 500),
    ],
)
def test_forces(text, newton):
    """1 lbf = 4.4482216152605 N (international pound and standard gravity)."""
    assert parse_force(text) == pytest.approx(newton)


@pytest.mark.parametrize(
    ("text", "mpa"), [("355 MPa", 355), ("60 ksi", 413.685), ("58000 psi", 399.896)]
)
def test_stresses(text, mpa):
    assert parse_stress(text) == pytest.approx(mpa, rel=1e-5)


@pytest.mark.parametrize(
    "text", ["8", "8 tons", "-8 kN", "0 N", "1e9 kN", "99999999 kN", "nan kN", "", 8, True, None]
)
def test_what_is_no_force(text):
    with pytest.raises(MeasureError):
        parse_force(text)


def test_loads_are_told_apart_by_name_or_number(tmp_path):
    named = DOWN.replace("factor = 2.5", 'factor = 2.5\nname = "jump"')
    found = strength.check(made(tmp_path, STRENGTH + DOWN + named))
    ends = [f.where.split(", load ")[1] for f in found if f.where.startswith("tear-out")]
    assert ends == ["1", "1", "jump", "jump"]


def test_a_load_where_no_joint_is_known_is_not_covered(tmp_path):
    (found,) = strength.check(made(tmp_path, DOWN.replace('mount = "mount"', 'mount = "pad"')))
    assert (found.plate, found.where, found.status) == ("pad", "load 1", Status.NOT_COVERED)
    assert "name the link mount" in found.note


def test_a_material_that_prints_no_strength_is_not_covered(tmp_path):
    job = made(tmp_path, STRENGTH)
    thick = [replace(p, thickness=400.0) for p in job.plates]
    found = [s for s in screen(replace(job, plates=thick), job.mounts[0]) if not s.capacity]
    assert {s.mode for s in found} == {"metal round the hole", "ear bent out of its plane"}
    assert all(s.why_not.endswith("prints no strength at 400 mm") for s in found)


EN = ('units = "mm"', 'units = "mm"\nrules = "en-1993-1-8"')


def test_the_pin_takes_the_thinner_ear_and_no_gap_below_none(tmp_path):
    """EN 1993-1-8 3.13: M = F/8 (b + 4c + 2a); a fit that is short has no gap, and 6 beside 10 mm
    ears count as 6."""
    job = made(tmp_path, STRENGTH + OUT, EN)
    plates = [replace(p, thickness=10.0) if p.name == "outer" else p for p in job.plates]
    mount = job.mounts[0]
    pins = {
        wide: next(
            s
            for s in screen(
                replace(job, plates=plates),
                replace(mount, fits=[replace(mount.fit, joint_width=wide)]),
            )
            if s.mode == "pin in shear and bending"
        )
        for wide in (57.0, 70.0)
    }
    assert mount.fit.gap == 58
    for wide, found in pins.items():
        arm = (wide + 4 * max(mount.fit.gap - wide, 0) / 2 + 2 * 6) / 8
        bend, shear = 1.5 * pi / 32 * 16**3 * 900 / arm, 2 * 0.6 * 1000 * pi / 4 * 256 / 1.25
        assert found.at_joint == pytest.approx((bend**-2 + shear**-2) ** -0.5)


@pytest.mark.parametrize("grade", [None, "8"])
def test_without_a_property_class_there_is_no_pin_nor_bearing_by_eurocode(tmp_path, grade):
    words = STRENGTH.replace('"10.9"', f'"{grade}"') if grade else "\n[strength]\n"
    job = made(tmp_path, words, EN)
    modes_found = {s.mode for s in screen(job, job.mounts[0])}
    assert "bearing on the pin" in modes_found
    assert not {"pin in shear and bending", "bearing"} & modes_found
    elsewhere = replace(job.mounts[0], pivot=(0.0, 50.0))
    assert not any("pin" in s.mode for s in screen(made(tmp_path, STRENGTH, EN), elsewhere))


def test_metal_of_a_pin_plate_beyond_and_beside_by_eurocode(tmp_path):
    """Straight up 151 mm beyond, beside as wide as the ear is there; Table 3.9 type A, gamma 1;
    bearing by Table 3.4 with e1 and e2 to the hole's centre."""
    found = modes(tmp_path, STRENGTH + DOWN.replace("-90", "0"), EN)
    ear = next(e for e in ears_of(*_scene(tmp_path)) if e.plate.name == "inner")
    end, side = ear.clear((1.0, 0.0)), ear.side((1.0, 0.0))
    assert side == pytest.approx(CLEAR)
    assert end > side + 1
    beyond, beside = (found[f"pin plate, metal {w} the hole"] for w in ("beyond", "beside"))
    assert beyond.measured == pytest.approx(2 * T * FY * (end - 2 * HOLE / 3))
    assert beside.measured == pytest.approx(2 * T * FY * (side - HOLE / 3))
    k1 = min(2.8 * (side + HOLE / 2) / HOLE - 1.7, 2.5)
    alpha = min((end + HOLE / 2) / (3 * HOLE), 1.0)
    assert found["bearing"].measured == pytest.approx(k1 * alpha * FU * D * T / 1.25)


def _scene(tmp_path):
    job = made(tmp_path, STRENGTH, EN)
    return job.mounts[0], job.plates


@pytest.mark.parametrize(("wall", "bore"), [("wall = 4, ", 32), ("", 0)])
def test_a_link_may_be_a_tube_or_a_bar(tmp_path, wall, bore):
    link = f'link = {{ diameter = 40, {wall}length = 1900, strength = "355 MPa" }}\n'
    (found,) = modes(tmp_path, STRENGTH + DOWN + link, plate="mount, link").values()
    inertia = pi / 64 * (40**4 - bore**4)
    assert found.measured == pytest.approx(pi**2 * 200e3 * inertia / 1900**2)
    assert found.required == 20_000


def test_no_bolt_length_counts_as_thread_in_the_plane(tmp_path):
    job = made(tmp_path, STRENGTH)
    bolt = screen(job, replace(job.mounts[0], bolts=job.mounts[0].bolts[:1]))[0]
    assert job.mounts[0].bolt_fit is not None
    assert bolt.at_joint == pytest.approx(0.75 * 0.450 * 1040 * pi / 4 * 16**2 * 2)
    long = replace(job.mounts[0], in_hand=replace(job.mounts[0].bolts[0], length=105, shank=76.0))
    assert screen(job, long)[0].at_joint == pytest.approx(bolt.at_joint * 0.563 / 0.450)


def test_a_load_almost_along_the_bolt_still_has_its_direction_in_the_plane(tmp_path):
    slight = SIDEWAYS.replace("[0, -3, 0]", "[3e-4, -3, 0]")
    assert "tear-out" in modes(tmp_path, STRENGTH + slight)
    forward = modes(tmp_path, STRENGTH + DOWN.replace("-90", "0"))
    assert modes(tmp_path, STRENGTH + slight)["tear-out"].measured == pytest.approx(
        forward["tear-out"].measured
    )
