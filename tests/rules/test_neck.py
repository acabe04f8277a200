"""Neck: the narrowest place of a plate, on shapes whose width is known by hand."""

import random
from itertools import combinations
from math import atan2, cos, hypot, inf, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
import shapely
from helpers import plate, shop

from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners
from partgen.geometry.nearness import box_gaps
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import closest
from partgen.rules import neck
from partgen.rules.finding import Status


def dumb_bell(width):
    """Two blocks joined by a strip, off the middle."""
    low, high = 23.0, 23.0 + width
    return [(0, 0), (60, 0), (60, low), (110, low), (110, -7), (190, 0), (185, 70), (110, 80),
            (110, high), (60, high), (60, 66), (0, 60)]  # fmt: skip


@pytest.mark.parametrize(("width", "status"), [(9.0, Status.PASS), (8.99, Status.FAIL)])
def test_strip_between_two_blocks(width, status):
    (finding,) = neck.check(plate(dumb_bell(width)), shop())
    assert finding.measured == pytest.approx(width)
    assert finding.status is status


def test_between_two_notches_of_different_radius():
    """Arcs of radius 20 and 12, centres 47 mm apart: 15 mm of metal."""
    outline = belt(
        [*corners([(0, 0), (40, 0)]), Pin(70, 0, -20), *corners([(100, 0), (150, 0), (150, 47), (95, 47)]),
         Pin(70, 47, -12), *corners([(45, 47), (0, 47)])]
    )  # fmt: skip
    width, p, q = neck.neck(outline)
    assert width == pytest.approx(47 - 20 - 12, abs=1e-9)
    assert sorted([p[1], q[1]]) == pytest.approx([20, 35])


def test_notch_corner_to_the_far_edge():
    """A sharp notch points at the far edge: the neck runs from its tip, square to that edge."""
    outline = belt(corners([(0, 0), (80, 0), (95, 31), (105, 0), (200, 0), (200, 40), (0, 40)]))
    assert neck.neck(outline)[0] == pytest.approx(9)


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_hollow_beside_the_notchs_tip_leads_away_first(mirrored):
    """The arc leaves the tip downwards and comes up again to 25, where 15 are left."""
    corner = [(80, 0), (95, 31), (125, 25), (126, 0), (200, 0), (200, 40), (0, 40), (0, 0)]
    outline = Outline.of(Vertex(*p, 0.5 if p == (95, 31) else 0.0) for p in corner)
    assert neck.neck(outline.mirrored() if mirrored else outline)[0] == pytest.approx(9)


@pytest.mark.parametrize("kink", [[], [(100, 40)], [(140, 20), (60, 60)]])
def test_tapering_plate_has_no_neck_whether_its_edge_is_one_or_kinked(kink):
    points = [(0, 0), (200, 0), (198, 5), *kink, (0, 90)]
    assert neck.neck(belt(corners(points))) is None
    assert neck.check(plate(points), shop()) == []


def test_circle_has_no_neck():
    assert neck.neck(Outline.circle(3, 4, 50)) is None


@pytest.mark.parametrize("gap", [4, 0.5])
def test_a_gap_outside_the_metal_is_no_neck(gap):
    """A fork: between its prongs is air; the prongs are 20 and 26 mm wide or more."""
    high = 20 + gap
    fork = belt(
        corners(
            [(0, 0), (100, 0), (100, 20), (30, 20), (30, high), (100, high), (100, 50), (0, 50)]
        )
    )
    assert neck.neck(fork)[0] == pytest.approx(20)


@pytest.mark.parametrize("turn", [0, 23])
@pytest.mark.parametrize(
    ("points", "width", "ends"),
    [
        ([(0, 0), (90, 0), (90, 35), (0, 35)], 35, [(45, 0), (45, 35)]),
        ([(0, 0), (90, 0), (130, 35), (40, 35)], 35, [(65, 0), (65, 35)]),
        ([(0, 0), (90, 0), (91, 8), (0, 8.01)], None, []),
    ],
)
def test_an_oblong_with_sharp_corners_is_as_wide_as_its_short_side(points, width, ends, turn):
    """Its middle is shown; one that tapers however little has no neck."""
    found = neck.neck(belt(corners(points)).turned(turn))
    assert (found is None) is (width is None)
    if found:
        assert found[0] == pytest.approx(width)
        places = Outline(tuple(Vertex(*p) for p in ends)).turned(turn).vertices
        assert sorted(found[1:]) == [
            pytest.approx((v.x, v.y)) for v in sorted(places, key=lambda v: v.x)
        ]


