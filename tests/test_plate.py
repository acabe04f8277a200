"""Plates: symmetry and hands by construction, mass and cut length by hand sums."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.geometry.symmetry import congruent
from partgen.plates.plate import Hole, Mark, Plate, Window, hands_of
from partgen.reference.bolt import bolt
from partgen.reference.material import material

M16 = bolt("M16")
S355 = material("S355")
TALL = belt([Pin(0, 0, 0, 6), Pin(100, 0, 0, 6), Pin(50, 60, 24)])  # like its mirror image
WEDGE = belt([Pin(0, 0), Pin(100, 0, 0, 6), Pin(30, 60, 24)])
SHEAR = belt(corners([(0, 0), (80, 0), (110, 40), (30, 40)], 5))  # itself after half a turn


def plate(outline, *holes, windows=(), **more):
    made = tuple(Hole(f"h{k}", x, y, d, M16) for k, (x, y, d) in enumerate(holes))
    cut = tuple(Window(f"w{k}", o) for k, o in enumerate(windows))
    known = {"part": "front", "name": "outer", "thickness": 6.0, "material": S355}
    return Plate(outline=outline, holes=made, windows=cut, **known | more)


def marked(outline, *lines):
    return plate(outline, marks=tuple(Mark("bend", line) for line in lines))


SAME_BOTH_WAYS = {
    "bare": plate(TALL),
    "hole on the axis": plate(TALL, (50, 60, 17)),
    "pair of holes": plate(TALL, (50, 60, 17), (20, 12, 9), (80, 12, 9)),
    "turned away": plate(TALL.turned(31, (9, 4))),
    "slot along the axis": plate(TALL, windows=[Outline.slot(50, 30, 40, 12, 90)]),
    "rectangle, hole anywhere on an axis": plate(rectangle(90, 50), (21, 0, 17)),
    "rectangle, two holes across": plate(rectangle(90, 50), (30, 14, 17), (30, -14, 17)),
    "disc": plate(Outline.circle(4, 9, 60), (4, 9, 17)),
    "disc, hole off its centre": plate(Outline.circle(4, 9, 60), (11, 20, 17)),
    "disc, two unequal holes in line": plate(Outline.circle(0, 0, 90), (12, 16, 17), (-18, -24, 9)),
    "disc, slot along a radius": plate(
        Outline.circle(0, 0, 90), windows=[Outline.slot(12, 16, 30, 12, 53.13010235415598)]
    ),
    "bend square to the axis": marked(TALL, ((10, 5), (90, 5))),
    "bends either side of the axis": marked(TALL, ((40, 5), (45, 50)), ((55, 50), (60, 5))),
    "disc, bend off its middle": marked(Outline.circle(4, 9, 60), ((-6, 30), (14, 30))),
    "disc, slot in its middle": plate(
        Outline.circle(7, 2, 90), (30, 2, 9), windows=[Outline.slot(7, 2, 30, 12, 90)]
    ),
}
HANDED = {
    "wedge": plate(WEDGE, (30, 60, 17)),
    "hole off the axis": plate(TALL, (50, 60, 17), (20, 12, 9)),
    "holes of two sizes": plate(TALL, (20, 12, 9), (80, 12, 9.5)),
    "same only after half a turn": plate(SHEAR),
    "rectangle, one hole in a corner": plate(rectangle(90, 50), (30, 14, 17)),
    "rectangle, holes across a diagonal": plate(rectangle(90, 50), (30, 14, 17), (-30, -14, 17)),
    "slot askew": plate(TALL, windows=[Outline.slot(50, 30, 40, 12, 60)]),
    "disc, three unequal holes": plate(
        Outline.circle(0, 0, 120), (40, 0, 17), (0, 35, 12), (-20, -30, 9)
    ),
    "bend askew": marked(TALL, ((10, 5), (90, 15))),
    "bends of two kinds": plate(
        TALL,
        marks=(Mark("bend", ((40, 5), (45, 50))), Mark("scribe", ((60, 5), (55, 50)))),
    ),
    "disc, two bends of two lengths": marked(
        Outline.circle(0, 0, 90), ((0, 30), (20, 30)), ((-30, -2), (-30, 5))
    ),
    "disc, bend beside its middle": marked(Outline.circle(4, 9, 60), ((0, 30), (20, 30))),
    "disc, slot askew": plate(Outline.circle(0, 0, 90), windows=[Outline.slot(9, 20, 30, 12, 25)]),
}


@pytest.mark.parametrize("case", SAME_BOTH_WAYS)
def test_plates_that_are_the_same_both_ways(case):
    assert SAME_BOTH_WAYS[case].is_symmetric


@pytest.mark.parametrize("case", HANDED)
def test_plates_that_have_a_hand(case):
    assert not HANDED[case].is_symmetric


@pytest.mark.parametrize("case", [*SAME_BOTH_WAYS, *HANDED])
def test_a_plate_turned_and_moved_is_the_same_and_twice_mirrored_too(case):
    piece = (SAME_BOTH_WAYS | HANDED)[case]
    there = tuple(o.turned(123, (8, -3)).moved(-40, 11) for o in piece.outlines)
    assert congruent(piece.outlines, there)
    assert piece.mirrored().mirrored() == piece


def test_openings_that_just_touch_are_refused():
    """A hole as wide as its disc, a hole tangent to the edge, two holes tangent to each other."""
    with pytest.raises(GeometryError, match="not inside the plate"):
        plate(Outline.circle(0, 0, 17), (0, 0, 17))
    with pytest.raises(GeometryError, match="not inside the plate"):
        plate(rectangle(90, 50), (0, 16.5, 17))
    with pytest.raises(GeometryError, match="meet; move one"):
        plate(rectangle(90, 50), (-8.5, 0, 17), (8.5, 0, 17))
    assert plate(rectangle(90, 50), (-8.6, 0, 17), (8.5, 0, 17)).area > 0


def test_plates_that_differ_are_not_congruent():
    a = plate(TALL, (50, 60, 17)).outlines
    assert not congruent(a, plate(TALL, (50, 60, 16.9)).outlines)
    assert not congruent(a, plate(TALL, (50, 59.9, 17)).outlines)
    assert not congruent(a, plate(TALL).outlines)
    assert not congruent(a, plate(TALL, (50, 60, 17), (50, 10, 9)).outlines)
    assert not congruent(a, plate(WEDGE, (30, 60, 17)).outlines)


def test_hands_of_a_handed_plate():
    piece = plate(WEDGE, (30, 60, 17), (60, 12, 9), count=3)
    left, right = hands_of(piece, "both")
    assert [(p.hand, p.count) for p in (left, right)] == [("left", 3), ("right", 3)]
    assert left.outline == piece.outline
    assert [(h.x, h.y) for h in right.holes] == [(-30, 60), (-60, 12)]
    assert right.outline.box == pytest.approx((-WEDGE.box[2], 0, -WEDGE.box[0], 84))
    assert (left.label, right.label) == ("front/outer/left", "front/outer/right")
    assert [p.hand for p in hands_of(piece, "left")] == ["left"]
    assert hands_of(piece, "right") == [right]
    assert [(p.hand, p.count) for p in hands_of(piece, "same")] == [("same", 3)]
    assert right.mirrored() == left


@pytest.mark.parametrize(("hands", "pieces"), [("both", 6), ("left", 3), ("right", 3), ("same", 3)])
def test_hands_of_a_plate_that_is_the_same_both_ways(hands, pieces):
    (only,) = hands_of(plate(TALL, (50, 60, 17), count=3), hands)
    assert (only.hand, only.count, only.label) == ("same", pieces, "front/outer")


def test_mass_area_and_cut_length_by_hand():
    """120 x 80 x 10 mm of steel at 7850 kg/m3, corners of 12, a 17 hole and a slot 40 x 11."""
    piece = plate(
        rectangle(120, 80, 12, at=(7, 3)),
        (30, 20, 17),
        windows=[Outline.slot(-10, -8, 40, 11, 33)],
        thickness=10.0,
    )
    area = 120 * 80 - (4 - pi) * 12**2 - pi * 8.5**2 - (pi * 5.5**2 + 29 * 11)
    assert S355.density == 7850
    assert piece.area == pytest.approx(area)
    assert piece.mass == pytest.approx(area * 10 * 7850e-9)
    assert piece.mass == pytest.approx(0.69358, abs=5e-6)
    edge = 2 * (120 + 80) - 8 * 12 + 2 * pi * 12
    assert piece.cut_length == pytest.approx(edge + pi * 17 + 2 * pi * 5.5 + 2 * 29)


def test_outlines_are_openings_first_and_the_edge_last():
    slot = Outline.slot(40, 20, 30, 9)
    piece = plate(TALL, (50, 60, 17), windows=[slot])
    assert [name for name, _ in piece.named_openings] == ["hole h0", "window w0"]
    assert piece.outlines == (Outline.circle(50, 60, 17), slot, TALL)


def test_polygons_of_the_metal_lie_inside_and_outside():
    piece = plate(WEDGE, (30, 60, 17), windows=[Outline.slot(40, 14, 30, 9)])
    inside, outside = piece.polygon("inside", 0.05), piece.polygon("outside", 0.05)
    assert outside.buffer(1e-9).contains(inside)
    assert len(inside.interiors) == len(outside.interiors) == 2
    assert inside.area < piece.area < outside.area
    assert outside.area - inside.area < 2 * 0.05 * piece.cut_length
    assert shapely.Point(30, 60).distance(inside) >= 8.5 - 1e-9


def test_moved():
    piece = plate(WEDGE, (30, 60, 17), windows=[Outline.slot(40, 14, 30, 9)])
    there = piece.moved(-7, 13)
    assert (there.holes[0].x, there.holes[0].y) == (23, 73)
    assert there.windows[0].outline.centroid == pytest.approx((33, 27))
    assert there.outline.box == pytest.approx(
        [v + d for v, d in zip(WEDGE.box, (-7, 13, -7, 13), strict=True)]
    )


@pytest.mark.parametrize(
    ("holes", "windows", "says"),
    [
        ([(50, 60, 50)], [], "front/outer: hole h0 is not inside the plate"),
        ([(200, 60, 17)], [], "hole h0 is not inside the plate"),
        ([(50, 4, 9)], [], "hole h0 is not inside the plate"),
        ([], [Outline.slot(50, 5, 60, 12, 3)], "window w0 is not inside the plate"),
        ([], [rectangle(300, 300, at=(50, 30))], "window w0 is not inside the plate"),
        ([(50, 40, 17), (57, 49, 9)], [], "hole h0 and hole h1 meet"),
        ([(50, 40, 17), (50, 40, 9)], [], "hole h0 and hole h1 meet"),
        ([(50, 40, 17)], [Outline.slot(50, 30, 30, 9)], "hole h0 and window w0 meet"),
        ([], [rectangle(20, 20, at=(40, 30)), rectangle(6, 6, at=(42, 33))], "window w0 and w"),
    ],
)  # fmt: skip
def test_openings_that_leave_the_plate_or_meet_are_refused(holes, windows, says):
    with pytest.raises(GeometryError, match=says) as caught:
        plate(TALL, *holes, windows=windows)
    assert "\n" not in str(caught.value)


def test_openings_may_be_near_each_other_and_the_edge():
    assert plate(TALL, (50, 60, 47.9), (50, 20, 17), (67.1, 20, 17)).area > 0


def test_a_bend_turned_stays_the_same_bend():
    mark = Mark("bend", ((30.0, 5.0), (40.0, 5.0)), radius=12, angle=-35).turned(90)
    assert mark.path == (pytest.approx((-5, 30)), pytest.approx((-5, 40)))
    assert (mark.kind, mark.radius, mark.angle) == ("bend", 12, -35)
