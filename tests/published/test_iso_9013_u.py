"""ISO 9013, perpendicularity u by range and thickness.

The formulas are recalled; the chart of ISO 9013:2002 in inches, and the values in mm that follow,
were found and worked out elsewhere.
"""

import pytest

from partgen.reference.tables import load

TABLE = load("iso_9013_u")
RECALLED = [(1, 0.05, 0.003), (2, 0.15, 0.007), (3, 0.4, 0.01), (4, 0.8, 0.02), (5, 1.2, 0.035)]
CHART = {  # thickness in mm: u in inches, ranges 1 to 5
    6.4: (0.0027, 0.0077, 0.0183, 0.0365, 0.0560),
    12.7: (0.0035, 0.0094, 0.0207, 0.0415, 0.0647),
    25.4: (0.0050, 0.0129, 0.0257, 0.0515, 0.0822),
}
MM = {  # range: u at 3, 5, 6, 8, 10, 12, 16 mm
    1: (0.059, 0.065, 0.068, 0.074, 0.080, 0.086, 0.098),
    2: (0.171, 0.185, 0.192, 0.206, 0.220, 0.234, 0.262),
    3: (0.430, 0.450, 0.460, 0.480, 0.500, 0.520, 0.560),
    4: (0.860, 0.900, 0.920, 0.960, 1.00, 1.04, 1.12),
    5: (1.305, 1.375, 1.41, 1.48, 1.55, 1.62, 1.76),
}


def u(number, thickness):
    row = TABLE.find(range=number)
    return row["constant"] + row["per_thickness"] * thickness


def test_every_recalled_row():
    assert TABLE.cells() == RECALLED


@pytest.mark.parametrize("thickness", CHART)
@pytest.mark.parametrize("number", range(1, 6))
def test_the_printed_chart_is_reproduced(number, thickness):
    assert u(number, thickness) / 25.4 == pytest.approx(CHART[thickness][number - 1], abs=1e-4)


@pytest.mark.parametrize("number", MM)
def test_values_in_mm(number):
    got = [u(number, t) for t in (3, 5, 6, 8, 10, 12, 16)]
    assert got == pytest.approx(MM[number], abs=5e-4)