def test_a_rounded_oblong_is_as_wide_as_its_short_side():
    assert neck.neck(belt(corners([(0, 0), (90, 0), (90, 35), (0, 35)], 5)))[0] == pytest.approx(35)


def test_a_bent_strip_with_sharp_ends_is_as_wide_as_its_radii_differ():
    """From radius 30 to 42 about (0, 0), from 0 to 90 degrees."""
    quarter = tan(pi / 8)
    strip = Outline.of(
        [Vertex(30, 0), Vertex(42, 0, quarter), Vertex(0, 42), Vertex(0, 30, -quarter)]
    )
    width, p, q = neck.neck(strip)
    assert width == pytest.approx(12)
    assert sorted([p, q]) == [pytest.approx((r / sqrt(2), r / sqrt(2))) for r in (30, 42)]


def test_a_hollow_between_two_tips_is_no_edge_side_by_side():
    """Both tips are 10 from the far edge, the arc between them up to 20."""
    hollow = [
        Vertex(60, 30, 0.5),
        *(Vertex(*p) for p in [(100, 30), (105, 0), (160, 0), (160, 40)]),
    ]
    width, p, q = neck.neck(Outline.of([*hollow, Vertex(0, 40), Vertex(0, 0), Vertex(55, 0)]))
    assert width == pytest.approx(10)
    assert sorted([p, q]) == [pytest.approx((60, 30)), pytest.approx((60, 40))]


def leads_away(outline, p, q):
    """Look at every edge for those that begin or end at a place."""
    edges = [s for s in outline.segments if hypot(s.x0 - p[0], s.y0 - p[1]) < 1e-6]
    edges += [s.reversed() for s in outline.segments if hypot(s.x1 - p[0], s.y1 - p[1]) < 1e-6]
    return neck._leads_away(edges, p, q)


def brute_force(outline):
    """Every pair of segments, one by one, as the rule's words say."""
    inside = outline.polygon("outside").buffer(0.02)
    found = []
    for a, b in combinations(outline.segments, 2):
        width, p, q = closest(a, b)
        away = width > 1e-6 and leads_away(outline, p, q) and leads_away(outline, q, p)
        if away and inside.covers(shapely.LineString([p, q])):
            found.append(width)
    return min(found, default=None)


SLANTED = [(0, 0), (40, 0), (40, 40), (130, 130), (150, 130), (150, 143), (190, 143), (190, 200),
           (150, 200), (150, 158), (115, 158), (5, 48), (0, 48)]  # fmt: skip


@pytest.mark.parametrize("blend", [0, 2])
@pytest.mark.parametrize("turn", [0, 17, 45, 101])
def test_the_nearest_boxes_are_not_always_the_narrowest_place(blend, turn):
    """A slanted band's boxes overlap, though a place of 15 is narrower: two corners, above each
    other; rounded, their centres are as far to either side, one below and one above."""
    outline = belt(corners(SLANTED, blend)).turned(turn)
    by_hand = hypot(2 * blend, 15 + 2 * blend) - 2 * blend
    assert neck.neck(outline)[0] == pytest.approx(by_hand, abs=1e-9)
    assert brute_force(outline) == pytest.approx(by_hand, abs=1e-9)


def test_far_edges_are_not_measured_once_a_neck_is_found(monkeypatch):
    """A comb of 40 teeth, 81 edges above: of 3500 pairs few lie within its back of 7 mm."""
    teeth = [
        (400 - 10 * k - x, y) for k in range(20) for x, y in ((0, 40), (5, 40), (5, 7), (10, 7))
    ]
    asked = []
    monkeypatch.setattr(neck, "closest", lambda a, b: asked.append(1) or closest(a, b))
    comb = belt(corners([(0, 0), (400, 0), *teeth[:-1], (0, 7)]))
    assert neck.neck(comb)[0] == pytest.approx(5)
    assert len(asked) < 200


def two_rounds(width, sides):
    """Rounds of 200 mm, each of so many flat sides, 300 mm apart, and a strip between them."""
    rounds = [
        shapely.Polygon(
            [(x + 100 * cos(a), 100 * sin(a)) for a in (2 * pi * k / sides for k in range(sides))]
        )
        for x in (0.0, 300.0)
    ]
    whole = shapely.union_all([*rounds, shapely.box(0, 11 - width / 2, 300, 11 + width / 2)])
    return list(whole.exterior.coords)[:-1]  # fmt: skip


