"""Mass against published plate weights, and cost by a worked sum."""

import pytest
from helpers import plate

from partgen.entries.cutting import cutting
from partgen.entries.prices import Prices
from partgen.plates.plate import Plate
from partgen.reference.material import material
from partgen.reference.tables import load

FOOT, POUND = 304.8, 0.45359237
WEIGHTS = load("steel_plate_weight").rows


@pytest.mark.parametrize("row", WEIGHTS, ids=lambda row: str(row["thickness"]))
def test_a_square_foot_weighs_what_is_printed(row):
    """Handbook weight of steel plate, .2836 lb/in3, lb/ft2."""
    square = plate([(0, 0), (FOOT, 0), (FOOT, FOOT), (0, FOOT)], thickness=row["thickness"] * 25.4)
    assert square.mass / POUND == pytest.approx(row["w_2836"], rel=0.0005)


def test_a_square_metre_of_6_mm_weighs_47_1_kg():
    """7.85 kg/m2 for each mm: trade practice."""
    square = plate([(0, 0), (1000, 0), (1000, 1000), (0, 1000)], thickness=6.0)
    assert square.mass == pytest.approx(47.10)


def sample() -> Plate:
    """200 x 100 x 10 with one M16 hole of 17.5: 1.551 kg, 654.98 mm of cut, two pierces."""
    return plate([(0, 0), (200, 0), (200, 100), (0, 100)], [("a", 50, 50, "M16")], thickness=10.0)


def test_cost_is_mass_cut_pierces_and_handling():
    """Worked by hand: 1.55112 x 2 + 0.654978 x 3 + 2 x 0.25 + 4 = 9.5672."""
    prices = Prices(plate_per_kg=2, cut_per_metre=3, pierce=0.25, piece=4)
    assert sample().material == material("S355")
    assert prices.of(sample()) == pytest.approx(9.5672, abs=5e-5)
    assert prices.left_out == []


def test_no_price_no_cost_and_what_is_left_out_is_named():
    assert Prices().of(sample()) is None
    assert not Prices().given
    assert Prices(pierce=1).of(sample()) == pytest.approx(2)
    assert Prices(pierce=1).left_out == ["plate_per_kg", "cut_per_metre", "piece"]


def test_a_price_of_nothing_is_a_price():
    assert Prices(pierce=0).of(sample()) == 0


def test_the_job_wins_over_the_cutting_profile():
    shop = Prices(currency="crowns", pierce=1, piece=2)
    assert Prices(piece=3).over(shop) == Prices(currency="crowns", pierce=1, piece=3)


def test_no_price_is_shipped():
    assert not cutting("plasma-65a").prices.given
    assert cutting("plasma-65a", {"prices": {"piece": 3}}).prices.piece == 3
