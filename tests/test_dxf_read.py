"""DXF files of other origin, built here from bare group codes: outlines against hand sums.

Group codes and $INSUNITS values: DXF reference, entities and header sections.
"""

from __future__ import annotations

import io
import random
from math import cos, hypot, pi, radians, sin, sqrt

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.dxf.read import read_healed
from partgen.dxf.write import DxfError, read, read_pieces
from partgen.geometry.outline import Outline, Vertex


def entity(kind, pairs, layer="0", handle="2F"):
    """Return an entity's text; ``pairs`` is "code value code value ..."."""
    words = pairs.split()
    body = [f"{c}\n{v}" for c, v in zip(words[::2], words[1::2], strict=True)]
    return "\n".join([f"0\n{kind}\n5\n{handle}\n8\n{layer}", *body])


def circle(x, y, r, layer="0"):
    return entity("CIRCLE", f"10 {x} 20 {y} 40 {r}", layer)


def line(x0, y0, x1, y1, layer="0"):
    return entity("LINE", f"10 {x0} 20 {y0} 11 {x1} 21 {y1}", layer)


def arc(x, y, r, start, end):
    return entity("ARC", f"10 {x} 20 {y} 40 {r} 50 {start} 51 {end}")


def polyline(*points, flag=1, more=""):
    body = " ".join(f"10 {p[0]} 20 {p[1]}" + (f" 42 {p[2]}" if len(p) > 2 else "") for p in points)
    return entity("LWPOLYLINE", f"90 {len(points)} 70 {flag} {body} {more}")


def plain(*entities, unit=4, end="0\nEOF\n"):
    """Return the smallest DXF file there is; ``unit`` None leaves the header out."""
    head = (
        f"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n" if unit is not None else ""
    )
    body = "\n".join(entities)
    return f"{head}0\nSECTION\n2\nENTITIES\n{body}\n0\nENDSEC\n{end}".encode()


def bracket(seed, *, closed_by=0.0):
    """Return a rectangle 60 x 35 with a corner arc of 12 and a bite of radius 9, in parts.

    The parts are in random order and direction; one end is off by ``closed_by``.
    """
    half = sqrt(9**2 - 3**2)  # the bite's centre is 3 mm above the lower edge
    angle = 180 / pi * radians(90 - 19.471220634490695)
    parts = [
        ("l", 0, 0, 20 - half, 0),
        ("a", 20, 3, 9, 270 + angle, 270 - angle),  # over the top: 219 degrees
        ("l", 20 + half, 0, 60, 0),
        ("l", 60, 0, 60, 23),
        ("a", 48, 23, 12, 0, 90),
        ("l", 48, 35, 0, 35 + closed_by),
        ("l", 0, 35, 0, 0),
    ]
    draw = random.Random(seed)
    draw.shuffle(parts)
    text = []
    for kind, *v in parts:
        if kind == "l" and draw.random() < 0.5:
            v = [v[2], v[3], v[0], v[1]]
        text.append(line(*v) if kind == "l" else arc(*v))
    return text


def bracket_area():
    """Return rectangle - corner + quarter - the part of the bite's circle above the edge."""
    above = 9**2 * (pi - acos_third()) + 3 * sqrt(9**2 - 3**2)
    return 60 * 35 - 12**2 * (1 - pi / 4) - above


def acos_third():
    return radians(90 - 19.471220634490695)  # acos(3 / 9)


@pytest.mark.parametrize("layer", ["REFERENCE", "SCRIBE_MARK", "DRILL_CENTRE", "BEND_LINE"])
def test_our_layers_that_are_not_cut_are_passed_over(layer):
    """Even what no reader could cut: an open line and a point."""
    data = plain(
        circle(0, 0, 5), line(0, 0, 9, 9, layer=layer), entity("POINT", "10 1 20 1", layer)
    )
    assert len(read(data, where="a.dxf").outside) == 1


