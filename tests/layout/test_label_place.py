"""Names on the picture of a sheet: wholly on metal, checked on points of the outlines alone."""

import re

import pytest
import shapely

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.packet.label_place import WIDE, name_inside

EDGE = rectangle(200, 60, 8, (117, 43))


def box_of(svg, name):
    x, y, size = (float(re.search(rf'{k}="(-?[\d.]+)"', svg)[1]) for k in (" x", " y", "font-size"))
    w, h = WIDE * size * len(name), size
    if "rotate" in svg:
        w, h = h, w
    return shapely.box(x - w / 2, -y - h / 2, x + w / 2, -y + h / 2), size


@pytest.mark.parametrize(
    ("openings", "turn", "upright"),
    [
        ((), 0, False),
        ((Outline.circle(117, 43, 40),), 0, False),
        ((rectangle(120, 34, 4, (128, 45)),), 0, True),
        ((Outline.circle(117, 43, 40),), 90, True),
    ],
)
def test_a_name_lies_on_metal(openings, turn, upright, metal_of):
    from partgen.layout import Piece

    outlines = tuple(o.turned(turn) for o in (*openings, EDGE))
    (svg,) = name_inside("web/plate", outlines, 14)
    box, size = box_of(svg, "web/plate")
    assert metal_of(Piece("a", outlines)).contains(box)
    assert ("rotate" in svg) == upright
    assert 4 <= size <= 14


def test_no_name_where_there_is_no_room():
    ring = (Outline.circle(0, 0, 58), Outline.circle(0, 0, 60))
    assert name_inside("washer", ring, 14) == []
    assert name_inside("a-name-that-is-far-too-long-for-it/plate", (EDGE,), 60) == []
