"""Leaning ears: flat pattern against the face in space, parallel ears, coaxial holes."""

from math import acos, cos, degrees, radians, sin, sqrt, tan

import numpy as np
import pytest
import shapely
from helpers import shop
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.families.gusset import Gusset
from partgen.families.leaning import width_between
from partgen.families.link_mount import LinkMount
from partgen.fields import Reading
from partgen.job.assembly import Assembly, off_axis
from partgen.plates.fold import Fold
from partgen.plates.plate import hands_of

RAIL = Rail(width=52, depth=100, corner_radius=8, lower_edge=((0, 0), (260, 5), (700, -60)))
JOINT = Joint(width=57, body_diameter=64, bolt="M16")


def leaning(angle=14.0, **changes):
    data = {"name": "m", "family": "link-mount", "rail": "r", "joint": "j", "pivot": (310, -85),
            "plate": "6 mm S355", "rear": 160, "front": 180, "ear_angle": angle} | changes  # fmt: skip
    part = LinkMount.model_validate(data, context=Reading("mm"))
    where = shop(rails={"r": RAIL}, joints={"j": JOINT})
    where = shop(rails={"r": RAIL}, joints={"j": JOINT}, mounts={"m": part.as_mount(where)})
    return part, where


def solids(angle=14.0, **changes):
    part, where = leaning(angle, **changes)
    return Assembly("m", "left", tuple(part.solids(where)))


def test_flat_distance_by_hand():
    """t 6, R 12, 20 degrees, plate 32 mm out: BA = .349 (12 + .5 x 6) = 5.236; then the sum."""
    fold = Fold(start=(0, 0), down=(0, -1), angle=20, radius=12, thickness=6)
    assert fold.flat_length == pytest.approx(radians(20) * (12 + 0.5 * 6))
    _, y = fold.flat((0, -80), 32)
    beyond = (80 - 15 * sin(radians(20))) / cos(radians(20)) - 32 * sin(radians(20))
    assert -y == pytest.approx(5.23599 + beyond, abs=1e-4)
    other = Fold(start=(0, 0), down=(0, -1), angle=-20, radius=12, thickness=6)
    assert other.flat((0, -80), -32) == pytest.approx((0, y))


@pytest.mark.parametrize("angle", [14, -9, 30])
def test_bolt_holes_are_coaxial_and_ears_parallel(angle):
    """Centres within 0.01 mm of one axis, axes within 0.01 degree."""
    assembly = solids(angle, adjust=[(314, -112)])
    assert set(assembly.bolt_axes()) == {"joint", "joint-adjust-1"}
    for name, ((_, first), (_, second)) in assembly.bolt_axes().items():
        assert off_axis(assembly, name) < 0.01
        assert degrees(acos(min(1, np.dot(first, second)))) < 0.01
        assert degrees(acos(min(1, abs(first[1])))) == pytest.approx(abs(angle))


def test_the_joints_centre_is_seen_at_the_pivot_asked_for():
    assembly = solids(14)
    (a, way), (b, _) = assembly.bolt_axes()["joint"]
    middle = [(p + q) / 2 for p, q in zip(a, b, strict=True)]
    depth = (85 + 5 - 50 * 65 / 440) * cos(np.arctan(65 / 440))
    lean = 15 * (1 - cos(radians(14))) + (depth - 15 * sin(radians(14))) * tan(radians(14))
    assert middle[1] == pytest.approx(lean, abs=1e-3)  # the lean carries it outward
    assert (middle[0], middle[2]) == pytest.approx((310, -85), abs=1e-6)
    assert way[1] < 0


def test_room_between_the_ears_is_the_joint_and_its_clearance():
    assembly = solids(14)
    (a, _), (b, _) = assembly.bolt_axes()["joint"]
    _, where = leaning(14)
    gap = where.mount("m").fit.gap
    apart = sqrt(sum((p - q) ** 2 for p, q in zip(a, b, strict=True)))
    assert apart - 6 == pytest.approx((gap + 6) * cos(radians(14)) - 6)
    assert apart - 6 >= 57 + JOINT.side_clearance - 1e-9
    assert width_between(57, 6, 6, 0) == 57


