"""AISC Design Examples v14, Example D.7: a pin-connected plate (AISC 360-10 D5, same in 360-16).

A36 plate 1/2 x 4-1/4 in., pin 1.00 in. in a 1.03 in. hole, a 2.25, c 2.50; D 4, L 12 kip.
"""

from dataclasses import replace

import pytest

from partgen.errors import MeasureError
from partgen.strength.capacity import weakest
from partgen.strength.pin_connection import Lug, pin_capacities, proportions
from strength.units import INCH, KIP, KSI

D7 = Lug(
    thickness=0.5 * INCH, width=4.25 * INCH, hole=1.03 * INCH, pin=INCH, end=2.25 * INCH,
    side=(4.25 - 1.03) / 2 * INCH, corner=2.5 * INCH, fy=36 * KSI, fu=58 * KSI, inch=True,
)  # fmt: skip
# nominal, LRFD, ASD [kip]; nominal printed, 76.7 comes from a rounded area
PRINTED = {
    "tensile rupture at the pin": (93.4, 70.0, 46.7),
    "shear rupture beyond the pin": (95.7, 71.8, 47.9),
    "bearing on the projected pin": (32.4, 24.3, 16.2),
    "yield of the gross section": (76.7, 68.9, 45.8),
}


@pytest.mark.parametrize("mode", PRINTED)
def test_every_limit_state(mode):
    (found,) = [c for c in pin_capacities(D7) if c.mode == mode]
    got = [v / KIP for v in (found.nominal, found.design, found.allowable)]
    assert got == pytest.approx(PRINTED[mode], rel=0.005)


def test_there_are_four_limit_states_and_bearing_governs():
    found = pin_capacities(D7)
    assert len(found) == 4
    assert weakest(found).mode == "bearing on the projected pin"
    assert weakest(found).design / KIP >= 1.2 * 4 + 1.6 * 12  # the example's own check
    assert weakest(found).allowable / KIP >= 4 + 12


def test_effective_width_is_the_distance_to_the_edge_not_the_formula():
    assert pytest.approx(1.63) == 2 * 0.5 + 0.63
    assert D7.effective_width / INCH == pytest.approx(1.61)
    assert D7.shear_area / INCH**2 == pytest.approx(2.75)


def test_proportions():
    (_, a, a_min), (_, w, w_min), (_, c, c_min) = proportions(D7)
    assert (a / INCH, w / INCH, c / INCH) == pytest.approx((2.25, 4.25, 2.5))
    assert (a_min / INCH, w_min / INCH, c_min / INCH) == pytest.approx(
        (2.141, 4.22, 2.25), abs=1e-3
    )


def test_the_2005_text_is_not_what_is_worked_out():
    """The 2005 example took be = 1.63 in. and printed 94.5 kip, phi 70.9: another edition."""
    wide = replace(D7, side=10 * INCH)
    assert pin_capacities(wide)[0].nominal / KIP == pytest.approx(94.5, rel=0.001)
    assert pin_capacities(wide)[0].design / KIP == pytest.approx(70.9, rel=0.001)
    assert pin_capacities(D7)[0].nominal / KIP < 93.5


def test_metric_form_adds_16_mm():
    assert replace(D7, inch=False, side=500).effective_width == pytest.approx(25.4 + 16)


def test_a_lug_is_metric_unless_told():
    lug = Lug(thickness=10, width=200, hole=21, pin=20, end=60, side=80, fy=355, fu=470)
    assert lug.effective_width == pytest.approx(2 * 10 + 16)
    assert lug.corner is None


def test_every_wrong_size_is_named_at_once():
    with pytest.raises(MeasureError) as error:
        replace(D7, pin=0, fy=-1)
    assert error.value.problems == [
        "pin = 0: must be more than 0",
        "fy = -1: must be more than 0",
    ]


def test_a_corner_that_is_not_known_is_not_asked_for():
    assert proportions(replace(D7, corner=None)) == proportions(D7)[:2]