@pytest.mark.parametrize("seed", range(8))
def test_lines_and_arcs_in_any_order_become_one_outline(seed):
    (outline,) = read(plain(*bracket(seed)), where="b.dxf").outside
    assert outline.area == pytest.approx(bracket_area(), rel=1e-9)
    assert len(outline.vertices) == 7
    assert outline.box == pytest.approx((0, 0, 60, 35), abs=1e-9)


def test_ends_meet_within_a_thousandth_and_no_further():
    (outline,) = read(plain(*bracket(3, closed_by=0.0009)), where="b.dxf").outside
    assert outline.area == pytest.approx(bracket_area(), rel=1e-4)
    with pytest.raises(DxfError, match=r"b\.dxf: LINE 2F on layer '0': an open end at \(0, 35"):
        read(plain(*bracket(3, closed_by=0.0012)), where="b.dxf")


@pytest.mark.parametrize(
    ("code", "mm"), [(1, 25.4), (2, 304.8), (4, 1), (5, 10), (6, 1000), (14, 100)]
)
def test_unit_codes(code, mm):
    """$INSUNITS: 1 inch, 2 foot, 4 mm, 5 cm, 6 m, 14 dm (DXF reference, header variables)."""
    (outline,) = read(plain(circle(1, 2, 3), unit=code), where="c.dxf").outside
    assert outline.circle_of == pytest.approx((mm, 2 * mm, 6 * mm))


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1), ("in", 25.4)])
@pytest.mark.parametrize("stated", [0, None])
def test_a_file_without_unit_takes_the_one_asked_for(unit, mm, stated):
    data = plain(circle(1, 2, 3), unit=stated)
    (outline,) = read(data, where="c.dxf", unit=unit).outside
    assert outline.circle_of == pytest.approx((mm, 2 * mm, 6 * mm))
    with pytest.raises(DxfError, match=r"^c\.dxf: states no unit; say whether"):
        read(data, where="c.dxf")


def test_a_unit_against_the_files_own_is_refused():
    data = plain(circle(1, 2, 3), unit=4)
    assert read(data, where="c.dxf", unit="mm").outside
    with pytest.raises(DxfError, match=r"states a unit of 1 mm, but 'in' was asked for"):
        read(data, where="c.dxf", unit="in")


def test_two_units_in_one_head_are_refused():
    data = b"999\nunit: in\n" + plain(SQUARE, unit=4)
    with pytest.raises(DxfError, match=r"1 mm in its header and of 25\.4 mm in its first comment"):
        read(data, where="m.dxf")


def test_seen_from_behind():
    """Extrusion (0, 0, -1): x of the entity runs backwards (DXF reference, OCS)."""
    behind = "210 0 220 0 230 -1"
    shape = polyline((0, 0), (40, 0, 0.5), (40, 20), (5, 25), more=behind)
    hole = entity("CIRCLE", f"10 20 20 8 40 3 {behind}")
    back = read(plain(shape, hole), where="m.dxf")
    own = (
        ezdxf.new()
        .modelspace()
        .add_lwpolyline(
            [(0, 0, 0), (40, 0, 0.5), (40, 20, 0), (5, 25, 0)],
            format="xyb",
            close=True,
            dxfattribs={"extrusion": (0, 0, -1)},
        )
    )
    want = list(own.vertices_in_wcs())
    assert {(round(v.x, 6), round(v.y, 6)) for v in back.outside[0].vertices} == {
        (round(v.x, 6), round(v.y, 6)) for v in want
    }
    # the arc of the edge x = 40 bulges outward: 4 atan 0.5 over a chord of 20
    assert back.outside[0].area == pytest.approx(
        Outline.of([Vertex(0, 0), Vertex(40, 0, 0.5), Vertex(40, 20), Vertex(5, 25)]).area
    )
    assert back.inside[0].circle_of == pytest.approx((-20, 8, 6))


