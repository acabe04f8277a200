"""Bridge: put together with its ears in the plane of each ear, the right way and every wrong way."""

from dataclasses import replace

import pytest
import shapely
from helpers import part, shop
from shapely import affinity

from partgen.entries.joint import Joint
from partgen.errors import GeometryError

JOINT = Joint(width=57, body_diameter=64, bolt="M16", side_clearance=1)
SHOP = shop(joints={"j": JOINT})
CLEVIS = part("clevis", joint="j", height=120, base=150, foot=60, plate="8 mm S355")
WHERE = replace(SHOP, mounts={"ears": replace(CLEVIS.as_mount(SHOP), name="ears")})
THICKNESS = 6.25  # as measured


def bridge(**changes):
    data = {"mount": "ears", "at": (7, 30), "length": 116, "plate": "6 mm S355",
            "measured": THICKNESS} | changes  # fmt: skip
    return part("bridge", **data)


def sections(plate, side):
    """What of the bridge lies in an ear's plane: cut the drawn plate 1 mm beyond the gap."""
    y = side * (58 / 2 + 1)
    cut = plate.polygon("outside").intersection(shapely.LineString([(-500, y), (500, y)]))
    spans = sorted(g.bounds for g in getattr(cut, "geoms", [cut]))
    return [shapely.box(b[0], -THICKNESS / 2, b[2], THICKNESS / 2) for b in spans]


def in_ear(shapes, angle=0.0, at=(7, 30), push=0.0):
    turned = [affinity.translate(s, push, 0) for s in shapes]
    turned = [affinity.rotate(s, angle, origin=(0, 0)) for s in turned]
    return [affinity.translate(s, *at) for s in turned]


def ears(part_, angle=0.0):
    """The metal of the inner and the outer ear, slots cut."""
    cuts = part_.cuts(WHERE)
    plates = CLEVIS.plates(SHOP)
    return [p.with_windows(cuts[f"ears/{p.name}"]).polygon("outside") for p in plates]


def overlap(metal, shapes):
    return sum(metal.intersection(s).area for s in shapes)


@pytest.mark.parametrize("angle", [0, 24])
@pytest.mark.parametrize("push", [-0.75, 0, 0.75])
def test_it_goes_together_within_its_play(angle, push):
    part_ = bridge(angle=angle)
    (plate,) = part_.plates(WHERE)
    for side, metal in zip((-1, 1), ears(part_), strict=True):
        assert overlap(metal, in_ear(sections(plate, side), angle, push=push)) < 1e-6


@pytest.mark.parametrize("push", range(-60, 61, 4))
def test_mirrored_or_turned_it_collides(push):
    part_ = bridge()
    (plate,) = part_.plates(WHERE)
    inner, outer = ears(part_)
    at_in, at_out = sections(plate, -1), sections(plate, 1)
    back_in, back_out = (
        [affinity.scale(s, -1, 1, origin=(0, 0)) for s in x] for x in (at_in, at_out)
    )
    for first, second in ((at_out, at_in), (back_in, back_out), (back_out, back_in)):
        got = overlap(inner, in_ear(first, push=push)) + overlap(outer, in_ear(second, push=push))
        assert got > 5


def test_size_shoulders_and_tabs():
    """Gap 57 + 1; tabs as long as the 8 mm ears; proud adds to both sides."""
    (plate,) = bridge().plates(WHERE)
    assert plate.outline.box == pytest.approx((-58, -29 - 8, 58, 29 + 8))
    (plate,) = bridge(proud=3).plates(WHERE)
    assert plate.outline.box == pytest.approx((-58, -29 - 11, 58, 29 + 11))


def test_slots_by_the_rule():
    """Thickness 6.25 + 2 x 0.5; tab 14 + 2 x 0.5 + two corners of 2."""
    cuts = bridge(cut_tolerance=0.5, tab=14).cuts(WHERE)
    for windows in cuts.values():
        for window in windows:
            x0, y0, x1, y1 = window.outline.box
            assert (x1 - x0, y1 - y0) == pytest.approx((14 + 1 + 4, 7.25))
    assert set(cuts) == {"ears/inner", "ears/outer"}


def test_relief_beside_every_tab():
    (plate,) = bridge(relief=2).plates(WHERE)
    notches = [s for s in plate.outline.segments if s.bulge < 0]
    assert sum(s.length for s in notches) == pytest.approx(8 * 3.141592653589793 * 2)
    assert {round(s.radius, 9) for s in notches} == {2}


def test_too_short_says_what_it_takes():
    with pytest.raises(GeometryError, match="length = 60 mm is too short for tabs"):
        bridge(length=60).plates(WHERE)


def test_no_such_mount():
    with pytest.raises(GeometryError, match="no such mount; did you mean 'ears'"):
        bridge(mount="ear").plates(WHERE)


@pytest.mark.parametrize(("length", "goes"), [(43.7, False), (43.8, True)])
def test_loose_slots_need_tabs_further_apart(length, goes):
    """Cut tolerance 3 mm, small tabs and webs: (2 x 3 + 1) / 0.16 = 43.75 mm at least."""
    cutting = WHERE.cutting.model_copy(update={"least_web": 0.5, "web_per_thickness": 0.1})
    fine = bridge(length=length, cut_tolerance=3, tab=1.2, relief=0.2, slot_radius=0.2)
    if goes:
        assert fine.plates(replace(WHERE, cutting=cutting))
    else:
        with pytest.raises(GeometryError, match=r"43\.8 mm"):
            fine.plates(replace(WHERE, cutting=cutting))
