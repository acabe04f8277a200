"""Kerf set off in lines and arcs, against closed forms and against GEOS.

Convex outlines: the area and length of a parallel body are A + L d + pi d^2 and L + 2 pi d (Steiner,
"Ueber parallele Flaechen", 1840; any text on integral geometry). GEOS (through shapely) offsets
polygons by its own method; with its arcs in fine steps both must agree.
"""

from math import cos, pi, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from partgen.cut.kerf import rounded_corners, torch_path
from partgen.errors import GeometryError
from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.measure import kerf_text

EAR = belt([Pin(0, 0), Pin(120, 0, 0, 8), Pin(60, 70, 22), Pin(10, 50, -9), Pin(-15, 40)])
KERF = 1.7


@pytest.mark.parametrize(
    "convex",
    [
        rectangle(80, 47),
        rectangle(80, 47, 6.5, (13, -9)),
        belt([Pin(0, 0, 12), Pin(90, 10, 25), Pin(30, 60, 8)]),
        Outline.slot(5, 3, 40, 11, 23),
        Outline.circle(10, -4, 33),
    ],
)
@pytest.mark.parametrize("kerf", [0.4, KERF, 9.0])
def test_a_convex_edge_grows_by_the_closed_form(convex, kerf):
    path = torch_path(convex, kerf, inside=False, name="edge")
    assert path.area == pytest.approx(
        convex.area + convex.length * kerf / 2 + pi * kerf**2 / 4, rel=1e-12
    )
    assert path.length == pytest.approx(convex.length + pi * kerf, rel=1e-12)


def test_openings_shrink_by_the_closed_form():
    window = rectangle(50, 30, 12, (4, 5))
    path = torch_path(window, KERF, inside=True, name="window")
    assert path.area == pytest.approx((50 - KERF) * (30 - KERF) - (4 - pi) * (12 - KERF / 2) ** 2)
    hole = torch_path(Outline.circle(3, 4, 17.5), KERF, inside=True, name="hole")
    assert hole.circle_of == pytest.approx((3, 4, 17.5 - KERF))
    sharp = torch_path(rectangle(20, 9), KERF, inside=True, name="window")
    assert sharp.area == pytest.approx((20 - KERF) * (9 - KERF), rel=1e-12)


def test_an_inside_corner_is_trimmed_and_an_outside_one_rounded():
    corner = belt(corners([(0, 0), (90, 0), (90, 20), (30, 20), (30, 70), (0, 70)]))
    path = torch_path(corner, 4, inside=False, name="edge")
    five_turns = 5 * pi * 2**2 / 4
    assert path.area == pytest.approx(corner.area + corner.length * 2 - 2 * 2 + five_turns)
    assert sum(s.bulge != 0 for s in path.segments) == 5
    assert rounded_corners(corner, 4, inside=False) == 1
    assert rounded_corners(rectangle(20, 9), 4, inside=True) == 4
    assert rounded_corners(EAR, 4, inside=False) == 0


def test_every_point_of_the_path_is_half_a_kerf_off():
    for inside in (True, False):
        path = torch_path(EAR, KERF, inside=inside, name="edge")
        for s in path.segments:
            for part in (0.0, 0.1, 0.5, 0.9):
                assert EAR.distance(s.at(part)) == pytest.approx(KERF / 2, abs=1e-7)
        assert (path.area < EAR.area) == inside


@st.composite
def stars(draw):
    n = draw(st.integers(3, 12))
    reach = [draw(st.floats(15, 60)) for _ in range(n)]
    blend = draw(st.sampled_from([0.0, 0.0, 1.0, 3.0]))
    points = [(r * cos(2 * pi * k / n), r * sin(2 * pi * k / n)) for k, r in enumerate(reach)]
    try:
        return belt(corners(points, blend))
    except GeometryError:
        assume(False)


@given(stars(), st.floats(0.5, 9), st.booleans())
def test_any_star_agrees_with_geos_or_is_refused(star, kerf, inside):
    way = -1 if inside else 1
    fine = star.polygon("inside", 0.0002)
    theirs = fine.buffer(way * kerf / 2, quad_segs=400)
    try:
        path = torch_path(star, kerf, inside=inside, name="star")
    except GeometryError:
        path = None
    if path is None:
        again = theirs.buffer(-way * kerf / 2, quad_segs=100)  # what a round torch leaves
        split = theirs.is_empty or theirs.geom_type == "MultiPolygon"
        assert split or again.hausdorff_distance(fine) > kerf / 2 - 0.01
        return
    smoothed = 0.001 * path.length  # GEOS smooths its input by up to a hundredth of the offset
    assert path.area == pytest.approx(theirs.area, abs=smoothed)
    assert path.length == pytest.approx(theirs.length, abs=smoothed)


@pytest.mark.parametrize(
    ("outline", "inside", "says"),
    [
        (Outline.circle(5, 5, 1.6), True, "1.6 mm is no wider than the kerf"),
        (Outline.slot(0, 0, 30, 1.5), True, "nothing of it is wider"),
        (belt(corners([(0, 0), (60, 0), (60, 40), (31, 40), (31, 15), (29.5, 15), (29.5, 40),
                       (0, 40)])), False, r"near \(31\.0, 33\.8\) mm it is too narrow"),
        (belt(corners([(0, 0), (20, 0), (20, 9), (40, 9), (40, 0), (60, 0), (60, 20), (40, 20),
                       (40, 10.5), (20, 10.5), (20, 20), (0, 20)])), True, "widen it there"),
    ],
)  # fmt: skip
def test_what_the_kerf_would_swallow_is_named(outline, inside, says):
    with pytest.raises(GeometryError, match=says) as error:
        torch_path(outline, KERF, inside=inside, name="gusset: window 2")
    assert "gusset: window 2" in str(error.value)


def test_a_keyhole_in_the_edge_is_not_closed_over():
    """A round notch behind a mouth narrower than the kerf."""
    key = Outline.of(
        [
            Vertex(0, 0), Vertex(60, 0), Vertex(60, 40), Vertex(30.6, 40), Vertex(30.6, 30, -8.0),
            Vertex(29.4, 30), Vertex(29.4, 40), Vertex(0, 40),
        ]
    )  # fmt: skip
    with pytest.raises(GeometryError, match="kerf"):
        torch_path(key, KERF, inside=False, name="edge")


def test_no_kerf_changes_nothing():
    assert torch_path(EAR, 0.0, inside=True, name="edge") is EAR


def test_kerf_is_read_without_a_tail_of_digits():
    assert kerf_text(1.7, "in") == "0.0669 in"


def test_the_path_is_as_plain_as_the_outline():
    """Arcs stay arcs: no more of them than the outline has, plus one for each sharp corner."""
    path = torch_path(EAR, KERF, inside=False, name="edge")
    sharp = 2
    assert len(path.segments) == len(EAR.segments) + sharp
