"""What one part needs cut into another's plates."""

from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.job.build import _cut_nowhere, build
from partgen.job.job import load_job

AXLE = Path(__file__).parents[1] / "demo_parts" / "hill-trial-buggy-lower-axle.toml"


def job(tmp_path, change):
    file = tmp_path / "job.toml"
    file.write_text(change(AXLE.read_text(encoding="utf-8")), encoding="utf-8")
    return load_job(file)


def test_slots_are_cut_into_both_hands():
    for plate in build(load_job(AXLE)).plates:
        if plate.part == "lower-mount":
            assert [w.name for w in plate.windows] == ["boxing-1", "boxing-2"]


def test_order_in_the_file_does_not_matter(tmp_path):
    def swapped(text):
        head, mount, boxing, rest = text.split("[[part]]")
        return "[[part]]".join([head, boxing, mount, rest])

    first = {p.label: p for p in build(load_job(AXLE)).plates}
    assert {p.label: p for p in build(job(tmp_path, swapped)).plates} == first


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("at = [2, -58]", "at = [2, -30]", "window boxing-1 is not inside the plate"),
        ('mount = "lower-mount"\nplate', 'mount = "upper-mount"\nplate', "no such mount"),
        ("length = 70", "length = 30", "too short for tabs"),
    ],
)
def test_slots_that_cannot_be_cut_say_so(tmp_path, old, new, words):
    with pytest.raises(PartgenError) as error:
        build(job(tmp_path, lambda text: text.replace(old, new)))
    assert any(words in line for line in error.value.problems)


def test_openings_for_a_plate_that_is_not_made_are_named():
    made = build(load_job(AXLE))
    cuts = {"lower-mount/back": [("boxing", ())], "lower-mount/inner": [("boxing", ())]}
    (line,) = _cut_nowhere(made.job, made.plates, cuts)
    assert 'part "boxing" needs openings in lower-mount/back, a plate that is not made' in line
