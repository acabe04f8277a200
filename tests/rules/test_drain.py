"""Drain: 10 mm or 1.5 thicknesses in one of a box's parts; common practice, no source."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from helpers import plate, shop

from partgen.entries.surroundings import Box
from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.rules import drain
from partgen.rules.finding import Status

ROUND, SLOT = Outline.circle(60, 50, 10), Outline.slot(60, 50, 40, 12, 30)
SHARP = rectangle(9, 40, 0, (60, 50))
TRIANGLE = belt(corners([(30, 20), (90, 20), (55, 70)]))


def wall(part, thickness, *openings):
    windows = [(f"w{k}", o) for k, o in enumerate(openings)]
    board = [(0, 0), (120, 0), (125, 90), (0, 90)]
    return replace(
        plate(board, [("A", 15, 50, "M16")], windows, thickness), part=part, name="plate"
    )


def found(*plates):
    box = Box(name="tower", parts=("a", "b"))
    build = SimpleNamespace(job=SimpleNamespace(boxes=[box]), plates=plates, shop=shop())
    (finding,) = drain.check(build)
    return finding


@pytest.mark.parametrize(
    ("walls", "where", "measured", "required"),
    [
        ([], "no opening in any part", 0, 10),
        ([("a", 8), ("c", 4, ROUND)], "no opening in any part", 0, 10),  # a bolt's, and not its own
        ([("a", 4, ROUND)], "window w0 of a/plate", 10, 10),
        ([("b", 8, ROUND)], "window w0 of b/plate", 10, 12),
        ([("b", 8, SLOT)], "window w0 of b/plate", 12, 12),
        ([("a", 6, SHARP)], "window w0 of a/plate", 9, 10),
        ([("a", 4, TRIANGLE)], "window w0 of a/plate", 0, 10),
        ([("a", 8), ("b", 4, ROUND.moved(35, 15), SLOT)], "window w1 of b/plate", 12, 10),
        ([("a", 12, SLOT), ("b", 4, ROUND)], "window w0 of b/plate", 10, 10),  # 12 of 18, 10 of 10
    ],
)
def test_the_opening_with_the_most_to_spare_counts(walls, where, measured, required):
    finding = found(*(wall(*w) for w in walls))
    assert (finding.plate, finding.where) == ("tower", where)
    assert (finding.measured, finding.required) == (pytest.approx(measured), required)
    assert finding.status is (Status.PASS if measured >= required else Status.WARN)
    assert finding.note == ("" if measured >= required else "add a drain at the lowest point")
