"""Features on any part: what they cut, by hand sums, and what they refuse."""

from math import acos, pi

import pytest
from helpers import plate, shop
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.families import FAMILIES
from partgen.fields import Reading
from partgen.geometry.outline import Outline
from partgen.geometry.rounding import turns
from partgen.plates.features import Features, without_sharp_corners
from partgen.plates.plate import hands_of

BOARD = plate([(0, 0), (200, 0), (200, 90), (0, 90)])


def cut(**features):
    found = Features.model_validate(features, context=Reading("mm"))
    return found.on([BOARD])[0]


def gone(made):
    return BOARD.area - made.area


def test_slots_drains_and_openings_are_exact_and_named():
    made = cut(
        slots=[{"at": (30, 40), "size": (40, 12), "angle": 90}],
        drains=[{"at": (70, 20)}],
        openings=[
            {"at": (110, 45), "size": (50, 30)},
            {"at": (165, 45), "shape": "round", "diameter": 24, "name": "shaft"},
            {"at": (165, 75), "shape": "obround", "size": (30, 12)},
            {"at": (70, 60), "shape": "rounded", "size": (20, 16), "radius": 4},
        ],
    )
    names = [w.name for w in made.windows]
    assert names == ["slot-1", "drain-1", "opening-1", "shaft", "opening-3", "opening-4"]
    slot, drain, oval, shaft, obround, rounded = (w.outline for w in made.windows)
    assert slot.box == pytest.approx((24, 20, 36, 60))
    assert drain.area == pytest.approx(25 * pi, rel=1e-6)
    assert oval.box == pytest.approx((85, 30, 135, 60))
    assert shaft.area == pytest.approx(144 * pi)
    assert obround.area == pytest.approx(36 * pi + 18 * 12)
    assert rounded.area == pytest.approx(320 - (4 - pi) * 16)
    assert all(len(o.segments) in (2, 4, 8) for o in (slot, drain, oval, shaft, obround, rounded))


def test_cutout_breaks_the_edge_with_blended_corners():
    """A 60 x 40 notch, half over the lower edge, off the middle: 60 x 20 less four corners' share.

    Each blend at the mouth takes (1 - pi/4) r2 more, each inner corner leaves it.
    """
    made = cut(cutouts=[{"at": (70, 0), "size": (60, 40), "radius": 9, "blend": 5}])
    spare = 1 - pi / 4
    assert gone(made) == pytest.approx(60 * 20 + 2 * spare * 25 - 2 * spare * 81)
    assert max(abs(t) for t in turns(made.outline) if abs(t) < 80) < 1e-6
    radii = sorted(round(s.radius, 6) for s in made.outline.segments if s.bulge)
    assert radii == [5, 5, 9, 9]
    assert made.outline.distance((70, 20)) == pytest.approx(0, abs=1e-9)


def test_round_cutout_for_a_line():
    """A circle of radius 20, its centre 8 below the edge."""
    made = cut(cutouts=[{"at": (120, -8), "diameter": 40, "blend": 0}])
    assert gone(made) == pytest.approx(400 * acos(0.4) - 8 * (400 - 64) ** 0.5)


def test_free_cutout_is_counted_from_its_place():
    made = cut(
        cutouts=[{"at": (150, 90), "points": [(-30, 10), (-20, -30), (20, -30), (30, 10)],
                  "radius": 6, "blend": 4}]
    )  # fmt: skip
    assert made.outline.box == pytest.approx((0, 0, 200, 90))
    assert 40 * 30 < gone(made) < 60 * 30


def test_snipe_and_notch():
    assert gone(cut(snipes=[{"at": (201, -2), "leg": 12}])) == pytest.approx(72)
    assert gone(cut(snipes=[{"at": (0, 90), "radius": 10}])) == pytest.approx(25 * pi)
    assert gone(cut(notches=[{"at": (33, 88)}])) == pytest.approx(2 * pi)
    made = cut(notches=[{"at": (33, 88), "diameter": 6}])
    assert made.outline.distance((33, 87)) == pytest.approx(0, abs=1e-9)


def test_snipe_finds_a_rounded_corner():
    board = plate([(0, 0), (200, 0), (200, 90), (0, 90)], blend=6)
    features = Features.model_validate({"snipes": [{"at": (200, 0), "leg": 20}]})
    made = features.on([board])[0]
    assert BOARD.area - made.area == pytest.approx(200 + 3 * (1 - pi / 4) * 36)


def test_only_the_plates_named_get_it():
    mount = {"name": "m", "family": "link-mount", "rail": "r", "joint": "j", "pivot": (0, -68),
             "plate": "6 mm S355", "rear": 150, "front": 190,
             "features": {"cutouts": [{"at": (90, 90), "size": (60, 50), "plates": ["outer"]}]}}  # fmt: skip
    inner, outer = built(mount)
    assert len(inner.outline.segments) < len(outer.outline.segments)
    assert inner.area > outer.area
    left, right = hands_of(outer, "both")
    assert right.mirrored().outline == left.outline
    mount["features"]["cutouts"][0]["plates"] = ["outher"]
    with pytest.raises(GeometryError, match=r"cutout-1: plates = 'outher'.*did you mean 'outer'"):
        built(mount)


