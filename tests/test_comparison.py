"""Before and after: worked by hand on the buggy, rail 50, joint 57, plates 3, 4 and 6 mm.

Gap is rail and spacers: 57 takes 4 + 4 (gap 58), 55 takes 3 + 3 (gap 56, or 58 with shims), 63 takes
3 + 4 a side (gap 64).
"""

from dataclasses import replace
from pathlib import Path

import helpers
import pytest

from partgen.errors import PartgenError
from partgen.plates.differences import differences
from partgen.tasks.adjusting import adjust, compare_files

BUGGY = Path(__file__).parents[1] / "demo_parts" / "hill-trial-buggy.toml"
SHEETS = '\n[[sheet]]\nplate = "4 mm S355"\nsize = [1250, 2500]\n'
WEB = {"web/gusset/left", "web/gusset/right"}
MOUNT = {
    f"lower-front-mount/{side}/{hand}" for side in ("inner", "outer") for hand in ("left", "right")
}


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(BUGGY.read_text().replace("rail_width = 52", "rail_width = 50") + SHEETS)
    return path


def states(found):
    return {p.label: p.state for p in found.plates}


def plate(found, label):
    return next(p for p in found.plates if p.label == label)


def values(found):
    return {v.what: (v.before, v.after) for v in found.values}


def test_a_wider_joint_recuts_what_hangs_on_the_gap_and_nothing_else(job):
    found = adjust(job, {"joint_width": "61 mm"})
    assert {k for k, s in states(found).items() if s == "recut"} == {"rail-spacer/pad", *WEB}
    assert {k for k, s in states(found).items() if s == "keep"} >= MOUNT
    assert plate(found, "rail-spacer/pad").changes == ["thickness 4 mm -> 6 mm"]
    assert plate(found, "web/gusset/left").changes == ["length 58 mm -> 62 mm"]
    assert values(found)["gap"] == ("58", "62")
    assert values(found)["spacer inner"] == ("4 mm S355", "6 mm S355")
    before, after = found.mass
    pads = 4 * 0.002 * (0.150 * 0.060 - (4 - 3.14159265) * 0.006**2) * 7850
    webs = 2 * sum(
        sign * next(p for p in side.plates if p.label == "web/gusset/left").mass
        for sign, side in ((1, found.after), (-1, found.before))
    )
    assert after - before == pytest.approx(pads + webs, rel=1e-6)


def test_a_joint_so_wide_that_spacers_are_stacked(job):
    found = adjust(job, {"joint_width": "63 mm"})
    assert values(found)["spacer inner"] == ("4 mm S355", "4 mm S355 + 3 mm S355")
    assert states(found)["rail-spacer/pad-2"] == "new"
    assert states(found)["rail-spacer/pad"] == "keep"


def test_a_narrower_joint_would_do_with_a_shim(job):
    """Old gap 58 less joint 55 less 0.794 wanted: 2.206, 1.103 on each side."""
    found = adjust(job, {"joint_width": "55"})
    saved = {p.label: p.shim for p in found.plates if p.shim is not None}
    assert set(saved) == {"rail-spacer/pad", *WEB}
    assert saved["rail-spacer/pad"] == pytest.approx((58 - 55 - 25.4 / 32) / 2)
    assert states(found)["rail-spacer/pad"] == "shim"


def test_a_wider_joint_is_saved_by_no_shim(job):
    assert all(p.shim is None for p in adjust(job, {"joint_width": "61"}).plates)


def test_old_spacers_that_leave_less_than_the_wanted_clearance_save_nothing(job):
    """57.5 leaves 0.5 of the old gap, 0.794 is wanted."""
    found = adjust(job, {"joint_width": "57.5"})
    assert states(found)["rail-spacer/pad"] == "recut"
    assert all(p.shim is None for p in found.plates)


def test_a_plate_drawn_elsewhere_has_its_holes_where_they_were():
    a = helpers.plate([(0, 0), (100, 0), (100, 60), (0, 60)], [("eye", 30, 20, "M12")])
    b = replace(a.moved(40, -7), thickness=8.0)
    assert differences(a, b) == ["thickness 6 mm -> 8 mm"]
    c = replace(b, holes=(replace(b.holes[0], x=b.holes[0].x + 1),))
    assert differences(a, c)[1] == (
        "hole eye from the lower left corner (30, 20) mm -> (31, 20) mm"
    )


def test_hardware_differs_by_count(job):
    """ISO 4014: M16, 61 + 12 + 6 of washers is 79 of grip: 110 has thread from 72, 120 from 82."""
    found = {
        (h.item, h.size): (h.before, h.after) for h in adjust(job, {"joint_width": "61"}).hardware
    }
    assert found["bolt", "M16 x 110 mm"] == (2, 0)
    assert found["bolt", "M16 x 120 mm"] == (0, 2)
    assert found["washer", "M16"] == (4, 6)
    assert found["spacer", "4 mm S355"] == (4, 0)
    assert ("nut", "M16") not in found


def test_findings_gained_and_lost(job):
    found = adjust(job, {"joint_width": "80"})
    assert found.stops
    assert [(f.rule, f.status) for f in found.gained if f.rule == "joint-fit"] == [
        ("joint-fit", "fail")
    ]
    job.write_text(job.read_text().replace("joint_width = 57", "joint_width = 80"))
    back = adjust(job, {"joint_width": "57"})
    assert not back.stops
    assert [f.rule for f in back.lost if f.stops] == ["joint-fit"]


def test_no_difference_keeps_everything(job):
    found = adjust(job, {"joint_width": "5.7 cm"})
    assert set(states(found).values()) == {"keep"}
    assert (found.values, found.hardware, found.gained, found.lost) == ([], [], [], [])


def test_two_files_with_plates_new_gone_counted_and_bored(job, tmp_path):
    other = tmp_path / "other.toml"
    text = job.read_text().replace('name = "outrigger-gusset"', 'name = "side-gusset"')
    text = text.replace(
        'mount = "lower-front-mount"\nsize', 'count = 2\nmount = "lower-front-mount"\nsize'
    )
    other.write_text(text.replace('bolt = "M16"', 'bolt = "M14"'))
    found = compare_files(job, other)
    assert states(found)["outrigger-gusset/gusset/left"] == "gone"
    assert states(found)["side-gusset/gusset/left"] == "new"
    pad = plate(found, "rail-spacer/pad")
    assert (pad.state, pad.count_before, pad.count_after) == ("keep", 4, 8)
    told = plate(found, "lower-front-mount/inner/left").changes
    assert "hole joint 17 mm -> 15 mm" in told  # ISO 273, fine


def test_a_window_moved_is_told(job, tmp_path):
    other = tmp_path / "other.toml"
    other.write_text(job.read_text().replace("at = [330, 34]", "at = [334, 34]"))
    found = compare_files(job, other)
    assert plate(found, "lower-front-mount/outer/left").changes == ["window strap: place"]
    assert states(found)["lower-front-mount/inner/left"] == "keep"


def test_unknown_measures_are_named(job):
    with pytest.raises(
        PartgenError, match="joint_widht: no such measure in this job; did you mean"
    ):
        adjust(job, {"joint_widht": "60"})
    with pytest.raises(PartgenError, match="no change"):
        adjust(job, {})