def test_an_arc_seen_from_behind():
    half = entity("ARC", "10 10 20 0 40 4 50 20 51 110 210 0 220 0 230 -1")
    ends = [(-10 - 4 * cos(radians(a)), 4 * sin(radians(a))) for a in (20, 110)]
    data = plain(half, line(*ends[0], *ends[1]))
    (outline,) = read(data, where="m.dxf").outside
    assert outline.area == pytest.approx(4**2 / 2 * (pi / 2 - 1))
    assert outline.distance((-10 - 4 * cos(radians(65)), 4 * sin(radians(65)))) < 1e-9


@pytest.mark.parametrize("ends", [("0 360"), ("30 30"), ("15 375"), ("0 359.9999999999")])
def test_a_whole_turn_of_arc_is_a_circle(ends):
    start, end = ends.split()
    (outline,) = read(plain(arc(3, 4, 5, start, end)), where="m.dxf").outside
    assert outline.circle_of == pytest.approx((3, 4, 10))


def test_a_circle_in_arcs_is_a_circle_again():
    parts = [arc(3, 4, 5, 10, 100), arc(3, 4, 5, 250, 10), arc(3, 4, 5, 100, 250)]
    (outline,) = read(plain(*parts), where="m.dxf").outside
    assert outline.circle_of == pytest.approx((3, 4, 10))


def test_a_circle_drawn_clockwise_as_two_half_circles():
    (outline,) = read(plain(polyline((8, 4, -1), (-2, 4, -1))), where="m.dxf").outside
    assert outline.circle_of == pytest.approx((3, 4, 10))


def test_an_open_polyline_with_meeting_ends_and_doubled_points_is_closed():
    data = plain(polyline((0, 0), (9, 0), (9, 0), (9, 5, 0.3), (0, 7), (0, 0), flag=0))
    (outline,) = read(data, where="m.dxf").outside
    assert len(outline.vertices) == 4


@pytest.mark.parametrize("bulge", ["1e-9", "1e-13", "-6.1e-17", "1e-320"])
def test_an_arc_as_good_as_straight_is_a_line(bulge):
    """What other programs write for a straight side: a bulge of rounding, a radius beyond sense."""
    data = plain(polyline((0, 0, bulge), (1000, 0), (1000, 800), (0, 800)))
    for outline in (*read(data, where="m.dxf").outside, read_healed(data, where="m")[0][0][-1]):
        assert [v.bulge for v in outline.vertices] == [0, 0, 0, 0]


def test_a_flat_arc_stays_an_arc_and_its_views_can_be_drawn():
    """Radius 1e9 mm: 0.02 mm off its chord over 400 mm, by hand c^2 / 8r."""
    (outline,) = read(plain(polyline((0, 0, 1e-7), (400, 0), (400, 80))), where="m.dxf").outside
    assert outline.area == pytest.approx(400 * 80 / 2 + 2 / 3 * 400 * 2e-5, abs=1e-3)
    assert outline.polygon("inside").within(outline.polygon("outside").buffer(1e-9))
    huge = Outline((Vertex(0, 0, 1e-16), Vertex(9, 0, 0), Vertex(9, 9, 0)))
    assert huge.polygon("outside").area == pytest.approx(40.5)


def test_chains_in_inches():
    data = plain(line(0, 0, 2, 0), line(2, 1.5, 2, 0), line(2, 1.5, 0, 0), unit=1)
    (outline,) = read(data, where="m.dxf").outside
    assert outline.area == pytest.approx(1.5 * 25.4**2)
    assert outline.box == pytest.approx((0, 0, 50.8, 38.1))


def heavy(*points, more="", z=0):
    """Return a POLYLINE, the polyline of R12, of points with height ``z`` at the last one."""
    heights = [0] * (len(points) - 1) + [z]
    vertices = [
        entity("VERTEX", f"10 {x} 20 {y} 30 {h} 42 {b}")
        for (x, y, b), h in zip(points, heights, strict=True)
    ]
    return "\n".join([entity("POLYLINE", f"66 1 70 1 {more}"), *vertices, "0\nSEQEND\n8\n0"])