@pytest.mark.parametrize("angle", [14, -20, 35])
def test_flat_area_is_the_area_of_the_face_in_space(angle):
    """Within 0.1 %: small pieces of the flat outline, each carried into space on the middle layer."""
    for solid in solids(angle).solids[1:]:
        outline = solid.outlines[-1]
        flat = outline.polygon("inside", 0.005)
        cells = [
            shapely.box(x, y, x + 5, y + 5) for x in range(120, 520, 5) for y in range(-200, 110, 5)
        ]
        pieces = shapely.get_parts(shapely.intersection(flat, cells))
        total = sum(_area_in_space(piece, solid) for piece in pieces if piece.area > 0)
        assert sum(p.area for p in pieces) == pytest.approx(outline.area, rel=1e-4)
        assert total == pytest.approx(outline.area, rel=1e-3)


def _area_in_space(piece, solid):
    """Area of a small piece in space: its ring carried over and closed by a fan."""
    corners = [solid.frame.at(p, solid.depth / 2) for p in list(piece.exterior.coords)[:-1]]
    points = np.array(corners)
    first = points[0]
    crosses = np.cross(points[1:-1] - first, points[2:] - first)
    return float(np.linalg.norm(crosses.sum(axis=0)) / 2)


def test_bend_is_marked_across_the_ear():
    part, where = leaning(14)
    for plate in part.plates(where):
        (mark,) = plate.marks
        assert (mark.kind, mark.radius, mark.angle) == ("bend", 12, -14)
        assert all(plate.outline.distance(p) < 1e-6 for p in mark.path)
        (ax, ay), (bx, by) = mark.path
        slope = -65 / 440
        assert (by - ay) / (bx - ax) == pytest.approx(slope)
        assert not hands_of(plate, "left")[0].is_symmetric


def test_ears_differ_because_the_axis_leans():
    inner, outer = leaning(14)[0].plates(leaning(14)[1])
    gap = leaning(14)[1].mount("m").fit.gap
    drop = inner.holes[0].y - outer.holes[0].y
    along = cos(np.arctan(65 / 440))
    assert -drop == pytest.approx((gap + 6) * sin(radians(14)) * along, rel=1e-6)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"pivot": (310, -30)}, r"of flat between hole and bend; it needs its radius, 24 mm"),
        ({"pivot": (310, 5)}, r"within the bend; move it down"),
    ],
)
def test_too_near_the_bend_says_why(changes, words):
    part, where = leaning(14)
    part = part.model_copy(update=changes)
    with pytest.raises(GeometryError, match=words):
        part.plates(where)


def test_a_soft_web_between_leaning_ears_is_refused():
    _, where = leaning(14)
    web = Gusset.model_validate(
        {"name": "w", "family": "gusset", "mount": "m", "plate": "6 mm S355", "height": 60,
         "soft": "base"},
        context=Reading("mm"),
    )  # fmt: skip
    with pytest.raises(GeometryError, match=r"ears of 'm' lean: .* leave out 'soft'"):
        web.plates(where)


@settings(max_examples=60)
@given(st.floats(-45, 45), st.floats(-180, -60), st.floats(2, 40), st.floats(0, 25))
def test_any_lean_is_a_sound_plate_or_a_named_error(angle, y, radius, drop):
    try:
        part, where = leaning(angle, pivot=(310, y), bend_radius=radius, bend_drop=drop)
        plates = part.finished(where)
    except GeometryError as error:
        problem = str(error)
    else:
        for plate in plates:
            assert plate.outline.polygon("inside").is_valid
            assert plate.outline.distance((plate.holes[0].x, plate.holes[0].y)) > 23.999
        if abs(angle) > 1e-3:
            assert off_axis(Assembly("m", "left", tuple(part.solids(where))), "joint") < 0.01
        return
    assert "mm" in problem


def test_half_turn_is_out_of_range():
    with pytest.raises(ValueError, match="less than or equal to 45"):
        leaning(60)
