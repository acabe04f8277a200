"""Hole policy: cut, pilot, mark. Limits are the profile's own (common practice, no source)."""

from dataclasses import replace

import pytest
from helpers import plate

from partgen.cut.holes import refuse_unknown, worked
from partgen.entries.cutting import cutting
from partgen.entries.hole_policy import HolePolicy
from partgen.errors import PartgenError
from partgen.reference.bolt import bolt

PROCESS = cutting("plasma-65a")
LASER = PROCESS.model_copy(update={"tolerance_class": 1})
BOX = [(0, 0), (90, 0), (90, 50), (0, 50)]
HOLES = [("joint", 20, 21, "M16"), ("brake-line", 60, 33, "M6")]


def asked(policy, where="test/plate", hole="joint"):
    return [HolePolicy(plate=where, hole=hole, policy=policy)]


def test_the_limit_is_one_and_a_half_thicknesses():
    """6.6 mm hole (ISO 273 normal, M6): at the limit in 4.4 mm plate, under it in 4.41 mm."""
    for thickness, policy in ((4.4, "cut"), (4.41, "mark")):
        _, works = worked(plate(BOX, HOLES, thickness=thickness), LASER)
        assert [w.policy for w in works] == ["cut", policy]
    own = LASER.model_copy(update={"least_hole_per_thickness": 1.6})
    assert worked(plate(BOX, HOLES, thickness=4.4), own)[1][1].policy == "mark"


def fitted(fit, size="M16", thickness=6.0):
    """A plate with one hole of a fit: ISO 273 has 17, 17.5 and 18.5 mm for M16."""
    base = plate(BOX, [("joint", 30, 25, "M16")], thickness=thickness)
    hole = replace(base.holes[0], diameter=bolt(size).hole(fit), bolt=bolt(size))
    return replace(base, holes=(hole,))


@pytest.mark.parametrize(
    ("fit", "thickness", "grade", "policy"),
    [("close", 6, 2, "mark"),  # 0.9 mm off (ISO 9013 class 2): 0.5 is left to the normal hole
     ("close", 6, 1, "cut"),  # 0.25 mm off (class 1)
     ("normal", 6, 2, "cut"),  # 1.5 mm over the bolt
     ("loose", 6, 2, "cut"),
     ("close", 10, 1, "cut"),  # 0.30 mm off
     ("close", 10.5, 1, "cut"),  # 0.35 mm off
     ("close", 25, 1, "mark"),  # smaller than 1.5 x thickness
     ("normal", 8, 2, "cut")],  # 1.1 mm off, 1.5 over the bolt
)  # fmt: skip
def test_a_close_fit_is_drilled_where_the_process_cannot_hold_it(fit, thickness, grade, policy):
    process = PROCESS.model_copy(update={"tolerance_class": grade})
    _, (work,) = worked(fitted(fit, thickness=thickness), process)
    assert work.policy == policy
    assert work.drill == (bolt("M16").hole(fit) if policy == "mark" else 0)


def test_a_process_whose_holes_come_out_larger_spoils_a_close_fit():
    """Class 1, 0.25 mm off: of the 0.5 mm to the normal hole 0.3 are gone before that."""
    wide = LASER.model_copy(update={"hole_error": -0.3})
    assert worked(fitted("close"), wide)[1][0].policy == "mark"
    assert worked(fitted("normal"), wide)[1][0].policy == "cut"


@pytest.mark.parametrize(("hole", "policy"), [(15.0, "mark"), (15.3, "cut")])
def test_a_hole_no_table_has_may_be_off_by_no_more_than_its_play(hole, policy):
    """9/16 in. is 14.2875 mm; class 2 is 0.9 mm off: 0.71 mm of play are too few, 1.01 enough."""
    _, (work,) = worked(fitted(hole, "9/16"), PROCESS)
    assert work.policy == policy
    wide = LASER.model_copy(update={"hole_error": -0.6})  # 0.25 mm off, 0.6 mm larger
    assert worked(fitted(14.8, "9/16"), wide)[1][0].policy == "mark"
    assert worked(fitted(15.2, "9/16"), wide)[1][0].policy == "cut"


