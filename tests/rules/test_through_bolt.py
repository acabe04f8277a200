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
    assert {f.plate for f in found(tmp_path)} == {*plates, "upper-mount"}
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
    outer, inner = plates["rail-plates/outer"], plates["rail-plates/inner"]
    assert (outer.measured, outer.status) == (pytest.approx(off), status)
    assert outer.margin == pytest.approx(0.01 - off)
    assert bool(outer.note) is (status == "fail")
    assert (inner.measured, inner.status, inner.note) == (0, "pass", "")


@pytest.mark.parametrize(("x", "y"), [(6, 0), (0, -6)])
def test_holes_apart_are_told_from_the_first_plates(tmp_path, x, y):
    """The sleeve is judged at the first hole: where both would be without the other's being off."""
    moved = HOLES.replace("= upper_x", f"= upper_x + {x}").replace("= upper_y", f"= upper_y + {y}")
    whole, apart = found(tmp_path), found(tmp_path, HOLES, f"inner.{HOLES}\nouter.{moved}")
    plates = of_plates(apart)
    assert plates["rail-plates/inner"].measured == 0
    assert plates["rail-plates/outer"].measured == pytest.approx(6)
    assert apart[-1].measured == pytest.approx(whole[-1].measured)
    assert found(tmp_path, HOLES, moved)[-1].measured != pytest.approx(whole[-1].measured, abs=0.5)


@pytest.mark.parametrize(("room", "status"), [(21.001, "pass"), (20.999, "fail"), (-5, "fail")])
def test_sleeve_stays_on_the_flat_of_the_wall(tmp_path, room, status):
    """26 / 2 + 8 = 21 from the edge; a hole outside the rail is never inside it."""
    y = -(352 - 260) * 28 / 160 + room / cos(atan(28 / 160))
    last = found(tmp_path, "upper_y = 41", f"upper_y = {y:.7f}")[-1]
    assert (last.measured, last.required) == (pytest.approx(room, abs=1e-5), 21)
    assert last.status == status


def test_other_mounts_have_no_such_bolt():
    assert not through_bolt.check(build(load_job(DEMO.with_name("hill-trial-buggy.toml"))))
