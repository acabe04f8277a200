"""Hole clearance: circles of the published hardware sizes about a hole, distances by hand.

ISO 7089 M16 washer 30 mm; ISO 4014 M16 across flats 24 mm; tool circle 1.5 W + .04 in (covers CID
A-A-1346A). ASME B18.21.1 3/4 N washer 1.469 in.
"""

import random
from dataclasses import replace

import pytest
from helpers import plate, shop

from partgen.geometry.belt import rectangle
from partgen.rules import hole_clearance, hole_spacing
from partgen.rules.finding import Status

PLATE = [(0, 0), (240, 0), (250, 130), (0, 120)]
TOOL = 1.5 * 24 + 0.04 * 25.4


def found(piece, start):
    return [f for f in hole_clearance.check(piece, shop()) if f.where.startswith(start)]


@pytest.mark.parametrize(("y", "status"), [(15.0, Status.PASS), (14.99, Status.FAIL)])
def test_washer_seat_to_the_edge(y, status):
    (finding,) = found(plate(PLATE, [("A", 90, y, "M16")]), "seat")
    assert (finding.status, finding.required) == (status, 15)
    assert finding.source == "ISO 7089"


def test_inch_washer_seat():
    (finding,) = found(plate(PLATE, [("A", 90, 40, "3/4")]), "seat")
    assert finding.required == pytest.approx(1.469 * 25.4 / 2)
    assert finding.source == "ASME B18.21.1"


def test_head_across_corners():
    (finding,) = found(plate(PLATE, [("A", 90, 13.8, "M16")]), "head")
    assert finding.required == pytest.approx(24 / 3**0.5)
    assert finding.status is Status.FAIL


def test_the_wider_of_head_and_nut_counts():
    """7/16: ASME B18.2.1 head 0.722 in. across corners, ASME B18.2.2 nut 0.794."""
    (finding,) = found(plate(PLATE, [("A", 90, 40, "7/16")]), "head")
    assert finding.required == pytest.approx(0.794 * 25.4 / 2)


@pytest.mark.parametrize(("slack", "listed"), [(-0.1, True), (0.1, False)])
def test_a_bolt_over_two_tool_circles_away_is_not_listed(slack, listed):
    """From the hole's centre to the other's 30 mm washer."""
    piece = plate(PLATE, [("A", 70, 50, "M16"), ("B", 70 + 2 * TOOL + 15 + slack, 50, "M16")])
    assert any(f.where.endswith("bolt B") for f in found(piece, "tool at hole A")) is listed


def test_tool_overhanging_an_edge_warns_only():
    (low,) = found(plate(PLATE, [("A", 90, TOOL / 2 - 0.01, "M16")]), "tool")
    assert low.status is Status.WARN
    (high,) = found(plate(PLATE, [("A", 90, TOOL / 2, "M16")]), "tool")
    assert high.status is Status.PASS
    assert high.source == "CID A-A-1346A: 1.5 x the spanner's opening + 0.04 in"


@pytest.mark.parametrize(("slack", "status"), [(0.0, Status.PASS), (-0.01, Status.FAIL)])
def test_tool_to_the_neighbouring_washer(slack, status):
    """Two M16 bolts: the tool's circle and the other's 30 mm washer just touch, 5 to 12 apart."""
    away = TOOL / 2 + 15 + slack
    piece = plate(
        PLATE, [("A", 70, 50, "M16"), ("B", 70 + away * 5 / 13, 50 + away * 12 / 13, "M16")]
    )
    to_b = [f for f in found(piece, "tool at hole A") if f.where.endswith("bolt B")]
    assert [f.status for f in to_b] == [status]


def test_washer_may_not_hang_over_a_window():
    window = rectangle(40, 30, 8, (130, 60))
    (finding,) = found(plate(PLATE, [("A", 96, 58, "M16")], [("w", window)]), "seat")
    assert finding.where == "seat of hole A to window w"
    assert finding.measured == pytest.approx(14)
    assert finding.status is Status.FAIL


def test_washer_may_not_hang_over_another_hole():
    piece = plate(PLATE, [("C", 40, 50, "M16"), ("A", 90, 50, "M16"), ("B", 112, 50, "M16")])
    (finding,) = found(piece, "seat of hole A")
    assert finding.where == "seat of hole A to hole B"
    assert finding.measured == pytest.approx(22 - 17.5 / 2)


def test_holes_to_choose_from_are_not_in_each_others_way():
    """One bolt sits in either: its tool needs no room beside itself in the other."""
    piece = plate(PLATE, [("A", 90, 50, "M16"), ("B", 130, 50, "M16")])
    a, b = piece.holes
    one = replace(piece, holes=(a, replace(b, instead_of="A")))
    assert len(found(piece, "tool at hole A to bolt B")) == 1
    assert not found(one, "tool at hole A to bolt B")
    assert len(found(one, "tool at hole")) == 2  # to the plate's edge


def test_holes_that_are_passed_over_matter_to_neither_rule(monkeypatch):
    """Wide and narrow bolts at random: the same findings as with every other hole looked at."""

    def everything(points, reach, radius):
        for k in range(len(points)):
            others = [j for j in range(len(points)) if j != k]
            yield others, others

    chance, listed = random.Random(3), 0
    for count in (1, 2, 3, 6, 14, 14, 25):
        grid = chance.sample(
            [(60 * k + 60, 60 * j + 60) for k in range(9) for j in range(5)], count
        )
        spots = [(x + chance.uniform(-15, 15), y + chance.uniform(-15, 15)) for x, y in grid]
        bolts = [chance.choice(("M6", "M12", "M24", "1", "1/4")) for _ in range(count)]
        holes = [(f"h{k}", x, y, b) for k, ((x, y), b) in enumerate(zip(spots, bolts, strict=True))]
        piece = plate([(0, 0), (600, 0), (600, 400), (0, 400)], holes)
        for rule in (hole_clearance, hole_spacing):
            found = rule.check(piece, shop())
            with monkeypatch.context() as patch:
                patch.setattr(rule, "neighbours", everything)
                assert found == rule.check(piece, shop())
            listed += len(found)
    assert listed > 300
