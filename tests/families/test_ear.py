"""Several ears and adjustment holes on one plate, and bodies that follow measured rails."""

from itertools import pairwise
from math import degrees, dist, radians, tan

import pytest
from helpers import shop
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.families.link_mount import LinkMount
from partgen.fields import Reading
from partgen.geometry.crossing import turn_at
from partgen.geometry.rounding import turns

JOINT = Joint(width=57, body_diameter=64, bolt="M16")
SQUARE = {"ends": "square", "corner": 0}
S_CURVE = {"stations": [(0, 0), (250, 10, 140), (480, 130, 190), (900, 150)]}
KICK_UP = {"stations": [(0, 0), (400, 0, 101.6), (900, 500 * tan(radians(10)))]}
SMOOTH = {
    "stations": [(90 * k, y) for k, y in enumerate([0, 1, -0.4, 3, 12, 26, 44, 60, 71, 78, 80])],
    "through": "smooth",
}
SHARP = {"stations": [(0, 0), (260, 0), (420, -28), (900, -60)]}


def rail(lower=None, **more):
    return Rail.model_validate(
        {"width": 50, "depth": 100, "corner_radius": 8, "lower_edge": lower, **more}
    )


def plates(rail, **changes):
    data = {"name": "front", "family": "link-mount", "rail": "r", "joint": "j",
            "pivot": (410, -60), "plate": "6 mm S355", "rear": 300, "front": 320,
            "weld_leg": 5} | changes  # fmt: skip
    where = shop(rails={"r": rail}, joints={"j": JOINT})
    part = LinkMount.model_validate(data, context=Reading("mm"))
    return part.finished(where), part.as_mount(where)


def along(outline, keep, count=200):
    """Points spread over those segments of an outline that ``keep`` picks."""
    chosen = [s for s in outline.segments if keep(s)]
    per = count // len(chosen) + 1
    return [s.at((k + 0.5) / per) for s in chosen for k in range(per)]


@pytest.mark.parametrize("lower", [S_CURVE, KICK_UP, SMOOTH, SHARP, None],
                         ids=["s-curve", "kick-up", "smooth", "sharp kicks", "straight"])  # fmt: skip
def test_the_bodys_edges_keep_the_shelf(lower):
    """200 points of each long edge: 13 mm above the true rail, and 13 below its top; to 0.025 mm."""
    measured = rail(lower)
    ear = 24
    (inner, _), _ = plates(measured, pivot=(410, measured.lower.height(410) - 60), **SQUARE)
    true = measured.lower.run_on(200)
    near = along(
        inner.outline,
        lambda s: all(abs(true.distance(s.at(k)) - 13) < 1 for k in (0.1, 0.5, 0.9)),
    )
    assert len(near) >= 200
    assert all(abs(true.distance(p) - 13) < 0.025 for p in near)
    spread = max(p[0] for p in near) - min(p[0] for p in near)
    assert spread > 500
    top = measured.upper.run_on(200)
    far = along(
        inner.outline, lambda s: all(abs(true.distance(s.at(k)) - 87) < 1 for k in (0.1, 0.5, 0.9))
    )
    assert max(p[0] for p in far) - min(p[0] for p in far) > 500
    assert all(abs(true.distance(p) - 87) < 0.025 for p in far)
    if lower is not SHARP:
        assert all(abs(top.distance(p) - 13) < 0.025 for p in far)
    assert all(p[1] > measured.lower.height(p[0]) for p in near)
    assert inner.outline.distance((410, measured.lower.height(410) - 60)) == pytest.approx(ear)


def test_tangent_within_a_hundredth_of_a_degree():
    (inner, _), _ = plates(rail(S_CURVE), pivot=(410, 20), **SQUARE)
    sharp = [t for t in turns(inner.outline) if abs(t) > 0.01]
    assert len(sharp) == 4  # the four ends
    assert all(t > 60 for t in sharp)


def test_upper_edge_measured_too():
    """The rail tapers from 100 to 80 mm: the plate's top keeps 13 mm below the measured edge."""
    tapered = rail([(0, 0), (900, 0)], upper_edge=[(0, 100), (900, 80)])
    (inner, _), _ = plates(tapered, **SQUARE)
    top = max(inner.outline.segments, key=lambda s: s.y0 + s.y1)
    assert all(abs(tapered.upper.distance(top.at(k / 200)) - 13) < 0.025 for k in range(201))
    with pytest.raises(GeometryError, match="above the rail's measured upper edge"):
        plates(tapered, height=84, **SQUARE)


