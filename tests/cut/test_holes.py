"""Hole policy: cut, pilot, mark. Limits are the profile's own (common practice, no source)."""

import pytest
from helpers import plate

from partgen.cut.holes import refuse_unknown, worked
from partgen.entries.cutting import cutting
from partgen.entries.hole_policy import HolePolicy
from partgen.errors import PartgenError

PROCESS = cutting("plasma-65a")
BOX = [(0, 0), (90, 0), (90, 50), (0, 50)]
HOLES = [("joint", 20, 21, "M16"), ("brake-line", 60, 33, "M6")]


def asked(policy, where="test/plate", hole="joint"):
    return [HolePolicy(plate=where, hole=hole, policy=policy)]


def test_the_limit_is_one_and_a_half_thicknesses():
    """6.6 mm hole (ISO 273 normal, M6): at the limit in 4.4 mm plate, under it in 4.41 mm."""
    for thickness, policy in ((4.4, "cut"), (4.41, "mark")):
        _, works = worked(plate(BOX, HOLES, thickness=thickness), PROCESS)
        assert [w.policy for w in works] == ["cut", policy]
    own = PROCESS.model_copy(update={"least_hole_per_thickness": 1.6})
    assert worked(plate(BOX, HOLES, thickness=4.4), own)[1][1].policy == "mark"


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
