"""Rules on shapes: inside corners, hole size, small features, marks, bends, gusset ends.

Limits are the shop's own, common practice, no source: 3/8 in inside radius, 3 mm to marks, 30
degrees of a spike, 2 t + R at bends, 2 t of a gusset's toe; a plasma job shop's published table
prints 1.5 t for holes and 2 mm for features.
"""

from dataclasses import replace
from math import cos, pi, radians, sin, tan

import pytest
from helpers import plate, shop

from partgen.entries.cutting import cutting
from partgen.geometry.belt import Pin, belt, corners, rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.plates.plate import Mark, Window
from partgen.reference.rule_set import rule_set
from partgen.rules import (
    bend_radius,
    bend_room,
    gusset_end,
    hole_size,
    inside_corner,
    mark_room,
    small_feature,
)
from partgen.rules.finding import Status

BOARD = [(0, 0), (260, 0), (250, 120), (0, 120)]
L_SHAPE = [(0, 0), (120, 0), (120, 50), (50, 50), (50, 130), (0, 130)]


def only(found):
    (finding,) = found
    return finding


def test_a_sharp_inside_corner_of_the_outside_edge_fails():
    finding = only(inside_corner.check(plate(L_SHAPE), shop()))
    assert (finding.status, finding.measured) == (Status.FAIL, 0)
    assert finding.where == "outside edge at (50.0, 50.0) mm"
    assert (finding.required, finding.note) == (9.525, "round it")


@pytest.mark.parametrize(("turn", "sharp"), [(2.9, False), (3.1, True)])
def test_an_edge_that_turns_by_3_degrees_has_a_corner(turn, sharp):
    """Common practice, no source. A dent of the outside edge, and a window's edge bowed out."""
    dent = 60 * tan(radians(turn / 2))
    dented = plate([(0, 0), (60, dent), (120, 0), (120, 90), (0, 90)])
    round_corners = corners([(180, 40), (180, 90), (60, 90), (60, 40)], 10)
    bowed = belt([Pin(120, 40 - dent), *round_corners])
    edges = {f.where for f in inside_corner.check(dented, shop())}
    assert edges == ({f"outside edge at (60.0, {dent:.1f}) mm"} if sharp else set())
    opened = only(inside_corner.check(plate(BOARD, windows=[("w", bowed)]), shop()))
    assert opened.measured == pytest.approx(0 if sharp else 10)


@pytest.mark.parametrize(
    ("radius", "status"),
    [(9.525, Status.PASS), (9.52, Status.WARN), (0.86, Status.WARN), (0.84, Status.FAIL)],
)
def test_inside_radius_turns_at_3_8_in_and_at_half_the_kerf(radius, status):
    """The profile's kerf is 1.7 mm."""
    finding = only(inside_corner.check(plate(L_SHAPE, blend=radius), shop()))
    assert finding.status is status
    assert finding.measured == pytest.approx(radius)
    middle = 50 + radius * (1 - 0.5**0.5)
    assert finding.where == f"outside edge at ({middle:.1f}, {middle:.1f}) mm"
    said = {Status.PASS: "", Status.WARN: "round it more"}
    assert finding.note == said.get(status, "a kerf of 1.7 mm cannot cut it")


def test_outside_corners_may_be_sharp():
    assert not inside_corner.check(plate(BOARD), shop())


@pytest.mark.parametrize(
    ("radius", "status"), [(0, Status.FAIL), (6, Status.WARN), (10, Status.PASS)]
)
def test_corners_of_a_window(radius, status):
    window = rectangle(60, 40, radius, (120, 60))
    assert only(inside_corner.check(plate(BOARD, windows=[("w", window)]), shop())).status is status


def test_the_worst_corner_of_a_loop_is_shown():
    window = belt(
        [Pin(100, 40, 0, 12), Pin(160, 40, 0, 3), Pin(160, 80, 0, 12), Pin(100, 80, 0, 12)]
    )
    finding = only(inside_corner.check(plate(BOARD, windows=[("w", window)]), shop()))
    assert finding.measured == pytest.approx(3)


def test_the_worst_corner_is_the_one_that_misses_the_most():
    """Corners of 5 want 4.525 mm more; the round end of 7 has 6.15 mm more than half the kerf."""
    window = belt([*corners([(60, 30), (74, 30)], 5), Pin(67, 80, 7)])
    finding = only(inside_corner.check(plate(BOARD, windows=[("w", window)]), shop()))
    assert (finding.measured, finding.required) == (pytest.approx(5), 9.525)