@pytest.mark.parametrize(("more", "turn"), [("", 1), ("210 0 220 0 230 -1", -1)])
def test_the_polyline_of_r12_from_the_front_and_from_behind(more, turn):
    data = plain(heavy((0, 0, 0), (40, 0, 0.5), (40, 20, -0.1), (5, 25, 0), more=more))
    (outline,) = read(data, where="m.dxf").outside
    want = Outline.of([Vertex(0, 0), Vertex(40, 0, 0.5), Vertex(40, 20, -0.1), Vertex(5, 25)])
    assert outline.area == pytest.approx(want.area)
    assert turn * outline.centroid[0] == pytest.approx(want.centroid[0])


def test_comments_anywhere_are_passed_over():
    data = plain(circle(1, 2, 3).replace("\n10\n", "\n999\n20\n10\n"))
    data = data.replace(b"SECTION\n2\n", b"SECTION\n999\nnote\n2\n")
    assert read(data, where="m.dxf").outside[0].circle_of == pytest.approx((1, 2, 6))


def test_an_entity_without_layer_is_on_layer_0():
    with pytest.raises(DxfError, match=r"m\.dxf: SPLINE on layer '0' cannot be cut"):
        read(plain("0\nSPLINE\n70\n8"), where="m.dxf")


def test_a_drawing_of_too_many_entities(monkeypatch):
    monkeypatch.setattr("partgen.dxf.tags.MOST_ENTITIES", 3)
    three = [circle(9 * k, 0, 2) for k in range(3)]
    assert len(read(plain(*three), where="m.dxf").outside) == 3
    with pytest.raises(DxfError, match="more than 3 entities"):
        read(plain(*three, circle(50, 0, 2)), where="m.dxf")


def test_open_polylines_and_lines_join():
    data = plain(
        polyline((0, 0), (30, 0, 0.25), (30, 20), flag=0), line(0, 0, 0, 20), line(30, 20, 0, 20)
    )
    (outline,) = read(data, where="m.dxf").outside
    chord, bulge = 20, 0.25
    radius, sweep = chord * (1 + bulge**2) / (4 * bulge), 4 * 0.24497866312686414  # atan(0.25)
    assert outline.area == pytest.approx(600 + radius**2 / 2 * (sweep - sin(sweep)))


def test_specks_and_lettering_are_passed_over():
    speck = line(50, 50, 50.0005, 50)
    speck += "\n" + arc(60, 0, 5, 10, 10.00001)
    lettering = [
        entity("TEXT", "10 1 20 1 40 5 1 hello"),
        entity("DIMENSION", "10 1"),
        entity("POINT", "10 1"),
    ]
    paper = entity("SPLINE", "67 1 70 8")
    assert len(read(plain(speck, *lettering, paper, circle(0, 0, 9)), where="m.dxf").outside) == 1


def test_loops_sort_into_pieces_by_what_lies_in_what():
    rings = [circle(2, 1, r) for r in (4, 30, 12, 21)]  # given out of order
    pieces = read_pieces(plain(*rings, circle(100, 0, 5), circle(101, 1, 2)), where="r.dxf")
    radii = sorted([round(o.circle_of[2] / 2) for o in piece] for piece in pieces)
    assert radii == [[2, 5], [4, 12], [21, 30]]


def test_equal_neighbours_side_by_side_are_two_pieces():
    """Sharing an edge is no crossing: each is cut on its own."""
    a = polyline((0, 0), (10, 0), (10, 20), (0, 20))
    b = polyline((10, 0), (20, 0), (20, 20), (10, 20))
    assert len(read_pieces(plain(a, b), where="r.dxf")) == 2


