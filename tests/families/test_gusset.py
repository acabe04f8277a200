"""Gussets: areas and edges by hand."""

import pytest
from helpers import shop, sound_or_named
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from partgen.errors import GeometryError
from partgen.families.gusset import Gusset
from partgen.fields import Reading
from partgen.plates.plate import hands_of


def gusset(**changes):
    data = {"name": "g", "family": "gusset", "plate": "6 mm S355", "height": 70} | changes
    return Gusset.model_validate(data, context=Reading("mm"))


def outline(**changes):
    (plate,) = gusset(**changes).plates(shop())
    return plate.outline


def test_triangle_area():
    """Legs 90 and 70, snipe 15, toes 8: two trapezoids' worth less the snipe."""
    shape = outline(width=90, corner=0)
    whole = 8 * 70 + (90 - 8) * (70 + 8) / 2
    assert shape.area == pytest.approx(whole - 15 * 15 / 2)
    assert shape.box == pytest.approx((0, 0, 90, 70))


def test_trapezoid_is_sniped_at_both_welded_corners():
    shape = outline(
        shape="trapezoid", width=58, height=60, far_height=44, snipe=14, toe=6, corner=0
    )
    whole = 6 * 60 + (58 - 6) * (60 + 44) / 2
    assert shape.area == pytest.approx(whole - 14 * 14)
    ends = {(round(v.x, 6), round(v.y, 6)) for v in shape.vertices}
    assert {(14, 0), (44, 0), (58, 14), (0, 14), (58, 44), (6, 60), (0, 60)} == ends


def test_no_snipe_leaves_the_corner():
    shape = outline(width=90, snipe=0, corner=0)
    assert any((v.x, v.y) == (0, 0) for v in shape.vertices)


def test_blunt_toes_are_square_to_the_welded_edges():
    shape = outline(width=90, corner=0, toe=9)
    assert {(90.0, 0.0), (90.0, 9.0), (9.0, 70.0), (0.0, 70.0)} <= {
        (v.x, v.y) for v in shape.vertices
    }


def test_lightening_hole_sits_at_the_centre_of_area():
    (plate,) = gusset(width=90, lightening=18).plates(shop())
    x, y, diameter = plate.windows[0].outline.circle_of
    assert (x, y) == pytest.approx(plate.outline.centroid)
    assert diameter == 18


def test_equal_legs_are_the_same_both_ways_unequal_ones_are_not():
    (even,) = gusset(width=70).plates(shop())
    (odd,) = gusset(width=90).plates(shop())
    assert [(p.hand, p.count) for p in hands_of(even, "both")] == [("same", 2)]
    assert [p.hand for p in hands_of(odd, "both")] == ["left", "right"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"width": 90, "far_height": 40}, "belongs to shape 'trapezoid'"),
        ({"width": 90, "shape": "trapezoid"}, "belongs to shape 'trapezoid'"),
        ({}, "either 'width' or 'mount'"),
    ],
)
def test_mistakes(changes, words):
    with pytest.raises(ValidationError, match=words):
        gusset(**changes)


@pytest.mark.parametrize(
    ("changes", "name"), [({"width": 25}, "width"), ({"width": 90, "height": 25}, "height")]
)
def test_too_small_for_its_snipe_says_so(changes, name):
    with pytest.raises(GeometryError, match=f"{name} = 25 mm: snipe and toes"):
        outline(**changes)


@given(
    width=st.floats(20, 400),
    height=st.floats(20, 400),
    far=st.none() | st.floats(20, 400),
    snipe=st.floats(0, 60),
    toe=st.floats(1, 40),
    corner=st.floats(0, 30),
)
def test_any_gusset_is_a_sound_plate_or_a_named_error(width, height, far, snipe, toe, corner):
    shape = "triangle" if far is None else "trapezoid"
    found = sound_or_named(
        lambda: outline(
            shape=shape,
            width=width,
            height=height,
            far_height=far,
            snipe=snipe,
            toe=toe,
            corner=corner,
        )
    )
    if found is None:
        return
    assert found.polygon("inside").is_valid
    assert found.box == pytest.approx((0, 0, width, max(height, far or 0)), abs=1e-6)


def test_soft_end_runs_out_along_the_rail_2_to_1_or_gentler():
    """The curve ends parallel to the base, 1 mm from the toe, and rises less than half its run."""
    shape = outline(width=140, height=80, toe=6, soft="base", soft_radius=50)
    (arc,) = [s for s in shape.segments if s.bulge < 0]
    assert arc.radius == pytest.approx(50)
    assert arc.direction(0) == pytest.approx((-1, 0))
    assert arc.start == pytest.approx((139, 6))
    run, rise = arc.start[0] - arc.end[0], arc.end[1] - arc.start[1]
    assert 0 < rise <= run / 2


def test_soft_at_both_ends():
    shape = outline(width=120, height=110, toe=6, soft="both", soft_radius=30)
    first, second = [s for s in shape.segments if s.bulge < 0]
    assert first.direction(0) == pytest.approx((-1, 0))
    assert second.direction(1) == pytest.approx((0, 1))
    assert shape.area < outline(width=120, height=110, toe=6).area


def test_too_steep_for_a_soft_end_says_so():
    with pytest.raises(GeometryError, match=r"a soft end turns through \d+ degrees; 53 at most"):
        outline(width=60, height=120, soft="base")


def test_soft_is_for_triangles():
    with pytest.raises(ValidationError, match="'soft' belongs to shape 'triangle'"):
        gusset(width=90, shape="trapezoid", far_height=40, soft="base")
