"""Axle saddle: the edge against the tube's circle or ellipse, off the symmetric case."""

from math import atan2, cos, degrees, hypot, radians, sin, tan

import pytest
from helpers import part, shop

from partgen.entries.joint import Joint
from partgen.errors import GeometryError

JOINT = Joint(width=57, body_diameter=64, bolt="M16")
WHERE = shop(joints={"j": JOINT})


def saddle(**changes):
    data = {"joint": "j", "tube": 76.2, "pivot": (22, -101), "plate": "6 mm S355",
            "fit_gap": 0.4} | changes  # fmt: skip
    return part("axle-saddle", **data)


def on_tube(outline, across, up):
    """Segments whose middle lies on the ellipse within 0.06 mm."""
    found = []
    for s in outline.segments:
        x, y = s.at(0.5)
        t = atan2(y / up, x / across)
        if hypot(x - across * cos(t), y - up * sin(t)) <= 0.06 and s.bulge:
            found.append(s)
    return found


def test_square_to_the_tube_the_edge_is_one_arc():
    inner, outer = saddle().plates(WHERE)
    (arc,) = on_tube(inner.outline, 38.5, 38.5)
    assert arc.centre == pytest.approx((0, 0), abs=1e-9)
    assert arc.radius == pytest.approx(38.5)
    assert degrees(abs(arc.sweep)) == pytest.approx(140)
    assert inner.outline == outer.outline
    assert inner.notes == ()


def test_skewed_it_is_the_ellipse_within_tolerance_and_ends_at_the_wrap():
    inner, outer = (p.outline for p in saddle(skew=12, wrap=130).plates(WHERE))
    across = 38.5 / cos(radians(12))
    aside = (57 + 25.4 / 32 + 6) / 2 * tan(radians(12))  # gap and plate, along the tube
    assert inner.distance((22, -101)) == pytest.approx(outer.distance((22, -101)))
    arcs = on_tube(inner.moved(aside, 0), across, 38.5)
    assert len(arcs) == len(on_tube(outer.moved(-aside, 0), across, 38.5))
    assert 2 <= len(arcs) <= 6
    for s in arcs:
        for k in range(21):
            x, y = s.at(k / 20)
            t = atan2(y / 38.5, x / across)
            assert hypot(x - across * cos(t), y - 38.5 * sin(t)) <= 0.06
    ends = [arcs[0].start, arcs[-1].end]
    want = [(across * cos(radians(t)), 38.5 * sin(radians(t))) for t in (-90 + 65, -90 - 65)]
    assert ends == [pytest.approx(p) for p in want]


def test_above_the_tube_it_turns_over():
    below, above = saddle().plates(WHERE)[0], saddle(pivot=(22, 101)).plates(WHERE)[0]
    flipped = above.outline.mirrored().turned(180)
    assert flipped.area == pytest.approx(below.outline.area)
    assert flipped.box == pytest.approx(below.outline.box)


def test_room_to_the_tube_and_ear():
    mount = saddle().as_mount(WHERE)
    assert mount.room == pytest.approx(hypot(22, 101) - 38.1)
    plate = saddle().plates(WHERE)[0]
    assert plate.outline.distance((22, -101)) == pytest.approx(24)


def test_a_single_plate_is_no_mount():
    assert saddle(ears=1).as_mount(WHERE) is None
    assert [p.name for p in saddle(ears=1).plates(WHERE)] == ["saddle"]


def test_skew_of_thick_plate_leaves_a_gap_that_is_said():
    """6 mm at 20 degrees: 0.4 + 6 tan 20 = 2.58 mm, over 1/16 in."""
    assert "2.58 mm" in saddle(skew=20).plates(WHERE)[0].notes[0]
    assert saddle(skew=10).plates(WHERE)[0].notes == ()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"pivot": (10, -50)}, "reaches the edge on the tube"),
        ({"seat": 90}, "behind the wrap; turn 'seat'"),
    ],
)
def test_what_cannot_be_drawn_says_why(changes, words):
    with pytest.raises(GeometryError, match=words):
        saddle(**changes).plates(WHERE)
