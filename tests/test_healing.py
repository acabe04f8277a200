"""Mended outlines: drawings written by ezdxf with faults put in on purpose."""

import random
from math import cos, pi, radians, sin

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.dxf.read import read_healed, read_pieces
from partgen.dxf.tags import DxfError
from partgen.geometry.facets import rounded
from partgen.geometry.outline import Outline, Vertex


def drawing(add, unit=4):
    """The bytes of a drawing; ``add`` gets its model space."""
    import io

    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = unit
    add(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("ascii")


def lines(space, points, closed=True):
    ends = [*points[1:], points[0]] if closed else points[1:]
    for a, b in zip(points, ends, strict=False):
        space.add_line(a, b)


def healed(add, **more):
    return read_healed(drawing(add), where="d.dxf", **more)


RECTANGLE = [(0, 0), (80, 0), (80, 50), (0, 50)]


def test_a_sound_drawing_is_left_alone():
    def add(space):
        lines(space, RECTANGLE)
        space.add_circle((20, 20), 8)

    pieces, report = healed(add)
    assert report == ()
    assert pieces == read_pieces(drawing(add), where="d.dxf")


def test_gaps_are_closed_and_said():
    """Two gaps of 0.03 and 0.06 mm; both ends of a gap move to its middle."""

    def add(space):
        space.add_line((0, 0), (80, 0))
        space.add_line((80.03, 0), (80.03, 50))
        space.add_line((80.03, 50), (0, 50))
        space.add_line((0, 50), (0, 0.06))

    with pytest.raises(DxfError, match="open end"):
        read_pieces(drawing(add), where="d.dxf")
    (piece,), report = healed(add)
    assert len(piece[-1].segments) == 4
    corners = [(0, 0.03), (80.015, 0), (80.03, 50), (0, 50)]
    found = sorted((round(v.x, 6), round(v.y, 6)) for v in piece[-1].vertices)
    assert found == sorted(corners)
    assert report == ("2 gaps closed, the widest 0.060 mm at (0.00, 0.03) mm",)


def test_a_gap_wider_than_the_tolerance_is_refused_with_its_place():
    def add(space):
        lines(space, [(0, 0), (80, 0), (80, 50), (0, 50), (0, 0.4)], closed=False)

    with pytest.raises(DxfError) as error:
        healed(add, tolerance=0.3)
    assert "open end at (0.00, 0.00) mm, 0.40 mm from the next end" in str(error.value)
    assert "heal = 0.3 mm" in str(error.value)
    assert healed(add, tolerance=0.5)[1]


def test_what_is_drawn_twice_is_dropped():
    """A line again backwards, an arc again, a circle twice, a whole polyline over lines."""

    def add(space):
        lines(space, [(0, 0), (80, 0), (80, 50), (20, 50)], closed=False)
        space.add_arc((20, 30), 20, 90, 180)
        space.add_line((0, 30), (0, 0))
        space.add_line((80, 0), (0, 0))
        space.add_arc((20, 30), 20, 90, 180)
        space.add_circle((40, 20), 6)
        space.add_circle((40, 20), 6)
        space.add_lwpolyline([(60, 10), (70, 10), (70, 20), (60, 20)], close=True)
        lines(space, [(60, 10), (70, 10), (70, 20), (60, 20)])

    ((*openings, outside),), report = healed(add)
    assert outside.area == pytest.approx(80 * 50 - (4 - pi) / 4 * 400)
    assert sorted(o.area for o in openings) == pytest.approx([100, 36 * pi])
    assert report == ("1 circle drawn twice, dropped", "6 lines and arcs drawn twice, dropped")


def test_specks_are_dropped():
    def add(space):
        lines(space, RECTANGLE)
        space.add_line((80, 0), (80.01, 0))

    (piece,), report = healed(add)
    assert len(piece[-1].segments) == 4
    assert report == ("1 speck under 0.1 mm dropped",)


def test_three_ends_at_one_place_are_refused():
    def add(space):
        lines(space, RECTANGLE)
        space.add_line((80, 50), (100, 70))

    with pytest.raises(DxfError, match=r"3 ends meet at \(80.00, 50.00\) mm"):
        healed(add)


def test_an_outline_that_crosses_itself_is_refused():
    with pytest.raises(DxfError, match="crosses itself"):
        healed(lambda space: lines(space, [(0, 0), (80, 50), (80, 0), (0, 60)]))


@pytest.mark.parametrize("add", [
    lambda s: s.add_spline([(0, 0, 0), (10, 30, 0), (40, 10, 0)]),
    lambda s: s.add_ellipse((0, 0), (40, 0), 0.5),
])  # fmt: skip
def test_curves_of_other_kinds_are_refused_by_name(add):
    with pytest.raises(DxfError, match="cannot be cut; turn it into lines, arcs and circles"):
        healed(add)


def facets(centre, radius, start, end, count):
    turns = [radians(start + (end - start) * k / count) for k in range(count + 1)]
    return [(centre[0] + radius * cos(t), centre[1] + radius * sin(t)) for t in turns]


def test_facets_of_a_slot_are_two_arcs_again():
    """A 60 x 20 slot, each end 18 facets of 10 degrees."""
    points = facets((50, 10), 10, -90, 90, 18) + facets((10, 10), 10, 90, 270, 18)

    def add(space):
        space.add_lwpolyline(RECTANGLE_WIDE, close=True)
        lines(space, points)

    RECTANGLE_WIDE = [(-20, -20), (100, -20), (100, 60), (-20, 60)]
    ((slot, _),), report = healed(add)
    assert len(slot.segments) == 4
    assert slot.area == pytest.approx(40 * 20 + 100 * pi)
    assert [s.radius for s in slot.segments if s.bulge] == pytest.approx([10, 10])
    assert sum("18 facets are one arc of radius 10.00 mm" in line for line in report) == 2


@pytest.mark.parametrize("count", [12, 36, 72])
def test_a_faceted_circle_is_a_circle(count):
    points = facets((30, 20), 12, 7, 367, count)[:-1]
    (piece,), report = healed(lambda space: lines(space, points))
    assert piece[-1].circle_of == pytest.approx((30, 20, 24))
    assert f"{count} facets are one arc" in report[0]


@pytest.mark.parametrize("count", [3, 4, 6, 8, 10])
def test_polygons_that_are_meant_stay(count):
    points = facets((30, 20), 12, 7, 367, count)[:-1]
    (piece,), report = healed(lambda space: lines(space, points))
    assert (len(piece[-1].segments), report) == (count, ())


def test_facets_off_one_circle_stay_facets():
    """Every third corner 0.2 mm out: no circle, nothing is made up."""
    true, out = facets((0, 0), 20, 0, 180, 18), facets((0, 0), 20.2, 0, 180, 18)
    points = [out[k] if k % 3 == 0 else true[k] for k in range(19)]
    made, arcs = rounded([Vertex(x, y) for x, y in points])
    assert (len(made), arcs) == (19, [])


@pytest.mark.parametrize("count", [40, 200, 3000])
def test_fine_facets_are_arcs_too(count):
    """Half a disc of radius 20 mm: facets down to 0.02 mm, four of which are all but straight."""
    points = facets((0, 0), 20, 0, 180, count)
    made, arcs = rounded([Vertex(x, y) for x, y in points])
    assert (len(made), arcs) == (2, [(count, pytest.approx(20))])
    assert sorted(round(v.bulge, 6) for v in made) == [0, 1]


def test_straight_points_in_line_are_no_arc():
    points = [*((k * 0.5, 0.0) for k in range(60)), (29.5, 20), (0, 20)]
    made, arcs = rounded([Vertex(x, y) for x, y in points])
    assert (len(made), arcs) == (62, [])


def test_rounded_rectangle_of_facets():
    """Corners of radius 8 in 6 facets each, as other programs write them."""
    points = [
        p
        for (x, y), start in (((92, 8), -90), ((92, 42), 0), ((8, 42), 90), ((8, 8), 180))
        for p in facets((x, y), 8, start, start + 90, 6)
    ]
    (piece,), report = healed(lambda space: lines(space, points))
    assert len(piece[-1].segments) == 8
    assert piece[-1].area == pytest.approx(100 * 50 - (4 - pi) * 64)
    assert len(report) == 4


@settings(max_examples=60)
@given(seed=st.integers(0, 10**6), wobble=st.floats(0.002, 0.04))
def test_shuffled_turned_and_pulled_apart_it_comes_back(seed, wobble):
    """Any order and direction of the pieces, ends off by up to the wobble, some drawn twice."""
    rng = random.Random(seed)
    segments = [*Outline.slot(40, 30, 70, 24, 15).segments]
    segments += [s for s in segments if rng.random() < 0.4]
    rng.shuffle(segments)

    def off(p):
        return p[0] + rng.uniform(-wobble, wobble) / 2, p[1] + rng.uniform(-wobble, wobble) / 2

    def add(space):
        for s in segments:
            t = s.reversed() if rng.random() < 0.5 else s
            space.add_lwpolyline([(*off(t.start), t.bulge), (*off(t.end), 0)], format="xyb")

    (piece,), report = healed(add, tolerance=0.12)
    assert piece[-1].area == pytest.approx(Outline.slot(40, 30, 70, 24).area, abs=10 * wobble * 12)
    assert len(piece[-1].segments) == 4
    assert report


def test_a_flat_on_a_disc_of_facets_stays_straight():
    """A disc of radius 40 in 5 degree facets with one flat of 25 degrees: both its ends are on it."""
    points = facets((0, 0), 40, 25, 360, 67)
    (piece,), report = healed(lambda space: lines(space, points))
    assert sorted(bool(s.bulge) for s in piece[-1].segments) == [False, True]
    (flat,) = [s for s in piece[-1].segments if not s.bulge]
    assert flat.length == pytest.approx(2 * 40 * sin(radians(12.5)))
    assert "67 facets are one arc of radius 40.00 mm" in report[0]


@pytest.mark.parametrize("at", [80.05, 80.0996])
def test_an_end_beside_a_closed_corner_is_refused(at):
    """A tenth of a millimetre or less from where two others meet; the farther reaches but one."""

    def add(space):
        lines(space, [(80, 50), (80, 0), (0, 0), (0, 50), (79.9992, 50)], closed=False)
        lines(space, [(at, 50), (120, 90), (60, 90), (159.9992 - at, 50)], closed=False)

    with pytest.raises(DxfError, match="3 ends meet"):
        healed(add)


def test_two_arcs_between_the_same_ends_are_no_twins():
    """A sliver 0.15 mm wide at a tolerance of 0.1 mm; and a circle drawn as two arcs."""

    def add(space):
        space.add_lwpolyline([(0, 0, 0.00375), (40, 0, 0.00375)], format="xyb", close=True)
        space.add_arc((80, 0), 10, 0, 180)
        space.add_arc((80, 0), 10, 180, 360)

    pieces, report = healed(add)
    assert len(pieces) == 2
    assert report == ()
