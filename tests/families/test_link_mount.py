"""Link mount: outlines against hand geometry, off the symmetric case."""

from math import hypot

import pytest
from helpers import shop, sound_or_named
from hypothesis import given
from hypothesis import strategies as st

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.families.link_mount import LinkMount
from partgen.fields import Reading
from partgen.geometry.outline import Outline
from partgen.plates.plate import hands_of
from partgen.rules import PLATE_RULES
from partgen.rules.finding import Status

STRAIGHT = Rail(width=50, depth=100, corner_radius=8)
KICKED = Rail(
    width=50, depth=100, corner_radius=8, lower_edge=((0, 0), (260, 0), (420, -28), (700, -60))
)
JOINT = Joint(width=57, body_diameter=64, bolt="M16")


def mount(**changes):
    data = {"name": "front", "family": "link-mount", "rail": "r", "joint": "j",
            "pivot": (310, -68), "plate": "6 mm S355", "rear": 150, "front": 190,
            "weld_leg": 5} | changes  # fmt: skip
    return LinkMount.model_validate(data, context=Reading("mm"))


def plates(rail=KICKED, joint=JOINT, unit="mm", **changes):
    return mount(**changes).plates(shop(rails={"r": rail}, joints={"j": joint}, unit=unit))


def test_ear_is_a_true_arc_about_the_bolt():
    inner, _ = plates()
    assert inner.outline.distance((310, -68)) == pytest.approx(24, abs=1e-9)
    arcs = [
        s
        for s in inner.outline.segments
        if s.bulge and hypot(s.centre[0] - 310, s.centre[1] + 68) < 1e-6
    ]
    assert [s.radius for s in arcs] == pytest.approx([24])


def test_every_join_is_tangent_but_none_is_sharp_inside():
    """No re-entrant corner is sharp: where two segments meet, the path never turns right abruptly."""
    inner, _ = plates()
    segments = inner.outline.segments
    for a, b in zip(segments, (*segments[1:], segments[0]), strict=True):
        (ux, uy), (vx, vy) = a.direction(1), b.direction(0)
        assert ux * vy - uy * vx >= -1e-9


def test_body_follows_the_kicked_edge_inside_the_weld_shelf():
    """Shelf = corner radius 8 + weld leg 5: sampled lower edge of the body lies 13 mm from the rail."""
    inner, _ = plates(ends="square", corner=0, blend=0)
    on_shelf = [
        s.at(k / 20)
        for s in inner.outline.segments
        for k in range(21)
        if not s.bulge
        and KICKED.room(s.start) == pytest.approx(-13)
        and KICKED.room(s.end) == pytest.approx(-13)
    ]
    assert len(on_shelf) >= 42
    assert all(KICKED.room(p) == pytest.approx(-13, abs=1e-9) for p in on_shelf)


def test_upper_edge_keeps_the_same_shelf_below_the_rails_top():
    inner, _ = plates(rail=STRAIGHT, pivot=(0, -68))
    assert inner.outline.box[3] == pytest.approx(100 - 13)


def test_only_the_outer_plate_has_the_window():
    inner, outer = plates(outer={"windows": [{"at": (330, 34), "size": (50, 30), "radius": 12}]})
    assert (len(inner.windows), len(outer.windows)) == (0, 1)
    assert inner.outline == outer.outline
    assert inner.area - outer.area == pytest.approx(50 * 30 - (4 - 3.141592653589793) * 144)


def test_extra_bolt_holes_and_own_thickness():
    inner, outer = plates(
        holes=[{"at": (250, 60), "bolt": "M10"}],
        inner={"holes": [{"at": (400, 30), "bolt": "M12", "fit": "close"}], "plate": "4 mm S355"},
    )
    assert [h.diameter for h in inner.holes] == [17, 11, 13]
    assert [h.diameter for h in outer.holes] == [17, 11]
    assert (inner.thickness, outer.thickness) == (4, 6)


@pytest.mark.parametrize(("ends", "points"), [("square", 0), ("taper", 0), ("spear", 2)])
def test_ends(ends, points):
    """On a straight rail: square ends stand upright, taper cuts the top back, spear cuts both."""
    outline = plates(rail=STRAIGHT, pivot=(0, -60), ends=ends, corner=0, taper=60)[0].outline
    x0, _, x1, _ = outline.box
    assert (x0, x1) == (-150, 190)
    at_end = [v for v in outline.vertices if v.x in (x0, x1)]
    tops = [v.x for v in outline.vertices if v.y == pytest.approx(87)]
    run = 74 / 3**0.5
    cut = {"square": 0, "taper": run, "spear": run / 2}[ends]
    assert (min(tops), max(tops)) == pytest.approx((-150 + cut, 190 - cut))
    assert len(at_end) == {"square": 4, "taper": 2, "spear": 2}[ends]
    assert sum(v.y == pytest.approx(50) for v in at_end) == points


