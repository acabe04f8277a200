"""Steel plate, lb/ft2: .2836 lb/in3 (3/4 in. = 30.63 lb/ft2) and the older 40.8 for each inch.

Handbook values; the rows but 3/4 in. are calculated from them. Steel is 7850 kg/m3.
"""

import pytest

from partgen.reference.material import material, names
from partgen.reference.tables import load

TABLE = load("steel_plate_weight")
PRINTED = [
    (0.125, 5.105, 5.1),
    (0.1875, 7.657, 7.65),
    (0.25, 10.21, 10.2),
    (0.3125, 12.76, 12.75),
    (0.375, 15.31, 15.3),
    (0.5, 20.42, 20.4),
    (0.75, 30.63, 30.6),
]


def test_every_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize("row", TABLE.rows)
def test_rows_follow_from_their_basis(row):
    assert row["w_2836"] == pytest.approx(0.2836 * 144 * row["thickness"], rel=0.0005)
    assert row["w_408"] == pytest.approx(40.8 * row["thickness"], rel=1e-9)


@pytest.mark.parametrize("name", names())
def test_the_density_of_every_steel_gives_the_found_weight(name):
    """30.63 lb/ft2 of 3/4 in. plate; 1 lb = 0.45359237 kg, 1 ft = 0.3048 m: 0.1 %."""
    pounds = material(name).density * 0.75 * 0.0254 * 0.3048**2 / 0.45359237
    assert pounds == pytest.approx(30.63, rel=0.001)


def test_a_thickness_without_a_row_is_refused():
    assert TABLE.lookup(0.625, "w_2836") is None
