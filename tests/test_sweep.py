"""A job over a range."""

import csv
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.packet.sweep_picture import sweep_picture
from partgen.packet.sweep_table import sweep_csv
from partgen.sweep import read_range, sweep
from partgen.tasks.adjusting import adjust

DEMOS = Path(__file__).parents[1] / "demo_parts"
BUGGY = DEMOS / "hill-trial-buggy.toml"


def test_every_value_is_what_adjust_gives():
    found = sweep(BUGGY, "joint_width=57..66mm:4.5")
    assert [p.value for p in found.points] == [57, 61.5, 66]
    for point in found.points[1:]:
        other = adjust(BUGGY, {"joint_width": f"{point.value} mm"}).after
        assert point.build.mounts[0].fit == other.mounts[0].fit
        assert [p.mass for p in point.build.plates] == [p.mass for p in other.plates]


def test_the_table_and_its_numbers():
    rows = list(
        csv.DictReader(sweep_csv(sweep(BUGGY, "joint_width=57..63:6")).decode().splitlines())
    )
    assert [r["joint_width mm"] for r in rows] == ["57.00", "63.00"]
    assert [r["gap mm"] for r in rows] == ["58.00", "64.00"]
    assert [r["bolt"] for r in rows] == ["M16 x 110 mm", "M16 x 120 mm"]
    assert [r["rules failing"] for r in rows] == ["0", "0"]
    assert rows[0]["least margin mm"] == "0.21"  # 1.00 clearance less 1/32 in
    assert rows[0]["of"].startswith("joint-fit")


def test_other_measures_may_be_set_too():
    found = sweep(BUGGY, "joint_width=57..57:1", {"rail_width": "50"})
    assert found.points[0].build.mounts[0].fit.rail_width == 50


def test_a_value_that_cannot_be_built_is_told_and_the_others_stand():
    found = sweep(BUGGY, "joint_width=-3..57:60")
    assert found.points[0].build is None
    assert "must be more than 0" in found.points[0].problem
    assert found.points[1].build is not None
    table = sweep_csv(found).decode()
    assert "must be more than 0" in table
    ET.fromstring(sweep_picture(found))


def test_the_curves_hold_a_dot_for_every_value():
    found = sweep(BUGGY, "joint_width=57..75mm:3")
    root = ET.fromstring(sweep_picture(found))
    dots = root.findall("{http://www.w3.org/2000/svg}circle")
    assert len(dots) == 4 * 7  # four panels, one mount
    heights = [float(d.get("cy")) for d in dots[:7]]
    clearances = [p.build.mounts[0].fit.clearance for p in found.points]
    order = sorted(range(7), key=lambda k: clearances[k])
    assert [heights[k] for k in order] == sorted(heights, reverse=True)


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        ("joint_width", "write NAME=FROM..TO:STEP"),
        ("joint_width=1..2", "write NAME=FROM..TO:STEP"),
        ("joint_width=5..3:1", "TO must not be below FROM"),
        ("joint_width=3..5:0", "STEP must be more than 0"),
        ("joint_width=0..5:0.001", "at most 500"),
        ("joint_width=3..x:1", "unit 'x' is not known"),
        ("joint_widht=3..5:1", "did you mean 'joint_width'"),
    ],
)
def test_ranges_that_are_none(spec, words):
    with pytest.raises(PartgenError, match=words):
        sweep(BUGGY, spec)


def test_a_unit_typed_once_counts_for_all_and_ends_are_in():
    assert read_range("a=1..2in:1/4", "mm")[1] == [25.4, 31.75, 38.1, 44.45, 50.8]
    assert read_range("a=10mm..1in:5", "in")[1] == [10, 15, 20, 25]
    assert len(read_range("a=0..1:0.1", "mm")[1]) == 11