SQUARE = polyline((0, 0), (10, 0), (10, 10), (0, 10))
REFUSED = {
    "spline": (entity("SPLINE", "70 8 71 3"), "SPLINE 2F on layer '0' cannot be cut"),
    "ellipse": (entity("ELLIPSE", "10 0 20 0", "EDGE"), "ELLIPSE 2F on layer 'EDGE' cannot be cut"),
    "block": (entity("INSERT", "2 PART"), "INSERT 2F on layer '0' cannot be cut"),
    "hatch": (entity("HATCH", "10 0"), "HATCH 2F on layer '0' cannot be cut"),
    "made up": (entity("FROB\x07", "10 0"), "FROB? 2F"),
    "open": (line(0, 0, 5, 5), "LINE 2F on layer '0': an open end at (0, 0) mm; close the outline"),
    "branch": ("\n".join([SQUARE, line(50, 0, 60, 0), line(60, 0, 60, 9), line(60, 9, 50, 0),
                          line(60, 9, 70, 9)]), "3 ends meet at (60, 9) mm"),
    "same line twice": ("\n".join([line(0, 0, 9, 9)] * 2), "no area"),
    "doubled": ("\n".join([SQUARE, SQUARE]), "cut twice"),
    "doubled, elsewhere": (SQUARE + "\n" + polyline((0, 10), (0, 0), (10, 0), (10, 10)), "twice"),
    "doubled, nearly": (SQUARE + "\n" + polyline((0, 0), (10, 0), (10, 9.9996), (0, 10)), "twice"),
    "rising polyline": (heavy((0, 0, 0), (9, 0, 0), (9, 7, 0), z=2), "leaves the drawing's plane"),
    "long word": (entity("SPLINE", "70 8", "L" * 500), "on layer '" + "L" * 37 + "...' cannot"),
    "crossing": ("\n".join([SQUARE, circle(10, 3, 4)]), "crosses"),
    "crossing itself": (polyline((0, 0), (10, 9), (10, 0), (0, 10)), "crosses itself"),
    "no area": (polyline((0, 0), (10, 0)), "no area"),
    "tilted": (entity("CIRCLE", "10 0 20 0 40 3 210 0.1 220 0 230 0.995"), "tilted"),
    "no normal": (entity("CIRCLE", "10 0 20 0 40 3 210 0 220 0 230 0"), "tilted"),
    "rising": (entity("LINE", "10 0 20 0 30 0 11 5 21 5 31 2"), "leaves the drawing's plane"),
    "radius 0": (circle(0, 0, 0), "radius 0"),
    "radius -2": (circle(0, 0, -2), "radius -2"),
    "nan": (circle("nan", 0, 2), "group 10 is 'nan', no finite number"),
    "inf": (circle(0, "1e999", 2), "group 20 is '1e999', no finite number"),
    "text": (circle(0, 0, "two"), "group 40 is 'two', no finite number"),
    "missing": (entity("CIRCLE", "10 0 20 0"), "group 40 is missing"),
    "far away": (circle(2e5, 0, 2), "at most 100 m"),
    "wide arc": (polyline((0, 0, 300), (9e4, 0), (9e4, 9)), "100 m"),
    "whole turn": (polyline((0, 0), (5, 0, 1e12), (5, 5)), "whole turn"),
    "spline fit": (entity("POLYLINE", "66 1 70 5") + "\n0\nSEQEND", "fitted curve or a mesh"),
    "mesh": (entity("POLYLINE", "66 1 70 16") + "\n0\nSEQEND", "fitted curve or a mesh"),
    "nothing": (entity("TEXT", "10 0 20 0"), "nothing to cut"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_read_is_named_in_one_line(case):
    text, says = REFUSED[case]
    with pytest.raises(DxfError) as caught:
        read(plain(text), where="old\nplate.dxf")
    assert str(caught.value).startswith("old?plate.dxf: ")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "no DXF file"),
        (b"\n\n\n", "no group code"),
        (b"hello\nworld\n", "line 1: 'hello' is no group code"),
        (b"\x00\x01\x02 binary", "binary file"),
        (b"PK\x03\x04 zip\n0\n", "no group code"),
        (plain(SQUARE, end=""), "ends too soon"),
        (plain("1" * 5000 + "\nx", SQUARE), "no group code"),
        (plain(SQUARE, unit=9), "unit code '9'"),
        (plain(SQUARE, unit="-1"), "unit code '-1'"),
        (plain(SQUARE, unit="\u00b2"), "unit code"),
        (b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n", "no ENTITIES section"),
    ],
)
def test_what_is_no_dxf_file(data, says):
    with pytest.raises(DxfError) as caught:
        read(data, where="x.dxf")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_huge_counts_are_not_believed():
    shape = entity("LWPOLYLINE", "90 2147483647 70 1 10 0 20 0 10 9 20 0 10 3 20 7")
    assert len(read(plain(shape), where="x.dxf").outside) == 1


