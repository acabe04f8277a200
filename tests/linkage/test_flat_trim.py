"""Plates parallel to the swing cut back: shape and clearance against polygons swept by shapely."""

from math import cos, radians, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from linkage_makers import arm_job, build_text, findings
from shapely import affinity

from partgen.errors import PartgenError
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.geometry.trim import joined
from partgen.linkage.swept import swept
from partgen.rules.finding import Status

# A boxing plate of 300 x 90 beside the middle of the gap, 20 mm behind the pivot and above it; its
# drawing's zero is at its middle.
PLATE = """
[[part]]
name = "boxing"
family = "plate"
plate = "6 mm S355"
hands = "left"
points = [[-150, -45], [150, -45], [150, 45], [-150, 45]]
{features}
"""
THING = """
[[linkage.obstacle]]
part = "boxing"
mount = "mount"
flat = [{x}, {y}]
turned = {turned}
aside = {aside}
{trim}
"""


def boxed(trim='trim = "outline"', x=130, y=-75, turned=0, aside=0, features="", **told):
    thing = THING.format(x=x, y=y, turned=turned, aside=aside, trim=trim)
    return arm_job(parts=PLATE.format(features=features), more=thing, **told)


def plate(built):
    (found,) = [p for p in built.plates if p.part == "boxing"]
    return found


def metal(found):
    edge = found.outline.polygon("inside", 1e-4)
    return edge.difference(shapely.union_all([w.outline.polygon("inside", 1e-4)
                                              for w in found.windows]))  # fmt: skip


def bar(inner, outer, half, body, angle):
    """A bar at one angle, by shapely alone."""
    shape = shapely.box(max(inner, 0.0), -half, outer, half)
    if inner <= 0:
        shape = shape.union(shapely.Point(0, 0).buffer(max(body, half), quad_segs=48))
    return affinity.rotate(shape, angle, origin=(0, 0))


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from([0.0, 40.0, 75.0]), st.floats(150, 400), st.floats(8, 30), st.floats(10, 45),
    st.floats(-170, 170), st.floats(25, 90),
)  # fmt: skip
def test_what_a_bar_covers_is_what_it_covers_at_many_angles(inner, outer, half, body, first, span):
    exact = swept(inner, outer, half, body, (first, first + span))
    angles = np.linspace(first, first + span, 91)
    union = shapely.union_all([bar(inner, outer, half, body, a) for a in angles])
    view = exact.polygon("outside", 1e-3)
    assert view.buffer(0.05).covers(union)
    assert view.area - union.area < 0.012 * view.area


def test_swept_outline_is_lines_and_arcs_of_the_bar():
    """Bar from 50 to 200, 10 to each side, 0 to 90 degrees: arcs of 50 and of hypot(200, 10)."""
    found = swept(50, 200, 10, 0, (0, 90))
    radii = {round(s.radius, 6) for s in found.segments if s.bulge}
    assert radii == {50.0, round((200**2 + 10**2) ** 0.5, 6)}
    lines = sorted(round(s.length, 6) for s in found.segments if not s.bulge)
    assert lines == [10, 10, 150, 150]
    union = shapely.union_all([bar(50, 200, 10, 0, a) for a in np.linspace(0, 90, 3601)])
    assert found.area == pytest.approx(union.area, rel=1e-4)


def test_two_outlines_joined_against_shapely():
    a, b = rectangle(60, 40, 8, (0, 0)), Outline.circle(25, 18, 30)
    union = a.polygon("inside", 1e-5).union(b.polygon("inside", 1e-5))
    assert joined(a, b).area == pytest.approx(union.area, abs=1e-2)
    assert joined(b, a).area == pytest.approx(union.area, abs=1e-2)


def test_two_outlines_with_a_shared_edge_are_joined():
    """Two rectangles that overlap and share a stretch of one side: 60 x 40 in all."""
    whole = joined(rectangle(40, 40, 0, (20, 20)), rectangle(40, 40, 0, (40, 20)))
    assert whole.area == pytest.approx(60 * 40)
    assert whole.box == pytest.approx((0, 0, 60, 40))


def test_untrimmed_it_is_in_the_way(tmp_path):
    (finding,) = findings(boxed(trim=""), tmp_path, "swing")
    assert (finding.status, finding.measured) == (Status.FAIL, 0)
    assert "link arm to boxing" in finding.where


@pytest.mark.parametrize("turned", [0, 17])
def test_trimmed_it_keeps_the_clearance_and_no_more(turned, tmp_path):
    text = boxed(turned=turned)
    (finding,) = findings(text, tmp_path, "swing")
    assert finding.status is Status.PASS
    assert 6 - 1e-6 <= finding.measured < 6.3
    left = metal(plate(build_text(text, tmp_path)))
    side = affinity.translate(affinity.rotate(left, turned, origin=(0, 0)), 130, -75)
    swing = build_text(text, tmp_path).shop.linkage.swings[0].range
    for angle in np.linspace(swing.first, swing.last, 120):  # shapely's own arm, as it turns
        tube = affinity.translate(bar(0, 800, 22, 32, angle), 300, -150)
        assert side.distance(tube) > 6 - 1e-3


