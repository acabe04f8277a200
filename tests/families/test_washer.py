"""Washer: sizes from the bolt's tables and the least web."""

from math import pi

import pytest
from helpers import part, shop
from pydantic import ValidationError


def washer(**changes):
    (plate,) = part("washer", **({"plate": "3 mm S355"} | changes)).plates(shop())
    return plate


def test_given_sizes():
    plate = washer(hole=20, diameter=44)
    assert plate.area == pytest.approx(pi * (22**2 - 10**2))
    assert plate.holes == ()


def test_default_is_the_bolts_washer_where_the_web_allows():
    """M16: washer 30; hole 17.5 + 2 x 6 least web of 3 mm plate is 29.5: 30 it is."""
    assert washer(bolt="M16").outline.circle_of[2] == 30
    assert washer(bolt="M16", plate="6 mm S355").outline.circle_of[2] == 36  # 17.5 + 2 x 9, up


@pytest.mark.parametrize("changes", [{}, {"bolt": "M16", "hole": 17}])
def test_bolt_or_hole(changes):
    with pytest.raises(ValidationError, match="either 'bolt' or 'hole'"):
        washer(**changes)
