"""Web: distances known by hand; the limit is the cutting profile's, 1.5 t and at least 6 mm."""

from math import hypot

import pytest
from helpers import plate, shop

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.rules import web
from partgen.rules.finding import Status

PLATE = [(0, 0), (260, 0), (250, 120), (0, 120)]


def by_place(piece, where):
    (finding,) = [f for f in web.check(piece, shop()) if f.where == where]
    return finding


@pytest.mark.parametrize(("gap", "status"), [(9.0, Status.PASS), (8.999, Status.FAIL)])
def test_window_to_edge_turns_at_1_5_thickness(gap, status):
    window = rectangle(60, 30, 5, (80, 15 + gap))
    finding = by_place(plate(PLATE, windows=[("w", window)]), "window w to outside edge")
    assert finding.status is status
    assert finding.measured == pytest.approx(gap)
    assert finding.required == 9
    assert "common practice, no source" in finding.source


def test_least_web_governs_thin_plate():
    window = rectangle(60, 30, 5, (80, 15 + 5.9))
    finding = web.check(plate(PLATE, windows=[("w", window)], thickness=3), shop())[0]
    assert (finding.required, finding.status) == (6, Status.FAIL)


@pytest.mark.parametrize(("gap", "status"), [(9.0, Status.PASS), (8.9, Status.FAIL)])
def test_between_two_holes_is_closed_form(gap, status):
    """Two M12 holes of 13.5 mm, in a direction of 3 to 4."""
    away = gap + 13.5
    piece = plate(PLATE, [("A", 80, 50, "M12"), ("B", 80 + 0.6 * away, 50 + 0.8 * away, "M12")])
    finding = by_place(piece, "hole A to hole B")
    assert finding.status is status
    assert finding.measured == pytest.approx(gap, abs=1e-9)


def test_two_ten_mm_arcs_five_apart_read_five_not_more():
    """A polygon library's default circle reads this web as 5.096 mm, on the unsafe side."""
    a, b = Outline.circle(60, 60, 20), Outline.circle(60 + 25 * 0.28, 60 + 25 * 0.96, 20)
    finding = by_place(plate(PLATE, windows=[("a", a), ("b", b)]), "window a to window b")
    assert finding.measured == pytest.approx(5.0, abs=1e-9)


def test_hole_to_window_corner_arc():
    """A window's corner of radius 10 about (110, 60); the hole's centre 40 mm off at 3 to 4."""
    window = rectangle(60, 40, 10, (80, 50))
    x, y = 100 + 40 * 0.6, 60 + 40 * 0.8
    finding = by_place(plate(PLATE, [("A", x, y, "M12")], [("w", window)]), "hole A to window w")
    assert finding.measured == pytest.approx(hypot(24, 32) - 10 - 6.75, abs=1e-9)


@pytest.mark.parametrize(
    ("dx", "dy", "listed"),
    [(49.5, 0, True), (49.6, 0, False), (0, -50, False), (-34.9, 35, True), (35.1, 35, False)],
)
def test_pairs_of_openings_over_four_limits_apart_are_not_listed(dx, dy, listed):
    """Holes of 13.5 mm, limit 9: 36 of metal, 49.5 between centres, 35 each way slanted."""
    holes = [("A", 130, 60, "M12"), ("B", 130 + dx, 60 + dy, "M12")]
    found = [
        f.where
        for f in web.check(plate([(0, -50), (260, -50), (250, 180), (0, 180)], holes), shop())
    ]
    assert found[:2] == ["hole A to outside edge", "hole B to outside edge"]
    assert found[2:] == (["hole A to hole B"] if listed else [])


def test_a_plate_without_openings_has_no_web():
    assert web.check(plate(PLATE), shop()) == []