def test_files_of_the_reference_library_in_other_versions():
    """A newer file with blocks, styles and lettering round the outlines, straight from ezdxf."""
    document = ezdxf.new("R2018", units=1)
    document.blocks.new("UNUSED").add_spline([(0, 0), (1, 1), (2, 0)])
    space = document.modelspace()
    space.add_lwpolyline(
        [(0, 0, 0), (4, 0, 0.4), (4, 3, 0), (1, 3.5, -0.2)], format="xyb", close=True
    )
    space.add_circle((2, 1.5), 0.25)
    space.add_mtext("cut two")
    document.layout("Layout1").add_ellipse((0, 0), (3, 0), 0.5)
    stream = io.StringIO()
    document.write(stream)
    back = read(stream.getvalue().encode(), where="n.dxf")
    assert back.inside[0].circle_of == pytest.approx((50.8, 38.1, 12.7))
    chain = [Vertex(0, 0), Vertex(101.6, 0, 0.4), Vertex(101.6, 76.2), Vertex(25.4, 88.9, -0.2)]
    assert back.outside[0].is_same(Outline.of(chain))


@given(st.binary(max_size=400))
def test_random_bytes_give_one_line(data):
    with pytest.raises(DxfError) as caught:
        read(data, where="x.dxf")
    assert "\n" not in str(caught.value)


SMALL = plain(
    SQUARE, circle(30, 30, 2), arc(50, 0, 3, 20, 300), line(52.8190779, 1.0260604, 51.5, -2.5980762)
)


def test_the_file_to_damage_is_sound():
    assert len(read(SMALL, where="x.dxf").outside) == 3
    assert hypot(52.8190779 - 50, 1.0260604) == pytest.approx(3, abs=1e-6)


@given(st.integers(0, 10**9), st.integers(1, 6))
def test_damaged_files_give_outlines_or_one_line(seed, times):
    """Lines swapped, dropped, doubled or replaced: never a traceback."""
    draw = random.Random(seed)
    lines = SMALL.split(b"\n")
    words = [
        b"0",
        b"-1",
        b"1e308",
        b"nan",
        b"LINE",
        b"VERTEX",
        b"SEQEND",
        b"POLYLINE",
        b"",
        b"\xff",
        b"999",
        b"10",
        b"20",
        b"42",
        b"EOF",
        b"ENDSEC",
        b"SECTION",
        b"\xc2\xb2",
        b"99999999999",
    ]
    for _ in range(times):
        k = draw.randrange(len(lines))
        action = draw.randrange(4)
        if action == 0:
            lines[k] = draw.choice(words)
        elif action == 1:
            lines.insert(k, draw.choice(words))
        elif action == 2:
            del lines[k]
        else:
            j = draw.randrange(len(lines))
            lines[k], lines[j] = lines[j], lines[k]
    said = ""
    try:
        read(b"\n".join(lines), where="x.dxf")
    except DxfError as error:
        said = str(error)
    assert "\n" not in said