@pytest.mark.parametrize("share", [0.9, 2.9, 3.2, 3.9])
@pytest.mark.parametrize("sides", [40, 260])
def test_wide_necks_are_not_looked_for_in_an_edge_of_many_lines(sides, share):
    """Up to three times the limit; in an edge of fewer than 400 lines every neck is."""
    drawn = plate(two_rounds(share * shop().cutting.web(6.0), sides))
    assert (len(drawn.outline.segments) > 400) == (sides == 260)
    found = neck.check(drawn, shop())
    assert len(found) == (sides == 40 or share < 3)
    for finding in found:
        assert finding.measured == pytest.approx(share * shop().cutting.web(6.0))
        assert finding.status is (Status.FAIL if share < 1 else Status.PASS)


def drawn_at_random(chance):
    """A plate of 5 to 9 corners, in and out, some round; its edges in pieces, so that many run on."""
    count = chance.randrange(5, 10)
    points = []
    for k in range(count):
        angle, reach = 2 * pi * (k + 0.7 * chance.random()) / count, chance.uniform(12, 70)
        points.append((reach * cos(angle), reach * sin(angle)))
    pieces = []
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
        steps, bulge = chance.choice((1, 2, 5)), chance.choice((0, 0, 0.12, -0.12, 0.5))
        for k in range(steps):
            x, y = x0 + (x1 - x0) * k / steps, y0 + (y1 - y0) * k / steps
            pieces.append(Vertex(x, y, bulge if k % 2 else 0))
    return Outline.of(pieces)


def every_pair(outline, widest):
    """All pairs of an outline's segments that do not follow each other, by their boxes' gaps."""
    boxes, count = np.array(outline.boxes), len(outline.segments)
    gaps = box_gaps(boxes, boxes)
    pairs = [(i, j, gaps[i, j]) for i, j in combinations(range(count), 2) if j - i >= 2]
    return sorted(pairs, key=lambda pair: (pair[2], pair[:2]))


def test_no_pair_that_makes_a_neck_is_passed_over(monkeypatch):
    """What is not looked at can be no neck: the same, to the digit, as looking at every pair."""
    chance, seen = random.Random(5), 0
    for _ in range(150):
        try:
            outline = drawn_at_random(chance)
        except GeometryError:
            continue
        if not outline.polygon("inside").is_valid:
            continue
        monkeypatch.setattr(neck, "AT_ONCE", 7)
        found = [neck.neck(outline, widest) for widest in (inf, 30.0, 8.0)]
        with monkeypatch.context() as patch:
            patch.setattr(neck, "_pairs", every_pair)
            assert found == [neck.neck(outline, widest) for widest in (inf, 30.0, 8.0)]
        seen += found[0] is not None
    assert seen > 40


def runs_on(segments, k):
    """How many segments after one the edge follows without its headings being 89 degrees apart."""
    heading = low = high = 0.0
    for count in range(len(segments)):
        s, after = (segments[(k + count + n) % len(segments)] for n in (0, 1))
        for (ux, uy), (vx, vy) in (
            (s.direction(0), s.direction(0.5)),
            (s.direction(0.5), s.direction(1)),
            (s.direction(1), after.direction(0)),
        ):
            heading += atan2(ux * vy - uy * vx, ux * vx + uy * vy)
            low, high = min(low, heading), max(high, heading)
            if high - low >= radians(89):
                ends_in_next = (vx, vy) == after.direction(0)
                return max(0, count - (not ends_in_next))
    raise AssertionError("a closed edge turns all the way round")


def test_how_far_the_edge_runs_on():
    """Lines and arcs at random, walked along one by one; of twelve corners two are less than 89."""
    round_ = Outline.of([Vertex(50 * cos(k * pi / 6), 50 * sin(k * pi / 6)) for k in range(12)])
    assert neck._straight_on(round_.segments).tolist() == [2] * 12
    chance, seen = random.Random(11), set()
    for _ in range(60):
        try:
            segments = drawn_at_random(chance).segments
        except GeometryError:
            continue
        expected = [runs_on(segments, k) for k in range(len(segments))]
        assert neck._straight_on(segments).tolist() == expected
        seen |= set(expected)
    assert {0, 1, 2, 3, 4} <= seen


def test_the_narrower_of_two_thin_necks():
    """0.9 and then 0.5 mm wide: boxes that meet tell nothing of which is narrower."""
    top = [(0, 40), (20, 40), (25, 20.9), (30, 40), (50, 40), (55, 20.5), (60, 40), (80, 40)]
    low = [(80, 0), (60, 0), (55, 20), (50, 0), (30, 0), (25, 20), (20, 0), (0, 0)]
    outline = Outline.of([Vertex(x, y) for x, y in reversed(top + low)])
    assert neck.neck(outline)[0] == pytest.approx(0.5)
    mirrored = Outline.of([Vertex(80 - x, y) for x, y in top + low])
    assert neck.neck(mirrored)[0] == pytest.approx(0.5)
