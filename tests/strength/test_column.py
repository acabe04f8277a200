"""Columns: Faires Problem 334, Shigley tube sections, Euler and Johnson where they meet."""

from math import pi, sqrt

import pytest

from partgen.errors import MeasureError
from partgen.strength.column import ENDS, STEEL, Tube, bending, column, euler, johnson, transition
from strength.units import INCH, KIP, KSI

FY, E = 48 * KSI, 30_000 * KSI


def bar(diameter):
    return Tube(diameter * INCH, diameter * INCH / 2)


@pytest.mark.parametrize(
    ("length", "diameter", "formula"), [(25, 1.096, "Johnson"), (50, 1.507, "Euler")]
)
def test_faires_334(length, diameter, formula):
    """10 kip, N 3, Sy 48 ksi, E 30 000 ksi: D 1.096 in. at Le 25 (Johnson), 1.507 at 50 (Euler)."""
    found = column(bar(diameter), length * INCH, FY, elastic=E)
    assert formula in found.clause
    assert found.nominal / KIP == pytest.approx(3 * 10, rel=0.003)


@pytest.mark.parametrize(("fy", "slenderness"), [(48, 111.07), (150, 62.83)])
def test_transition(fy, slenderness):
    """sqrt(2 pi^2 E/Sy): 111.07 at 48 ksi; Faires 62.83 at 150 ksi."""
    assert transition(fy * KSI, E) == pytest.approx(slenderness, abs=0.005)


def test_the_formulas_meet_at_half_of_yield():
    edge = transition(FY, E)
    assert johnson(500, edge, FY, E) == pytest.approx(500 * FY / 2)
    assert euler(500, edge, E) == pytest.approx(500 * FY / 2)


def test_johnson_has_4_pi_squared_not_the_misprinted_2():
    at = johnson(100, 80, FY, E)
    assert at == pytest.approx(100 * FY * (1 - FY * 6400 / (4 * pi**2 * E)))
    assert at != pytest.approx(100 * FY * (1 - FY * 6400 / (2 * pi**2 * E)), rel=0.05)


@pytest.mark.parametrize(
    ("ends", "factor"),
    [("pinned", 1), ("fixed", 4), ("fixed-free", 1 / 4), ("fixed-pinned", 2.046)],
)
def test_four_end_conditions(ends, factor):
    """Euler's classic cases: 1, 4, 1/4 and 2.046 times the pinned load."""
    tube = Tube(20, 2)
    pinned = column(tube, 4000, 415).nominal
    assert column(tube, 4000, 415, ends).nominal == pytest.approx(factor * pinned, rel=0.001)


def test_tube_sections():
    """2.000 x .250: A 1.3744, I .53689, S .53689, r .6250; 40 x 36 mm: I 43.22e3 mm4."""
    tube = Tube(2 * INCH, 0.25 * INCH)
    assert tube.area / INCH**2 == pytest.approx(1.3744, abs=1e-4)
    assert tube.inertia / INCH**4 == pytest.approx(0.53689, abs=1e-5)
    assert tube.modulus / INCH**3 == pytest.approx(0.53689, abs=1e-5)
    assert tube.gyration / INCH == pytest.approx(0.6250, abs=1e-4)
    assert tube.area / INCH**2 * 0.2836 * 12 == pytest.approx(4.678, abs=0.001)
    assert Tube(40, 2).inertia == pytest.approx(43.22e3, rel=1e-4)


def test_bending_of_a_link_by_a_side_force():
    """F L/4 = S Fy."""
    tube = Tube(50, 6)
    assert bending(tube, 900, 415).design * 900 / 4 == pytest.approx(tube.modulus * 415)


def test_steel_that_nobody_names():
    """E 200 000 MPa (AISC 360-16, symbols: 29,000 ksi, 200 000 MPa; from memory), by Euler to the digit."""
    tube = Tube(20, 2)
    assert STEEL == 200_000
    found = column(tube, 4000, 415).nominal
    assert found == pytest.approx(pi**2 * 200_000 * tube.inertia / 4000**2, rel=1e-9)


def test_mistakes_are_named():
    with pytest.raises(MeasureError, match="known: pinned"):
        column(Tube(50, 6), 900, 415, "hinged")
    with pytest.raises(MeasureError, match="more than half"):
        Tube(50, 26)
    assert ENDS["fixed-pinned"] == pytest.approx(pi / 4.4934, abs=5e-4)
    assert sqrt(1 / 2.046) == pytest.approx(ENDS["fixed-pinned"], abs=1e-3)
