"""The picture of where: the place of a finding, from its words."""

import pytest
from helpers import plate, shop

from partgen.geometry.outline import Outline
from partgen.packet.where import finding_picture, places
from partgen.rules import PLATE_RULES
from partgen.rules.finding import Finding, Status

PIECE = plate(
    [(0, 0), (200, 0), (200, 90), (0, 90)],
    holes=[("1", 50, 30, "M8"), ("12", 150, 50, "M8")],
    windows=[("1", Outline.circle(100, 50, 20))],
)


def finding(where):
    return Finding(rule="r", plate="test/plate", where=where, status=Status.FAIL, source="s")


@pytest.mark.parametrize(
    ("where", "points"),
    [
        ("hole 1 (M8) to outside edge", [(50, 25.5), (50, 0)]),
        ("hole 12 to window 1", [(145.5, 50), (110, 50)]),
        ("tool at hole 12 to bolt 1", [(145.7, 49.2), (54.3, 30.8)]),
        ("window 1", [(100, 50)]),
        ("(3.5, 10.0) to (3.5, 80.0) mm", [(3.5, 10), (3.5, 80)]),
        ("somewhere", []),
    ],
)
def test_places(where, points):
    found = places(finding(where), PIECE)
    assert len(found) == len(points)
    for near, point in zip(sorted(found), sorted(points), strict=True):
        assert near == pytest.approx(point, abs=0.2)


def test_every_finding_of_the_rules_has_a_place():
    """A rule whose words name no opening would show the whole plate only."""
    for name in ("edge-distance", "web", "neck", "hole-clearance"):
        for f in PLATE_RULES[name](PIECE, shop()):
            assert places(f, PIECE), f.where


def test_picture_rings_the_place():
    assert "<circle" in finding_picture(finding("hole 1 to outside edge"), PIECE)
    assert "<circle" not in finding_picture(finding("somewhere"), PIECE)
