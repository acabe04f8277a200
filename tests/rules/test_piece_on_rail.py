"""One plate on one rail: which edges are welded, its shelves, its ends; numbers by hand."""

from math import cos, radians, sin
from types import SimpleNamespace

import pytest
from helpers import shop

from partgen.entries.rail import Rail
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Segment
from partgen.rules import plate_end, weld_shelf
from partgen.rules.ear import unit
from partgen.rules.finding import Status
from partgen.rules.on_rail import OnRail, on_rails


def rail(stations, **more):
    data = {"width": 50, "depth": 100, "corner_radius": 8, "lower_edge": stations} | more
    return Rail.model_validate(data)


LEVEL = rail([(-500, 0), (500, 0)])
SLOPE = rail([(-400, 300), (400, -300)])  # along (0.8, -0.6), up (0.6, 0.8)


def on(points, under=LEVEL):
    """Edges through points, each x, y and perhaps the bulge of the edge after it."""
    piece = SimpleNamespace(key="mount/inner", outline=Outline(tuple(Vertex(*p) for p in points)))
    return OnRail(piece, under, 4.0, True)


def slanted(along, up):
    return 0.8 * along + 0.6 * up, -0.6 * along + 0.8 * up


def test_height_and_its_way_are_square_to_a_slanted_rail():
    piece = on([], SLOPE)
    assert piece.height(slanted(70, 20)) == pytest.approx(20)
    assert piece.height(slanted(-30, -45)) == pytest.approx(-45)
    for up in (20, -45):
        assert piece.way(slanted(10, up)) == pytest.approx((0.6, 0.8))


def test_the_way_over_a_bend_is_its_radius():
    """Lines down from (0, 0) to both sides: above it every way is away from that point."""
    piece = on([], rail([(-300, -400), (0, 0), (300, -400)]))
    for x, y in ((3, 40), (-9, 40)):
        assert piece.way((x, y)) == pytest.approx(unit((x, y)), abs=1e-6)


def test_a_unit_vector_is_as_long_as_one():
    assert unit((3, -4)) == (0.6, -0.8)


@pytest.mark.parametrize(
    ("start", "end", "bulge", "welded"),
    [
        ((0, 0.5), (60, 99.5), 0, True),
        ((0, -0.5), (60, 50), 0, False),
        ((0, 50), (60, -0.5), 0, False),
        ((0, 100.5), (60, 50), 0, False),
        ((0, 50), (60, 100.5), 0, False),
        ((0, 0), (60, 50), 0, False),  # with the rail's edge
        ((0, 50), (60, 100), 0, False),
        ((0, 14), (60, 14), 0.45, True),  # sags by 13.5 in its middle
        ((0, 14), (60, 14), 0.5, False),  # by 15
        ((60, 86), (0, 86), 0.5, False),
    ],
)
def test_an_edge_is_welded_if_both_ends_and_its_middle_are_on_the_rails_side(
    start, end, bulge, welded
):
    piece = on([(*start, bulge), end, (-700, 400)])
    assert (Segment(*start, *end, bulge) in piece.welded) is welded


@pytest.mark.parametrize(
    ("edges", "shelves"),
    [
        ([(0, 13, 90, 13), (90, 86, 0, 86)], (13, 14)),
        ([(0, 20, 40, 20), (40, 13, 90, 13), (90, 91, 50, 91), (50, 86, 0, 86)], (13, 9)),
        ([(0, 20, 40, 20), (40, 23, 90, 23), (90, 81, 50, 81), (50, 86, 0, 86)], (20, 14)),
        ([(0, 40, 90, 40)], (40, None)),
        ([(90, 60, 0, 60)], (None, 40)),
        ([(0, 13, 4, 13)], (13, None)),  # 4 mm long
        ([(0, 13, 3.99, 13)], (None, None)),
        ([(0, 13, 40, 13.01)], (13.005, None)),
        ([(0, 13, 40, 13.06)], (None, None)),  # 0.0135 from each of five places to the next
        ([(0, 10, 20, 60)], (None, None)),
    ],
)
def test_the_least_shelf_below_and_above(edges, shelves):
    """The plate's other edges reach far out of the rail."""
    points = [p for x0, y0, x1, y1 in edges for p in ((x0, y0), (x1, y1), (x1, 700))]
    low, high = on(points).shelves
    assert (low, high) == (pytest.approx(shelves[0]), pytest.approx(shelves[1]))


@pytest.mark.parametrize("hand", [1, -1])
@pytest.mark.parametrize("back", [False, True])
@pytest.mark.parametrize(("start", "shelf"), [(-60, 13), (-40, None)])
@pytest.mark.parametrize("fall", [0.5, -0.05])
def test_an_edge_across_a_kick_counts_if_three_of_five_places_agree(hand, back, start, shelf, fall):
    """100 long: of its places 5, 27.5, 50, 72.5 and 95 mm along, three or two lie between the kicks."""
    bends = [(-361, -300 * fall), (-61, 0), (0, 0), (300, -300 * fall)]
    stations = sorted((x * hand, y) for x, y in bends)
    ends = [(start * hand, 13), ((start + 100) * hand, 13)]
    low, _ = on([*(ends[::-1] if back else ends), (900, 700)], rail(stations)).shelves
    assert low == pytest.approx(shelf)