def test_a_hole_that_may_come_out_smaller_than_its_bolt_is_drilled():
    """M6 normal, 6.6 mm, in 4 mm plate: 0.8 mm off against 0.6 mm over the bolt."""
    _, (work,) = worked(fitted("normal", "M6", 4.0), PROCESS)
    assert work.policy == "mark"
    assert work.note == (
        "cut, it may be 0.8 mm off by ISO 9013 tolerance class 2; its fit takes 0.6 mm: drill it"
    )
    small = PROCESS.model_copy(update={"hole_error": 0.7})  # measured with a coupon
    _, (work,) = worked(fitted("normal"), small)
    assert (work.policy, "takes 0.8 mm" in work.note) == ("mark", True)


@pytest.mark.parametrize(("policy", "words"), [
    ("cut", "cut 17 mm"), ("pilot", "cut 14 mm, drill to 17 mm"), ("mark", "marked, drill 17 mm")])  # fmt: skip
def test_a_pivot_is_cut_as_the_job_says(policy, words):
    _, (work,) = worked(fitted("close"), PROCESS, asked(policy))
    assert (work.policy, work.words("mm")) == (policy, words)


def test_a_size_that_iso_9013_does_not_print_is_left_to_the_cut():
    _, (work,) = worked(
        fitted("close", "M24", 10.0), PROCESS.model_copy(update={"tolerance_class": 1})
    )
    assert work.policy == "cut"
    thick = PROCESS.model_copy(update={"least_hole_per_thickness": 0.5})
    assert worked(fitted("close", thickness=24), thick)[1][0].policy == "cut"  # beyond 20 mm


def test_a_marked_hole_is_two_lines_that_cross_on_its_centre():
    done, works = worked(plate(BOX, HOLES), PROCESS)
    assert [h.name for h in done.holes] == ["joint"]
    (a, b), (c, d) = (mark.path for mark in done.marks)
    for p, q in ((a, b), (c, d)):
        assert ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) == pytest.approx((60, 33), abs=1e-6)
    assert {mark.kind for mark in done.marks} == {"drill"}
    assert (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) == 0
    assert works[1].drill == pytest.approx(6.6)
    assert "smaller than 1.5 x thickness" in works[1].note


def test_a_pilot_leaves_the_drill_its_allowance():
    done, works = worked(plate(BOX, HOLES[:1]), PROCESS, asked("pilot"))
    assert done.holes[0].diameter == pytest.approx(17.5 - 3)
    assert (works[0].policy, works[0].drill) == ("pilot", 17.5)
    assert worked(plate(BOX, HOLES[:1]), PROCESS, asked("pilot", "test"))[1] == works


def test_a_pilot_under_the_limit_becomes_a_mark():
    thick = plate(BOX, HOLES[:1], thickness=10)  # 14.5 mm pilot, 15 mm limit
    _, works = worked(thick, PROCESS, asked("pilot"))
    assert works[0].policy == "mark"
    assert "too small for a pilot" in works[0].note


def test_what_is_asked_beats_the_limit():
    done, works = worked(plate(BOX, HOLES), PROCESS, asked("cut", hole="brake-line"))
    assert works[1].policy == "cut"
    assert len(done.holes) == 2


def test_a_plate_with_nothing_to_do_is_the_same_plate():
    box = plate(BOX, HOLES[:1])
    assert worked(box, PROCESS)[0] is box


def test_entries_that_meet_nothing_are_named_with_the_nearest():
    entries = [*asked("mark", "tset/plate"), *asked("mark", hole="jont"), *asked("mark")]
    with pytest.raises(PartgenError) as error:
        refuse_unknown([plate(BOX, HOLES)], entries)
    first, second = error.value.problems
    assert first.startswith("hole[1].plate: 'tset/plate' is no plate")
    assert "test/plate" in first
    assert second.startswith("hole[2].hole: 'jont' is not in test/plate")
    assert "joint" in second