def test_default_ear_follows_rule_bolt_and_washer():
    """1.5 x 16 = 24 mm beats AISC's 22 mm and the washer's 15 mm; inches round up to 1/16."""
    assert mount().ear(JOINT, shop()) == 24
    five_eighths = Joint(width=66, body_diameter=64, bolt="5/8-11")
    assert mount().ear(five_eighths, shop(unit="in")) / 25.4 == pytest.approx(15 / 16)
    m6 = Joint(width=30, body_diameter=30, bolt="M6")
    assert mount().ear(m6, shop()) == 9
    assert mount(ear_radius=31).ear(JOINT, shop()) == 31


def test_ear_inside_the_body_needs_no_ear():
    inner, _ = plates(rail=STRAIGHT, pivot=(0, 50))
    assert inner.outline.box[1] == pytest.approx(13)


def test_both_hands_are_mirror_images_and_not_the_same_plate():
    inner, _ = plates()
    left, right = hands_of(inner, "both")
    assert (left.hand, right.hand) == ("left", "right")
    assert right.mirrored().outline == left.outline
    assert not left.is_symmetric


def test_symmetric_mount_is_the_same_both_ways_and_counted():
    inner, _ = plates(rail=STRAIGHT, pivot=(0, -68), rear=150, front=150, count=3)
    (same,) = hands_of(inner, "both")
    assert (same.hand, same.count) == ("same", 6)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"rear": 400}, "rail is measured from x = 0 to 700 mm"),
        ({"height": 95}, "more than the rail's depth"),
        ({"shelf": 45}, "height on the rail is 10 mm"),
        ({"root": 170}, "wider than the body's lower edge"),
        ({"blend": 400}, "too short for the radii"),
        ({"rail": "s"}, "rail = 's': no such rail; known: r"),
        ({"joint": "k"}, "joint = 'k': no such joint; known: j"),
        ({"outer": {"windows": [{"at": (100, 300), "size": (50, 30)}]}}, "not inside the plate"),
        ({"windows": [{"at": (330, 34), "size": (50, 10)}]}, "radius = 10 mm is more than half"),
        ({"ear_radius": 8.5}, "no metal round the hole of 17 mm; give more than 8.5 mm"),
        (
            {"ears": [{"pivot": (400, -90), "ear_radius": 8}]},
            "hole joint-2 is not inside the plate",
        ),
        ({"holes": [{"at": (310, -60), "bolt": "M10"}]}, "meet; move one of them"),
    ],
)
def test_what_cannot_be_drawn_says_why(changes, words):
    where = shop(rails={"r": KICKED}, joints={"j": JOINT})
    with pytest.raises(GeometryError) as error:
        mount(**changes).plates(where)
    assert words in str(error.value)
    assert len(error.value.problems) == 1


@given(
    pivot=st.tuples(st.floats(150, 450), st.floats(-220, 60)),
    reach=st.tuples(st.floats(60, 260), st.floats(60, 260)),
    ear=st.floats(14, 60),
    blend=st.floats(0, 60),
    ends=st.sampled_from(["square", "taper", "spear"]),
    taper=st.floats(15, 90),
    kick=st.floats(-60, 60),
)
def test_any_mount_is_a_sound_plate_or_a_named_error(pivot, reach, ear, blend, ends, taper, kick):
    rail = Rail(width=50, depth=100, corner_radius=8,
                lower_edge=((-300, 0), (200, 5), (330, kick), (900, kick - 20)))  # fmt: skip
    made = sound_or_named(
        lambda: plates(
            rail=rail, pivot=pivot, rear=reach[0], front=reach[1], ear_radius=ear, blend=blend,
            ends=ends, taper=taper,
        )
    )  # fmt: skip
    if made is None:
        return
    inner, _ = made
    assert inner.outline.polygon("inside").is_valid
    assert inner.outline.area > 0
    assert isinstance(inner.outline, Outline)
    assert inner.outline.distance(pivot) <= ear + 1e-6 or rail.room(pivot) < 0


def test_defaults_pass_every_rule():
    where = shop(rails={"r": STRAIGHT}, joints={"j": JOINT})
    for plate in mount(pivot=(0, -60), rear=None, front=None, weld_leg=None).plates(where):
        for rule in PLATE_RULES.values():
            assert all(f.status is Status.PASS for f in rule(plate, where))
