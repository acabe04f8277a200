"""Crush sleeve: rail's width less play; bore by ISO 273, outside by ISO 7089, typed in here."""

import pytest

from partgen.errors import GeometryError
from partgen.fit.sleeve import Through, crush_sleeve
from partgen.reference.bolt import bolt


@pytest.mark.parametrize(
    ("size", "fit", "bore", "washer"),
    [("M14", "close", 15, 28), ("M16", "normal", 17.5, 30), ("M20", "loose", 24, 37)],
)
def test_length_bore_and_outside(size, fit, bore, washer):
    found = crush_sleeve(63.4, bolt(size), fit, play=0.4)
    assert (found.length, found.bore, found.outside) == (pytest.approx(63.0), bore, washer)


def test_play_and_the_tube_in_the_rack():
    found = crush_sleeve(52, bolt("M14"), outside=26)
    assert (found.length, found.outside, found.bore) == (51.75, 26, 15)
    assert Through("plates", "left", "upper", found).height == 0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"outside": 15}, "no wall round a bore of 15 mm for M14; take a wider tube"),
        ({"play": 52}, "play = 52 mm is not less than the rail's width, 52 mm"),
    ],
)
def test_no_wall_and_no_length_are_refused(changes, words):
    with pytest.raises(GeometryError, match=words):
        crush_sleeve(52, bolt("M14"), **changes)