def built(part):
    from partgen.entries.joint import Joint
    from partgen.entries.rail import Rail

    where = shop(
        rails={"r": Rail(width=50, depth=100, corner_radius=8)},
        joints={"j": Joint(width=57, body_diameter=64, bolt="M16")},
    )
    return FAMILIES[part["family"]].model_validate(part, context=Reading("mm")).finished(where)


SMALLEST = {
    "gusset": {"plate": "6 mm S355", "width": 120, "height": 120},
    "spacer": {"plate": "6 mm S355", "size": (120, 100)},
    "link-mount": {"rail": "r", "joint": "j", "pivot": (0, -68), "plate": "6 mm S355"},
}


@pytest.mark.parametrize("family", SMALLEST)
def test_every_family_takes_them(family):
    at = (0, 50) if family == "link-mount" else (35, 35) if family == "gusset" else (0, 0)
    part = {"name": "a", "family": family, **SMALLEST[family]}
    plain = built(part)
    made = built({**part, "features": {"drains": [{"at": at, "diameter": 9}]}})
    for a, b in zip(plain, made, strict=True):
        assert a.area - b.area == pytest.approx(20.25 * pi)


@pytest.mark.parametrize(
    ("features", "words"),
    [
        ({"cutouts": [{"at": (100, 45), "size": (30, 30)}]}, "does not break the edge"),
        ({"cutouts": [{"at": (100, 300), "size": (30, 30)}]}, "does not break the edge"),
        ({"cutouts": [{"at": (100, 45), "size": (30, 130)}]}, "leaves 2 pieces"),
        ({"cutouts": [{"at": (70, 0), "size": (60, 40), "blend": 120}]}, "too short for the radii"),
        ({"snipes": [{"at": (100, 45), "leg": 9}]}, "no outside corner within 25 mm"),
        ({"snipes": [{"at": (0, 0), "leg": 95}]}, "does not fit on its edges"),
        ({"notches": [{"at": (100, 45)}]}, "no edge within 25 mm"),
        ({"notches": [{"at": (0, 1), "diameter": 900}]}, "does not fit there"),
        ({"openings": [{"at": (100, 45), "size": (30, 30)}]}, "longer than wide"),
        ({"drains": [{"at": (2, 2)}]}, "is not inside the plate"),
    ],
)
def test_what_does_not_fit_says_why(features, words):
    with pytest.raises(GeometryError, match=words) as error:
        cut(**features)
    assert error.value.problems[0].startswith("test/plate: ")


@pytest.mark.parametrize(
    ("features", "words"),
    [
        ({"openings": [{"at": (1, 1), "shape": "round", "size": (3, 2)}]}, "takes 'diameter'"),
        ({"cutouts": [{"at": (1, 1)}]}, "give one of 'size', 'diameter' or 'points'"),
        ({"snipes": [{"at": (1, 1)}]}, "give either 'leg' or 'radius'"),
    ],
)
def test_what_cannot_be_read_says_why(features, words):
    with pytest.raises(ValueError, match=words):
        Features.model_validate(features)


def test_sharp_inside_corners_are_rounded_outside_ones_are_not():
    ell = plate(
        [(0, 0), (90, 0), (90, 40), (35, 40), (35, 100), (0, 100)],
        windows=[("w", Outline.of(_corners(10, 10, 30, 30)))],
    )
    spare = (1 - pi / 4) * 9
    made = without_sharp_corners(ell, 3)
    assert made.outline.area - ell.outline.area == pytest.approx(spare)
    assert ell.windows[0].outline.area - made.windows[0].outline.area == pytest.approx(4 * spare)
    assert without_sharp_corners(made, 3) is made
    with pytest.raises(GeometryError, match=r"sharp inside corner: .* sharp = true"):
        without_sharp_corners(ell, 12)


def _corners(x0, y0, x1, y1):
    from partgen.geometry.outline import Vertex

    return [Vertex(x0, y0), Vertex(x1, y0), Vertex(x1, y1), Vertex(x0, y1)]


def test_a_family_leaves_them_sharp_only_if_asked():
    part = {"name": "m", **SMALLEST["link-mount"], "family": "link-mount",
            "windows": [{"at": (0, 50), "size": (30, 20), "radius": 0}]}  # fmt: skip
    rounded, sharp = built(part)[0], built({**part, "sharp": True})[0]
    assert rounded.area - sharp.area == pytest.approx((4 - pi) * 9)
    assert [s.radius for s in rounded.windows[0].outline.segments if s.bulge] == pytest.approx(
        [3] * 4
    )


@given(
    at=st.tuples(st.floats(-10, 210), st.floats(-15, 105)),
    size=st.tuples(st.floats(10, 90), st.floats(10, 90)),
    radius=st.floats(0, 12),
    angle=st.floats(0, 90),
    blend=st.floats(0, 12),
)
def test_any_cutout_is_a_sound_plate_without_sharp_inside_corners_or_a_named_error(
    at, size, radius, angle, blend
):
    try:
        made = without_sharp_corners(
            cut(
                cutouts=[{"at": at, "size": size, "radius": radius, "angle": angle, "blend": blend}]
            ),
            3,
        )
    except GeometryError as error:
        problem = str(error)
    else:
        assert made.outline.polygon("inside").is_valid
        assert min(turns(made.outline)) > -2.01
        assert made.area < BOARD.area + 20
        return
    assert problem.startswith("test/plate: ")