def test_only_lines_and_arcs_and_round_inside_corners(tmp_path):
    """Beside the gap: the arm comes there only further out, so the cut ends inside the plate."""
    made = plate(build_text(boxed(x=60, aside=52, hub=640), tmp_path))
    segments = made.outline.segments
    assert any(s.bulge < 0 for s in segments)
    for k, s in enumerate(segments):
        (ux, uy), (vx, vy) = segments[k - 1].direction(1), s.direction(0)
        assert ux * vy - uy * vx > -1e-6  # no sharp inside corner


def test_a_window_in_the_way_becomes_one_with_the_cut(tmp_path):
    window = "windows = [{ at = [-60, -12], size = [60, 30], radius = 8 }]"
    made = plate(build_text(boxed(features=window), tmp_path))
    assert made.windows == ()
    (finding,) = findings(boxed(features=window), tmp_path, "swing")
    assert finding.status is Status.PASS


def test_a_window_out_of_the_way_stays(tmp_path):
    window = "windows = [{ at = [-110, 30], size = [40, 14], radius = 5 }]"
    made = plate(build_text(boxed(features=window, y=-20), tmp_path))
    assert [round(w.outline.box[0], 6) for w in made.windows] == [-130]


def test_the_cut_is_a_window_where_the_plate_goes_all_round(tmp_path):
    """A plate far outside the gap that the arm passes: it runs off to the side to get there."""
    text = boxed(x=0, y=-180, aside=70, hub=640).replace("[-150, -45], [150, -45], [150, 45], [-150, 45]",
                                                "[-320, -290], [290, -290], [290, 240], [-320, 240]")  # fmt: skip
    made = plate(build_text(text, tmp_path))
    assert [w.name for w in made.windows] == ["swing"]
    assert all(f.status is Status.PASS for f in findings(text, tmp_path, "swing"))


def test_a_plate_that_the_link_never_is_beside_is_clear(tmp_path):
    (finding,) = findings(boxed(trim="", aside=120), tmp_path, "swing")
    assert "to rail main" in finding.where


def test_a_hole_in_the_way_stops_the_cut(tmp_path):
    hole = 'holes = [{ at = [-60, -20], bolt = "M12" }]'
    with pytest.raises(PartgenError, match="comes over hole"):
        build_text(boxed(features=hole), tmp_path)


def test_a_plate_that_would_fall_in_two_is_refused(tmp_path):
    tall = boxed(x=60, y=-190).replace("-45]", "-140]").replace("45]", "140]")
    with pytest.raises(PartgenError, match="leaves 2 pieces"):
        build_text(tall, tmp_path)


OWN = '[[linkage.obstacle]]\nmount = "mount"\npart = "mount"\ntrim = "outline"\n'


def touches_at(built, lean):
    """Whether a round arm of 44 that leans touches an ear plate, by points of the plates' metal.

    A point of the arm's surface over a point of the metal, s along the arm and v to the side, lies
    s tan(lean) + sqrt(22^2 - v^2) / cos(lean) off the middle.
    """
    swing = built.shop.linkage.swings[0]
    gap = built.mounts[0].fit.gap / 2
    (inner,) = [p for p in built.plates if p.key == "mount/inner" and p.hand != "right"]
    view = inner.outline.polygon("outside", 0.01)
    x0, y0, x1, y1 = view.bounds
    grid = np.stack(np.meshgrid(np.arange(x0, x1, 0.5), np.arange(y0, y1, 0.5)), -1).reshape(-1, 2)
    points = grid[shapely.contains_xy(view, grid[:, 0], grid[:, 1])] - [300, -150]
    worst = 0.0
    for angle in np.arange(swing.range.first, swing.range.last, 0.5):
        c, s = cos(radians(angle)), sin(radians(angle))
        along, side = points @ [c, s], points @ [-s, c]
        near = (along > 0) & (np.abs(side) < 22)
        off = along[near] * np.tan(radians(lean)) + np.sqrt(22**2 - side[near] ** 2) / cos(
            radians(lean)
        )
        worst = max(worst, float(off.max(initial=0.0)))
    return worst > gap


@pytest.mark.parametrize("more", ["", OWN])
def test_lean_at_which_the_plates_edge_is_touched(more, tmp_path):
    """Brute force over points of the metal: free a little below the limit, touching a little above.

    A fixed arm leans as much in every position, so that every direction counts.
    """
    built = build_text(arm_job(hub=650, mount="root = 120", more=more), tmp_path)
    limit = built.shop.linkage.swings[0].edge.limit
    assert not touches_at(built, limit - 0.3)
    assert touches_at(built, limit + 0.3)


def test_own_plates_cut_back_give_the_lean_that_is_asked_for(tmp_path):
    text, trimmed = (arm_job(hub=700, mount="root = 120", more=more) for more in ("", OWN))
    (plain,) = findings(text, tmp_path, "misalignment")
    (cut,) = findings(trimmed, tmp_path, "misalignment")
    assert plain.status is Status.FAIL
    assert cut.status is Status.PASS
    before, after = (
        next(p for p in build_text(t, tmp_path).plates if p.key == "mount/inner")
        for t in (text, trimmed)
    )
    assert after.outline.area < before.outline.area
    assert (
        before.outline.polygon("outside", 1e-3)
        .buffer(1e-3)
        .covers(after.outline.polygon("inside", 1e-3))
    )


def test_ears_too_wide_for_the_lean_are_not_cut_to_pieces(tmp_path):
    with pytest.raises(PartgenError, match="within the ear"):
        build_text(arm_job(hub=680, mount="ear_radius = 45", more=OWN), tmp_path)
