"""ISO 261: coarse pitches, mm, from memory; checked against areas found in ISO 898-1."""

from math import pi, sqrt

import pytest

from partgen.reference.bolt import bolt
from partgen.reference.tables import load

TABLE = load("iso_261")
RECALLED = {
    "M5": 0.8,
    "M6": 1.0,
    "M8": 1.25,
    "M10": 1.5,
    "M12": 1.75,
    "M14": 2.0,
    "M16": 2.0,
    "M18": 2.5,
    "M20": 2.5,
    "M22": 2.5,
    "M24": 3.0,
}
AREAS = {  # ISO 898-1, mm2
    "M5": 14.2,
    "M6": 20.1,
    "M8": 36.6,
    "M10": 58.0,
    "M12": 84.3,
    "M14": 115,
    "M16": 157,
    "M18": 192,
    "M20": 245,
    "M22": 303,
    "M24": 353,
}


def test_every_recalled_row_and_no_other():
    assert TABLE.cells() == list(RECALLED.items())
    assert {row["mark"] for row in TABLE.rows} == {"memory"}


@pytest.mark.parametrize(("size", "area"), AREAS.items())
def test_the_found_stress_area_gives_the_pitch_back(size, area):
    """P from As = pi/4 (d - 0.9382 P)^2; the area's rounding moves P by 0.05 mm at most."""
    pitch = (float(size[1:]) - sqrt(4 * area / pi)) / 0.9382
    assert TABLE.lookup(size, "pitch") == pytest.approx(pitch, abs=0.05)


@pytest.mark.parametrize("size", ["M4", "M7", "M27"])
def test_a_size_the_table_does_not_print_is_refused(size):
    assert TABLE.lookup(size, "pitch") is None


def test_the_bolt_reads_its_pitch():
    assert bolt("M12").pitch == 1.75
    assert bolt("M12").transition == 5 * 1.75