def test_ends_of_slots_and_round_openings_are_held_against_the_kerf_alone():
    loops = [("slot", Outline.slot(60, 60, 40, 8, 20)), ("round", Outline.circle(180, 60, 9))]
    found = inside_corner.check(plate(BOARD, windows=loops), shop())
    assert [f.status for f in found] == [Status.PASS, Status.PASS]
    thin = plate(BOARD, windows=[("slot", Outline.slot(60, 60, 40, 1.6))])
    assert only(inside_corner.check(thin, shop())).status is Status.FAIL


@pytest.mark.parametrize(
    ("arcs", "is_end"), [([172], True), ([170], False), ([50, 122], True), ([122, 50], True)]
)
def test_an_arc_of_171_degrees_in_all_is_a_round_end(arcs, is_end):
    """On the circle of radius 20 about (70, 60), closed by its chord."""
    ends = [-86 + sum(arcs[:k]) for k in range(len(arcs) + 1)]
    points = [(70 + 20 * cos(radians(a)), 60 + 20 * sin(radians(a))) for a in ends]
    bulges = [*(tan(radians(a) / 4) for a in arcs), 0.0]
    moon = Outline.of(Vertex(*p, b) for p, b in zip(points, bulges, strict=True))
    found = [end for radius, _, end in inside_corner.inside_corners(moon, 1) if radius]
    assert found == [is_end] * len(arcs)


@pytest.mark.parametrize(
    ("radius", "status", "said"),
    [
        (0.85, Status.PASS, ""),
        (0.84, Status.FAIL, "cannot cut"),
        (0, Status.FAIL, "round it"),
    ],
)
def test_a_slot_that_a_tab_fills_is_held_against_the_kerf_alone(radius, status, said):
    """The profile's kerf is 1.7 mm; the same slot left open is warned of."""
    slot = Window("s", rectangle(31, 8, radius, (60, 40)).turned(17), is_filled=True)
    finding = only(inside_corner.check(replace(plate(BOARD), windows=(slot,)), shop()))
    assert finding.status is status
    assert said in finding.note
    assert finding.required == pytest.approx(0.85)
    assert "a tab fills the slot" in finding.source
    if status is Status.PASS:
        bare = replace(slot, is_filled=False)
        finding = only(inside_corner.check(replace(plate(BOARD), windows=(bare,)), shop()))
        assert (finding.status, finding.required) == (Status.WARN, pytest.approx(9.525))


def test_a_notch_in_the_edge_is_an_inside_corner():
    sides = corners([(0, 0), (110, 0), (110, 20)])
    notched = belt([*sides, Pin(103, 50, -7), *corners([(110, 83), (110, 100), (0, 100)])])
    piece = replace(plate(BOARD), outline=notched)
    finding = only(inside_corner.check(piece, shop()))
    assert (finding.status, finding.measured) == (Status.WARN, pytest.approx(7))


@pytest.mark.parametrize(
    ("thickness", "status", "note"),
    [
        (13.5 / 1.5, Status.PASS, "under 27.0 mm: cut it smaller and drill or ream to size"),
        (9.01, Status.WARN, "too small to cut in this plate: mark its centre and drill it"),
        (4.5, Status.PASS, ""),
        (4.6, Status.PASS, "under 13.8 mm: cut it smaller and drill or ream to size"),
    ],
)
def test_hole_size_turns_at_1_5_and_3_thicknesses(thickness, status, note):
    """M12 in a 13.5 mm hole (ISO 273 medium)."""
    finding = only(
        hole_size.check(plate(BOARD, [("A", 130, 60, "M12")], thickness=thickness), shop())
    )
    assert (finding.status, finding.note) == (status, note)


def test_round_windows_are_holes_too_and_the_profile_may_change():
    piece = plate(
        BOARD, windows=[("drain", Outline.circle(130, 60, 8)), ("w", rectangle(20, 9, 4, (50, 60)))]
    )
    finding = only(hole_size.check(piece, shop()))
    assert (finding.where, finding.status) == ("window drain", Status.WARN)
    finer = shop(cutting=cutting("plasma-65a", {"least_hole_per_thickness": 1.0}))
    assert only(hole_size.check(piece, finer)).status is Status.PASS


