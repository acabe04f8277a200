"""The measurement form: numbered, complete, in the job's unit."""

import csv
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.tasks.measuring import form_csv, measuring, write_form

DEMOS = Path(__file__).parents[1] / "demo_parts"
CART = DEMOS / "swamp-cart.toml"


def blanks(demo):
    return measuring(DEMOS / f"{demo}.toml").form


@pytest.mark.parametrize("demo", ["hill-trial-buggy", "camping-trailer", "swamp-cart"])
def test_lines_are_numbered_without_a_gap(demo):
    assert [b.number for b in blanks(demo)] == list(range(1, len(blanks(demo)) + 1))


def test_every_rail_station_joint_plate_and_reading_is_asked_for():
    found = blanks("swamp-cart")
    whats = [(b.thing, b.what) for b in found]
    assert sum("station" in w for _, w in whats) == 6
    assert sum(t == "net frame" for t, _ in whats) == 10
    assert ("plate 3 mm S355", "thickness, at three corners") in whats
    assert ("mount arm-mount", "bolt centre, forward from zero") in whats
    asked = {b.what: b.now for b in found if b.thing == "joint bush"}
    assert asked["sleeve or ball with its spacers, face to face"] == "66.4 mm"
    assert asked["bolt in hand (M16): plain shank to the thread"] == "87 mm"


def test_left_and_right_are_measured_separately():
    found = blanks("camping-trailer")
    assert all(b.sides == ("left", "right") for b in found if b.thing.startswith(("rail", "mount")))
    assert next(b for b in found if "width" in b.what).now == "2 in"


def test_the_spreadsheet_has_a_line_for_each_blank(tmp_path):
    found = blanks("swamp-cart")
    rows = list(csv.DictReader(form_csv(found).decode().splitlines()))
    assert len(rows) == sum(len(b.sides) for b in found)
    path = tmp_path / "form.csv"
    write_form(found, path)
    with pytest.raises(PartgenError, match="already there"):
        write_form(found, path)


def test_a_bad_reading_shows_and_the_job_stays_as_typed(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(CART.read_text().replace('["A", "C", 1268]', '["A", "C", 1288]'))
    before = job.read_bytes()
    found = measuring(job)
    assert not found.consistent
    worst = found.nets["frame"].suspects[0]
    assert (worst.start, worst.end) == ("A", "C")
    assert worst.error == pytest.approx(19.2, abs=1.0)
    assert job.read_bytes() == before


def test_a_net_that_does_not_hold_is_one_line(tmp_path):
    job = tmp_path / "job.toml"
    text = CART.read_text()
    start, end = text.index("readings = ["), text.index("square")
    job.write_text(text[:start] + 'readings = [["A", "B", 40], ["C", "D", 30]]\n' + text[end:])
    with pytest.raises(PartgenError) as caught:
        measuring(job)
    assert caught.value.problems == [
        "job.toml: net.frame: the readings do not join all points; measure across the groups"
    ]
