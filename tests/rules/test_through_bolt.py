"""Bolt right through a rail: its holes in both plates, the sleeve on the flat of the wall.

A demo's numbers changed: rail 100 deep, corners 8, sleeve 26 outside; ahead of x = 260 the lower edge
falls 28 in 160, so that a point there lies (y - line) cos(atan(28 / 160)) inside it.
"""

from math import atan, cos
from pathlib import Path

import pytest

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.rules import through_bolt

DEMO = Path(__file__).parents[2] / "demo_parts" / "hill-trial-buggy-through-bolt.toml"
HOLES = 'holes = [{ name = "upper", at = ["= upper_x", "= upper_y"], bolt = "M14", fit = "close" }]'


def found(tmp_path, old="", new=""):
    text = DEMO.read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "job.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return through_bolt.check(build(load_job(path)))


def of_plates(findings):
    return {f.plate: f for f in findings if f.plate.startswith("rail-plates")}


def test_coaxial_holes_pass(tmp_path):
    plates = of_plates(found(tmp_path))
    assert set(plates) == {"rail-plates/inner", "rail-plates/outer"}
    assert {(f.status, f.measured) for f in plates.values()} == {("pass", 0)}


@pytest.mark.parametrize(
    ("name", "size"), [("other", "M14"), ("upper", "M12")], ids=["no hole", "another bolt's"]
)
def test_a_missing_hole_says_what_to_write(tmp_path, name, size):
    line = HOLES.replace('"upper"', f'"{name}"').replace('"M14"', f'"{size}"')
    plates = of_plates(found(tmp_path, HOLES, line))
    assert {f.status for f in plates.values()} == {"fail"}
    assert 'holes = [{ name = "upper"' in plates["rail-plates/outer"].note


@pytest.mark.parametrize(("off", "status"), [(0.01, "pass"), (0.011, "fail")])
def test_holes_given_apart_must_be_coaxial(tmp_path, off, status):
    apart = f"inner.{HOLES}\nouter.{HOLES.replace('= upper_x', f'= upper_x + {off}')}"
    plates = of_plates(found(tmp_path, HOLES, apart))
    assert plates["rail-plates/outer"].measured == pytest.approx(off)
    assert plates["rail-plates/outer"].status == status
    assert plates["rail-plates/inner"].status == "pass"


@pytest.mark.parametrize(("room", "status"), [(21.001, "pass"), (20.999, "fail"), (-5, "fail")])
def test_sleeve_stays_on_the_flat_of_the_wall(tmp_path, room, status):
    """26 / 2 + 8 = 21 from the edge; a hole outside the rail is never inside it."""
    y = -(352 - 260) * 28 / 160 + room / cos(atan(28 / 160))
    last = found(tmp_path, "upper_y = 41", f"upper_y = {y:.7f}")[-1]
    assert (last.measured, last.required) == (pytest.approx(room, abs=1e-5), 21)
    assert last.status == status


def test_other_mounts_have_no_such_bolt():
    assert not through_bolt.check(build(load_job(DEMO.with_name("hill-trial-buggy.toml"))))