def test_a_shelf_has_to_hold_the_corner_radius_and_the_leg():
    """8 and 4: the lower shelf of 12 does, the upper one of 11.9 does not."""
    piece = on([(0, 12), (90, 12), (90, 88.1), (0, 88.1)])
    low, high = weld_shelf.of_piece(piece, shop())
    assert (low.status, low.measured, low.note) == (Status.PASS, 12, "")
    assert (high.status, high.required) == (Status.FAIL, 12)
    assert high.measured == pytest.approx(11.9)
    assert high.note == "move the plate's edge onto the flat"
    assert weld_shelf.of_piece(on([(0, 10), (20, 60), (-9, 400)]), shop()) == []


@pytest.mark.parametrize(
    ("radius", "is_open", "required"), [(8, True, 19), (15.5, True, 19.5), (8, False, 12)]
)
def test_an_open_rail_keeps_the_weld_19_mm_off_its_flanges_edge(radius, is_open, required):
    """Or the corner radius and the leg of 4, where that is more: common practice, no source."""
    under = rail([(-500, 0), (500, 0)], corner_radius=radius, open=is_open)
    (shelf,) = weld_shelf.of_piece(on([(0, 19.2), (90, 19.2), (90, 700)], under), shop())
    assert shelf.required == required
    assert shelf.source == "common practice, no source"


@pytest.mark.parametrize(
    ("off", "length", "status"),
    [
        (0, 10, Status.WARN),
        (0, 9.99, None),  # no end
        (19.9, 40, Status.WARN),
        (-19.9, 40, Status.WARN),
        (20, 40, Status.PASS),
        (74.5, 40, Status.PASS),
        (75.5, 40, None),  # along the rail
        (-75.5, 40, None),
    ],
)
@pytest.mark.parametrize("under", [LEVEL, SLOPE])
def test_an_end_is_judged_by_how_far_it_is_off_square(off, length, status, under):
    """20 degrees off square is enough: common practice, no source."""
    place = slanted if under is SLOPE else lambda along, up: (along, up)
    along, up = length * sin(radians(off)), length * cos(radians(off))
    ends = [place(30, 40), place(30 + along, 40 + up)]
    found = plate_end.of_piece(on([*ends, (-900, 900)], under), shop())
    assert [f.status for f in found] == ([status] if status else [])
    for end in found:
        assert end.measured == pytest.approx(abs(off), abs=1e-6)
        assert end.note == ("slant or point the end" if status is Status.WARN else "")
        x, y = place(30 + along / 2, 40 + up / 2)
        assert end.where == f"end at ({x:.1f}, {y:.1f}) mm, off square"


def test_an_end_is_held_against_the_rail_at_its_middle():
    """60 degrees off square to a rail that falls beyond a kick; its upper end is over the kick."""
    middle, half = slanted(30, 50), slanted(-40 * sin(radians(60)), 40 * cos(radians(60)))
    ends = [(middle[0] + k * half[0], middle[1] + k * half[1]) for k in (-1, 1)]
    piece = on([*ends, (-900, 900)], rail([(-300, 0), (0, 0), (400, -300)]))
    (end,) = plate_end.of_piece(piece, shop())
    assert end.measured == pytest.approx(60)


def test_a_round_end_is_no_square_end():
    assert plate_end.of_piece(on([(0, 30, 1), (0, 60), (-900, 45)]), shop()) == []


@pytest.mark.parametrize("padded", ["inner", "outer"])
def test_the_rails_wall_is_known_where_no_pad_lies_between(padded):
    """A part without a leg lies on no rail; both hands of a plate are one."""
    plates = [
        SimpleNamespace(part="m", name=n, key=f"m/{n}", hand="left") for n in ("inner", "outer")
    ]
    parts = [
        SimpleNamespace(name="loose", leg=lambda shop: None),
        SimpleNamespace(name="m", rail="left", weld_leg=None, leg=lambda shop: 5.0),
    ]
    spacers = [(6.0,) if padded == "inner" else (), (6.0,) if padded == "outer" else ()]
    mount = SimpleNamespace(fit=SimpleNamespace(spacers=spacers))
    places = SimpleNamespace(
        rail=lambda name: rail(None, wall=4.5), rails={}, mount=lambda name: mount
    )
    build = SimpleNamespace(
        job=SimpleNamespace(parts=parts), by_part={"loose": [], "m": plates * 2}, shop=places
    )
    found = {p.plate.name: (p.wall, p.leg, p.named) for p in on_rails(build)}
    other = "outer" if padded == "inner" else "inner"
    assert found == {padded: (None, 5.0, False), other: (4.5, 5.0, False)}
