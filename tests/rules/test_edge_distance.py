"""Edge distance against the published tables, on plates whose distances are known by hand."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from helpers import plate, shop

from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Hole, Plate
from partgen.reference.bolt import bolt
from partgen.reference.material import material
from partgen.rules import edge_distance
from partgen.rules.finding import Status

OBLONG = [(0, 0), (300, 0), (310, 120), (-5, 110)]


def hole_at(y, size):
    return plate(OBLONG, [("A", 140, y, size)])


def only(found):
    (finding,) = found
    return finding


# ANSI/AISC 360-16 Tables J3.4 and J3.4M, typed in again from the document's copies.
INCH = {"1/2": 3 / 4, "5/8": 7 / 8, "3/4": 1, "7/8": 1 + 1 / 8, "1": 1 + 1 / 4}
METRIC = {"M16": 22, "M20": 26, "M24": 30}


@pytest.mark.parametrize(
    ("size", "edge"), [(k, v * 25.4) for k, v in INCH.items()] + [*METRIC.items()]
)
def test_every_printed_size_turns_at_its_limit(size, edge):
    assert only(edge_distance.check(hole_at(edge, size), shop())).status is Status.PASS
    short = only(edge_distance.check(hole_at(edge - 0.001, size), shop()))
    assert short.status is Status.FAIL
    assert short.required == pytest.approx(edge)
    assert short.measured == pytest.approx(edge - 0.001)
    assert short.margin == pytest.approx(-0.001)
    assert short.source.startswith("AISC 360-16 Table J3.4")


@pytest.mark.parametrize(
    ("y", "note"),
    [
        (21, "more metal round the hole"),
        (16, "more metal round the hole"),
        (15.9, "more metal round the hole; under one bolt diameter, 16.0 mm"),
    ],
)
def test_under_one_bolt_diameter_it_is_said(y, note):
    assert only(edge_distance.check(hole_at(y, "M16"), shop())).note == note


def test_metric_and_inch_sizes_name_their_own_table():
    assert only(edge_distance.check(hole_at(50, "M16"), shop())).source.endswith("J3.4M")
    assert only(edge_distance.check(hole_at(50, "3/4"), shop())).source.endswith("J3.4")


@pytest.mark.parametrize("size", ["M14", "M10", "3/8", "1/4"])
def test_sizes_not_printed_are_not_covered(size):
    finding = only(edge_distance.check(hole_at(50, size), shop()))
    assert finding.status is Status.NOT_COVERED
    assert finding.required is None
    assert finding.note


def test_en_1993_1_8_table_3_3_is_1_2_hole_diameters():
    """EN 1993-1-8:2005 Table 3.3: e1, e2 >= 1.2 d0; ISO 273 medium hole for M14 is 15.5 mm."""
    other = shop("en-1993-1-8")
    at = only(edge_distance.check(hole_at(1.2 * 15.5, "M14"), other))
    assert at.status is Status.PASS
    assert at.required == pytest.approx(18.6)
    assert only(edge_distance.check(hole_at(18.59, "M14"), other)).status is Status.FAIL
    assert "EN 1993-1-8" in at.source


@pytest.mark.parametrize("degrees", range(5, 360, 37))
def test_ear_radius_is_its_edge_distance_to_1e_6(degrees):
    """A bolt in the middle of an ear: the nearest edge is the ear's radius, however it is turned."""
    ear = belt([*corners([(0, 0), (210, 4)], 3), Pin(180, 131, 24), *corners([(0, 95)], 7)])
    turned = ear.turned(degrees)
    x = 180 * cos(radians(degrees)) - 131 * sin(radians(degrees))
    y = 180 * sin(radians(degrees)) + 131 * cos(radians(degrees))
    piece = Plate(
        part="test", name="ear", outline=turned, holes=(Hole("A", x, y, 17, bolt("M16")),),
        thickness=6, material=material("S355"),
    )  # fmt: skip
    finding = only(edge_distance.check(piece, shop()))
    assert finding.measured == pytest.approx(24, abs=1e-6)


def test_a_window_is_an_edge_too():
    window = rectangle(40, 30, 8, (200, 55))
    piece = plate(OBLONG, [("A", 158, 55, "M16")], [("w", window)])
    finding = only(edge_distance.check(piece, shop()))
    assert finding.where == "hole A (M16) to window w"
    assert finding.measured == pytest.approx(22)
    assert finding.status is Status.PASS


def test_distance_to_a_reentrant_arc():
    """Notch of radius 10 about (103, 50): 30 mm off its centre is 20 mm of metal, any direction."""
    notch = Pin(103, 50, -10)
    sides = corners([(0, 0), (110, 0), (110, 20)])
    piece = belt([*sides, notch, *corners([(110, 83), (110, 100), (0, 100)])])
    for degrees in range(170, 200, 3):
        x, y = 103 + 30 * cos(radians(degrees)), 50 + 30 * sin(radians(degrees))
        assert piece.distance((x, y)) == pytest.approx(20, abs=1e-9)
    assert isinstance(piece, Outline)


@pytest.mark.parametrize(
    ("size", "more"), [("1/2", 1 / 16), ("3/4", 1 / 16), ("7/8", 1 / 16), ("1", 1 / 8)]
)
def test_an_oversized_hole_needs_the_increment_of_table_j3_5(size, more):
    """AISC 360-16 Table J3.5: 1/16 in. to 7/8, 1/8 at 1 in.; loose holes by ASME B18.2.8."""
    required = (INCH[size] + more) * 25.4
    for y, status in ((required, Status.PASS), (required - 0.01, Status.FAIL)):
        piece = hole_at(y, size)
        wide = replace(piece.holes[0], diameter=bolt(size).hole("loose"))
        finding = only(edge_distance.check(replace(piece, holes=(wide,)), shop()))
        assert (finding.status, finding.required) == (status, pytest.approx(required))
        assert finding.source.endswith("Table J3.5")


def test_an_oversized_metric_hole_is_not_covered():
    """M16: standard hole 18 mm (Table J3.3M), ISO 273 coarse 18.5."""
    piece = hole_at(50, "M16")
    wide = replace(piece.holes[0], diameter=18.5)
    finding = only(edge_distance.check(replace(piece, holes=(wide,)), shop()))
    assert finding.status is Status.NOT_COVERED
    assert "18.5 mm is oversized, the standard one is 18 mm" in finding.note