@pytest.mark.parametrize(
    ("width", "status"),
    [(6.0, Status.PASS), (5.99, Status.WARN), (3.4, Status.WARN), (3.39, Status.FAIL)],
)
def test_openings_narrower_than_the_plate_warn_and_than_two_kerfs_fail(width, status):
    piece = plate(BOARD, windows=[("slot", Outline.slot(120, 60, 50, width, 33))])
    finding = only(small_feature.check(piece, shop()))
    assert finding.status is status
    assert finding.measured == pytest.approx(width)


def test_round_openings_are_judged_by_their_size_alone():
    assert not small_feature.check(
        plate(BOARD, windows=[("r", Outline.circle(120, 60, 3))]), shop()
    )


@pytest.mark.parametrize(("angle", "warns"), [(29.9, True), (30.1, False)])
def test_a_spike_under_30_degrees(angle, warns):
    wedge = [(0, 0), (150, 0), (0, 150 * tan(radians(angle)))]
    found = small_feature.check(plate(wedge), shop())
    assert bool(found) is warns
    if warns:
        assert (found[0].status, found[0].unit) == (Status.WARN, "deg")
        assert found[0].measured == pytest.approx(angle)


def marked(*paths, kind="scribe", windows=()):
    piece = plate(BOARD, [("A", 130, 60, "M16")], windows)
    return replace(piece, marks=tuple(Mark(kind, path) for path in paths))


def bent(radius, path):
    piece = marked(path, kind="bend")
    return replace(piece, marks=tuple(replace(m, radius=radius, angle=-30) for m in piece.marks))


@pytest.mark.parametrize(
    ("gap", "status"), [(3.0, Status.PASS), (2.99, Status.WARN), (0.5, Status.WARN)]
)
def test_marks_stay_3_mm_from_a_cut(gap, status):
    far, near = ((40.0, 30.0), (60.0, 35.0)), ((20.0, 80.0), (gap, 70.0))
    finding = only(mark_room.check(marked(far, near), shop()))
    assert (finding.status, finding.measured) == (status, pytest.approx(gap))
    said = {Status.PASS: "", Status.WARN: "move the mark into the metal"}
    assert finding.note == said[status]


def test_marks_outside_the_metal_fail():
    outside = ((20.0, 80.0), (-30.0, 70.0))
    across_a_hole = ((100.0, 60.0), (160.0, 60.0))
    in_a_hole = ((130.0, 60.0),)
    beside_the_plate = ((-30.0, 20.0), (-40.0, 60.0))
    for path in (outside, across_a_hole, in_a_hole, beside_the_plate):
        assert only(mark_room.check(marked(path), shop())).status is Status.FAIL


def test_a_drill_centre_is_a_point():
    finding = only(mark_room.check(marked(((40.0, 5.0),), kind="drill"), shop()))
    assert finding.measured == pytest.approx(5)


def test_bend_lines_are_no_marks_to_keep_in():
    assert not mark_room.check(marked(((0.0, 40.0), (250.0, 40.0)), kind="bend"), shop())


@pytest.mark.parametrize(("room", "status"), [(18.0, Status.PASS), (17.99, Status.FAIL)])
def test_bend_room_is_two_thicknesses_and_the_radius(room, status):
    """t 6: 2 t + R with R = t; to the edge of a 17.5 mm hole about (130, 60)."""
    y = 60 - 17.5 / 2 - room
    finding = only(bend_room.check(marked(((0.0, y), (255.0, y)), kind="bend"), shop()))
    assert (finding.status, finding.measured) == (status, pytest.approx(room))


@pytest.mark.parametrize(("room", "status"), [(21.0, Status.PASS), (20.99, Status.FAIL)])
def test_bend_room_takes_the_radius_of_the_bend_itself(room, status):
    """t 6, R 9: 2 t + R = 21, where the shop's R = t would ask for 18."""
    y = 60 - 17.5 / 2 - room
    finding = only(bend_room.check(bent(9.0, ((0.0, y), (255.0, y))), shop()))
    assert (finding.status, finding.required) == (status, 21)
    assert finding.source == "common practice, no source"