def test_adjustment_holes_share_an_ear_with_full_metal():
    adjust = [(410, -95), (440, -80)]
    (inner, outer), made = plates(rail(), adjust=adjust)
    assert [h.name for h in inner.holes] == ["joint", "joint-adjust-1", "joint-adjust-2"]
    assert inner.holes == outer.holes
    for hole in [(410, -60), *adjust]:
        assert inner.outline.distance(hole) >= 24 - 1e-9
    for hole in adjust:
        assert inner.outline.distance(hole) == pytest.approx(24)
    assert made.room == 60
    assert made.joints == 1
    sides = [t for t in turns(inner.outline) if abs(t) > 1e-6]
    assert sides == []


def test_two_ears_apart_and_together():
    apart = {"pivot": (620, -80), "ear_radius": 30, "name": "upper"}
    (inner, _), made = plates(rail(), ears=[apart])
    assert [h.name for h in inner.holes] == ["joint", "upper"]
    assert inner.outline.distance((620, -80)) == pytest.approx(30)
    assert inner.outline.distance((410, -60)) == pytest.approx(24)
    assert inner.outline.distance((508, 13)) == pytest.approx(0, abs=1e-9)  # body edge between them
    assert made.pieces == 4
    (close, _), _ = plates(rail(), ears=[{**apart, "pivot": (450, -80)}])
    assert close.outline.distance((430, 13)) > 10  # one root for both
    assert close.outline.distance((450, -80)) == pytest.approx(30)
    assert close.outline.distance((410, -60)) >= 24 - 1e-9


def test_an_ear_within_the_body_adds_nothing():
    (inner, _), _ = plates(rail(), ears=[{"pivot": (500, 50)}])
    (plain, _), _ = plates(rail())
    assert inner.outline == plain.outline
    assert len(inner.holes) == len(plain.holes) + 1


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"ears": [{"pivot": (715, -60)}]}, "wider than the body's lower edge"),
        ({"ears": [{"pivot": (411, -61)}]}, "meet; move one of them"),
        ({"pivot": (410, -60), "root": 3, "ear_radius": 80}, "larger root"),
        ({"rear": 40, "front": 40}, "too short for its slanted ends|wider than"),
    ],
)
def test_ears_that_cannot_be_say_why(changes, words):
    with pytest.raises(GeometryError, match=words):
        plates(rail(), **changes)


@settings(max_examples=80)
@given(
    heights=st.lists(st.floats(-60, 60), min_size=4, max_size=9),
    radius=st.floats(0, 150),
    through=st.sampled_from(["straight", "smooth"]),
    drop=st.floats(-40, 140),
    shelf=st.floats(0, 30),
    ends=st.sampled_from(["square", "taper", "spear"]),
)
def test_a_random_rail_gives_a_sound_plate_or_names_the_place(
    heights, radius, through, drop, shelf, ends
):
    stations = [(90 * k, y, radius * (0 < k < len(heights) - 1) * (through == "straight"))
                for k, y in enumerate(heights)]  # fmt: skip
    middle = stations[-1][0] / 2
    try:
        measured = rail({"stations": stations, "through": through})
        (inner, outer), _ = plates(
            measured, pivot=(middle, measured.lower.height(middle) - drop), rear=middle - 20,
            front=middle - 10, shelf=shelf, ends=ends, height=60,
        )  # fmt: skip
    except (GeometryError, ValueError) as error:
        problem = str(error)
    else:
        assert inner.outline.polygon("inside", 0.001).is_valid
        assert inner.outline == outer.outline
        assert min(turns(inner.outline)) > -2.01
        low = measured.lower.run_on(300)
        for s in inner.outline.segments:
            off_ear = abs(s.x0 - middle) > 70 + (drop + shelf) / 2
            if off_ear:
                assert s.y0 > measured.lower.height(s.x0) - 0.03
                assert low.distance(s.start) > shelf - 0.03
        return
    assert any(w in problem for w in ("station", "mm"))


def test_a_sharp_inside_kick_without_a_shelf_is_blended():
    """Shelf 0: the kick down by 9.9 degrees at x = 260 has the blend's radius, tangent to both."""
    data = {"name": "a", "family": "link-mount", "rail": "r", "joint": "j", "pivot": (410, 40),
            "plate": "6 mm S355", "rear": 300, "front": 320, "shelf": 0, "height": 80}  # fmt: skip
    where = shop(rails={"r": rail(SHARP)}, joints={"j": JOINT})
    inner, _ = LinkMount.model_validate(data, context=Reading("mm")).plates(where)
    near = [s for s in inner.outline.segments if s.bulge < 0 and dist(s.at(0.5), (260, 0)) < 1]
    assert [s.radius for s in near] == pytest.approx([10])


def test_segments_meet_end_to_end():
    (inner, _), _ = plates(rail(S_CURVE), pivot=(410, 20))
    s = inner.outline.segments
    assert all(dist(a.end, b.start) < 1e-9 for a, b in pairwise([*s, s[0]]))
    assert abs(degrees(turn_at(s[0], s[1]))) < 90
