"""Dimensioned drawings: every opening once, from a real edge, the same on both hands, readable."""

from dataclasses import replace
from math import asin, hypot, tan
from pathlib import Path
from xml.etree import ElementTree

import pytest
import shapely
from helpers import plate
from hypothesis import given
from hypothesis import strategies as st

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.oval import oval
from partgen.packet.datum import datum, datum_edge, turned
from partgen.packet.dimensions import callouts, ordinates, window_text
from partgen.packet.drawing import drawing
from partgen.packet.rail_line import rail_line
from partgen.packet.words import LETTER, Words
from partgen.plates.plate import Mark
from partgen.tasks.making import checked

DEMOS = sorted((Path(__file__).parents[2] / "demo_parts").glob("*.toml"))
TILTED = [(0, 0), (200, 40), (190, 140), (30, 110)]
TRIANGLE = plate([(0, 0), (80, 0), (15, 40)]).outline
SVG = "{http://www.w3.org/2000/svg}"


def boxes_meet(a, b):
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def texts(svg):
    return [t.text for t in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def tilted(holes):
    return plate(TILTED, holes=holes)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_demo_drawings_print_nothing_on_anything_else(demo):
    build, _ = checked(demo, {})
    for piece in build.plates:
        made = drawing(piece, build.job.unit, rail_line(piece, build))
        for k, first in enumerate(made.words):
            for second in made.words[k + 1 :]:
                assert not boxes_meet(first.box, second.box), (piece.label, first, second)
            ink = shapely.box(*first.box)
            lines = [line for line in made.chains if shapely.LineString(line).intersects(ink)]
            assert not lines, (piece.label, first, lines)
            assert not any(
                shapely.LineString(s.at(k / 8) for k in range(9)).intersects(ink)
                for outline in made.at.plate.outlines
                for s in outline.segments
            ), (piece.label, first)


def test_values_are_distances_from_the_datum_edge():
    """Against the plain cross product on the coordinates as they stand in the plate."""
    piece = tilted([("a", 60, 50, "M10"), ("b", 150, 80, "M10")])
    edge = datum_edge(piece.outline)
    assert (edge.start, edge.end) == ((0, 0), (200, 40))
    at = datum(piece)
    ux, uy = 200 / hypot(200, 40), 40 / hypot(200, 40)
    corners = [x * ux + y * uy for x, y in TILTED]
    for name, x, y in (("hole a", 60, 50), ("hole b", 150, 80)):
        found = {o.axis: o.value for o in ordinates(at) if name in o.of}
        assert found[1] == pytest.approx(y * ux - x * uy, abs=1e-9)
        assert found[0] == pytest.approx(x * ux + y * uy - min(corners), abs=1e-9)
    assert at.size[0] == pytest.approx(max(corners) - min(corners), abs=1e-9)


@given(
    st.lists(
        st.tuples(st.integers(40, 160), st.integers(45, 105)), min_size=1, max_size=7, unique=True
    )
)
def test_every_hole_is_placed_once_and_sized_once(spots):
    spots = [
        s
        for k, s in enumerate(spots)
        if all(hypot(s[0] - t[0], s[1] - t[1]) > 8 for t in spots[:k])
    ]
    piece = plate([(0, 0), (200, 0), (200, 150), (0, 150)],
                  holes=[(f"h{k}", x, y, "M6") for k, (x, y) in enumerate(spots)])  # fmt: skip
    at = datum(piece)
    for hole in piece.holes:
        named = f"hole {hole.name}"
        for axis, value in ((0, hole.x), (1, hole.y)):
            hits = [o for o in ordinates(at) if o.axis == axis and named in o.of]
            assert [o.value for o in hits] == pytest.approx([value], abs=0.006)
        assert sum(named in c.of for c in callouts(at, "mm")) == 1
    made = drawing(piece, "mm")
    printed = texts(made.svg("x"))
    for o in made.places:
        assert f"{o.value:.2f}".rstrip("0").rstrip(".") in printed
    for k, first in enumerate(made.words):
        assert not any(boxes_meet(first.box, other.box) for other in made.words[k + 1 :])


def test_openings_with_one_distance_share_it():
    piece = plate([(0, 0), (200, 0), (200, 90), (0, 90)],
                  holes=[("a", 50, 30, "M8"), ("b", 90, 30, "M8"), ("c", 90, 60, "M8")])  # fmt: skip
    found = [(o.axis, o.value, o.of) for o in ordinates(datum(piece))]
    assert found == [
        (0, 50, ("hole a",)),
        (0, 90, ("hole b", "hole c")),
        (1, 30, ("hole a", "hole b")),
        (1, 60, ("hole c",)),
    ]
    assert next(c.text for c in callouts(datum(piece), "mm")) == "3 x Ø9 for M8 (a, ..., c)"


def test_both_hands_read_the_same():
    piece = replace(tilted([("a", 60, 50, "M10"), ("b", 150, 80, "M12")]), hand="left")
    left, right = datum(piece), datum(piece.mirrored())
    assert [(o.axis, round(o.value, 6)) for o in ordinates(left) if o.axis == 1] == [
        (o.axis, round(o.value, 6)) for o in ordinates(right) if o.axis == 1
    ]
    assert sorted(round(o.value, 6) for o in ordinates(left)) == sorted(
        round(o.value, 6) for o in ordinates(right)
    )
    assert left.sides[0] != right.sides[0]


def test_datum_is_an_edge_a_straightedge_lies_on():
    """A longer edge that the plate bulges past is not taken."""
    outline = plate(
        [(0, 0), (300, 0), (300, 60), (180, 60), (150, 120), (120, 60), (0, 60)]
    ).outline
    edge = datum_edge(outline)
    assert (edge.y0, edge.y1) == (0, 0)
    ear_below = plate(
        [(0, 0), (200, 0), (220, -40), (260, -40), (280, 0), (300, 0), (225, 60), (75, 60)]
    )
    assert {datum_edge(ear_below.outline).y0, datum_edge(ear_below.outline).y1} == {60}


def test_datum_prefers_a_corner():
    """A gusset is measured from its legs, not from its longer free edge."""
    at = datum(plate([(0, 0), (90, 0), (90, 8), (8, 70), (0, 70)]))
    assert at.turn == 0
    assert at.sides == ("left", "bottom")
    assert all(at.edges)


def test_round_plate_has_a_diameter_and_touch_lines():
    disc = replace(tilted([]), outline=Outline.circle(10, 5, 80))
    at = datum(disc)
    assert at.edges == (None, None)
    assert [c.text for c in callouts(at, "mm")] == ["Ø80 outside"]
    assert "80" in texts(drawing(disc, "mm").svg("disc"))


@pytest.mark.parametrize(
    ("outline", "text"),
    [
        (Outline.circle(0, 0, 18), "Ø18"),
        (Outline.slot(0, 0, 40, 12), "slot 40 x 12"),
        (Outline.slot(0, 0, 40, 12, 30), "slot 40 x 12 at 30.0°"),
        (rectangle(50, 30, 12), "rectangle 50 x 30 R12"),
        (rectangle(50, 30, 12).turned(10), "rectangle 50 x 30 R12 at 10.0°"),
        (rectangle(50, 30, 0), "rectangle 50 x 30"),
        (rectangle(80, 44, 22), "slot 80 x 44"),
        (oval(54, 34, angle=-25), "oval 54 x 34 at 25.0°"),
        (TRIANGLE, "opening 80 x 40"),
    ],
)
def test_windows_are_called_by_their_shape(outline, text):
    assert window_text(outline, "mm") == text


def test_radii_are_counted_by_centre():
    corners = [
        c.text for c in callouts(datum(replace(tilted([]), outline=rectangle(80, 60, 6))), "mm")
    ]
    assert corners == ["4 x R6"]


def test_bend_lines_are_placed_from_the_edge_they_run_along():
    """A tapered plate: measured from its short square end, not from its longer slanting edges."""
    bend = Mark("bend", ((130, 12), (130, 88)), 12.0, 30.0)
    back = Mark("bend", ((310, 22), (310, 78)), 12.0, -40.0)
    piece = replace(
        plate([(0, 0), (400, 25), (400, 75), (0, 100)], holes=[("a", 60, 40, "M10")]),
        marks=(bend, back),
    )
    for turn in (0.0, 35.0):
        at = datum(turned(piece, turn))
        assert at.edges[at.main].length == pytest.approx(100)
        found = {o.of: o.value for o in ordinates(at) if o.axis == at.main}
        assert found[("bend 1",)] == pytest.approx(130)
        assert found[("bend 2",)] == pytest.approx(310)
        assert found[("hole a",)] == pytest.approx(60)
        texts_ = [c.text for c in callouts(at, "mm")]
        assert "bend 30° towards you, R12 inside (1)" in texts_
        assert "bend 40° away from you, R12 inside (2)" in texts_


def test_a_bend_that_runs_along_no_edge_is_placed_by_both_its_ends():
    slant = Mark("bend", ((50, 20), (150, 60)), 9.0, 12.0)
    at = datum(replace(plate([(0, 0), (200, 0), (200, 90), (0, 90)]), marks=(slant,)))
    assert [(o.axis, o.value) for o in ordinates(at)] == [(0, 50), (0, 150), (1, 20), (1, 60)]


def test_arcs_too_gentle_to_measure_have_no_letter():
    """R5000 over 200 mm of edge rises a millimetre: nobody measures that, the template shows it."""
    rise, ear = tan(asin(100 / 5000) / 2), tan(asin(20 / 25) / 2)
    corners = [(0, 0), (80, 0, ear), (120, 0), (200, 0), (200, 60, rise), (0, 60)]
    wide = replace(tilted([]), outline=Outline.of(Vertex(*c) for c in corners))
    assert [c.text for c in callouts(datum(wide), "mm")] == ["R25"]
    assert "template" in " ".join(texts(drawing(wide, "mm").svg("x")))
    assert "template" not in " ".join(texts(drawing(tilted([]), "mm").svg("x")))


def test_lines_that_are_no_cuts_are_named():
    piece = replace(
        tilted([]), marks=(Mark("bend", ((20, 60), (180, 90))), Mark("drill", ((90, 70),)))
    )
    printed = " ".join(texts(drawing(piece, "mm", ((0, -9), (200, 31))).svg("x")))
    assert "Dash-dot: bend line." in printed
    assert "Long dashes: lower edge of the rail." in printed
    assert "scribe" not in printed


def test_room_of_words():
    """An upright text reads upwards: set by its end, all of it lies below that."""
    wide = LETTER * 5 * 4
    assert Words("1234", 10, 20, 5, "end", upright=True).box == (7.5, 20 - wide, 12.5, 20)
    assert Words("1234", 10, 20, 5, "end").box == (10 - wide, 17.5, 10, 22.5)
    assert Words("1234", 10, 20, 5, "start").box == (10, 17.5, 10 + wide, 22.5)


def test_names_are_escaped():
    svg = drawing(tilted([("a", 60, 50, "M10")]), "mm").svg("<b>&")
    assert "<title>&lt;b&gt;&amp;</title>" in svg