@pytest.mark.parametrize(("radius", "status"), [(12.0, Status.PASS), (11.99, Status.WARN)])
def test_a_bends_radius_is_two_thicknesses(radius, status):
    """t 6. ASTM A6 and A143 practice, R at least 2 t; a bend without a radius is not judged."""
    finding = only(bend_radius.check(bent(radius, ((0.0, 20.0), (255.0, 20.0))), shop()))
    assert (finding.status, finding.required) == (status, 12)
    assert finding.where == "inside radius of bend 1 (30 degrees down)"
    up = bent(radius, ((0.0, 20.0), (255.0, 20.0)))
    up = replace(up, marks=tuple(replace(m, angle=0.5) for m in up.marks))
    where = only(bend_radius.check(up, shop())).where
    assert where == "inside radius of bend 1 (0.5 degrees up)"
    assert not bend_radius.check(bent(0.0, ((0.0, 20.0), (255.0, 20.0))), shop())


def test_bend_room_finds_the_nearest_opening():
    window = rectangle(40, 20, 10, (60, 30))
    piece = marked(((0.0, 8.0), (255.0, 8.0)), kind="bend", windows=[("w", window)])
    assert only(bend_room.check(piece, shop())).where.endswith("window w")
    assert not bend_room.check(replace(piece, holes=(), windows=()), shop())


@pytest.mark.parametrize(
    ("kind", "path"), [("scribe", ((0.0, 8.0), (255.0, 8.0))), ("bend", ((9.0, 8.0), (9.0, 8.0)))]
)
def test_only_bends_that_have_a_length_need_room(kind, path):
    assert not bend_room.check(marked(path, kind=kind), shop())


def test_the_limits_that_a_bends_room_comes_from_are_named(tmp_path):
    """The job's own file sets the room to a hole; the radius, where asked, is the shop's."""
    own = 'title = "t"\nbase = "shop"\nsource = "our book"\n[limits]\nbend_hole_per_thickness = 3\n'
    (tmp_path / "ours.toml").write_text(own, encoding="utf-8")
    ours = shop(rule_set=rule_set("ours.toml", tmp_path))
    line = ((0.0, 20.0), (255.0, 20.0))
    plain = only(bend_room.check(marked(line, kind="bend"), ours))
    assert (plain.required, plain.source) == (24, "common practice, no source; our book")
    known = only(bend_room.check(bent(9.0, line), ours))
    assert (known.required, known.source) == (27, "our book")


def gusset(toe):
    """100 x 80, sniped at its corner; blunt ends of ``toe``."""
    points = [(15, 0), (100, 0), (100, toe), (8, 80), (0, 80), (0, 15)]
    return replace(plate(points), name="gusset")


@pytest.mark.parametrize(("toe", "status"), [(12.0, Status.PASS), (12.01, Status.WARN)])
def test_a_gussets_square_end_is_at_most_two_thicknesses(toe, status):
    found = {f.where: f for f in gusset_end.check(gusset(toe), shop())}
    assert found["end at (100.0, 0.0) mm, at most"].status is status
    assert found["end at (100.0, 0.0) mm, at most"].margin == pytest.approx(12 - toe)
    assert found["end at (0.0, 80.0) mm, at most"].measured == pytest.approx(8)
    said = {Status.PASS: "", Status.WARN: "shorten the toe or taper the end"}
    assert found["end at (100.0, 0.0) mm, at most"].note == said[status]


@pytest.mark.parametrize(
    ("turn", "square"), [(60.5, True), (59.5, False), (119.5, True), (120.5, False)]
)
def test_an_end_is_square_within_30_degrees(turn, square):
    """Common practice, no source. The end leans by so much at (100, 0)."""
    end = (100 + 30 * cos(radians(turn)), 30 * sin(radians(turn)))
    leaning = replace(plate([(0, 0), (100, 0), end, (8, 80)]), name="gusset")
    found = {f.where: f for f in gusset_end.check(leaning, shop())}
    assert ("end at (100.0, 0.0) mm, at most" in found) is square
    if square:
        assert found["end at (100.0, 0.0) mm, at most"].measured == pytest.approx(30)


@pytest.mark.parametrize("turn", [90, 180])
def test_a_round_end_is_no_square_end(turn):
    """An arc bowed out that begins or ends square to the welded edge at (0, 0)."""
    arc = Outline.of([Vertex(0, 0), Vertex(60, 0), Vertex(20, 40), Vertex(-20, 20, tan(pi / 8))])
    ends = arc.turned(turn)
    mirrored = ends.mirrored()
    for outline in (ends, mirrored):
        assert [
            f
            for f in gusset_end.check(replace(plate(BOARD), outline=outline, name="gusset"), shop())
            if f.where == "end at (0.0, 0.0) mm, at most"
        ] == []


def test_other_plates_have_no_gusset_ends():
    assert not gusset_end.check(plate(BOARD), shop())
