"""A mount whose ears lean: the joint's centre and bolt axis against the plates folded in space."""

from math import cos, radians, sin, tan

import numpy as np
import pytest
import shapely
from linkage_makers import RUN, arm_job, build_text, findings
from places import metal

from partgen.errors import PartgenError
from partgen.job.assembly import assemblies
from partgen.rules.finding import Status


@pytest.mark.parametrize("hole", ["joint", "second"])
@pytest.mark.parametrize("lean", [12, -9])
def test_joint_and_bolt_lie_where_the_folded_plates_hold_them(lean, hole, tmp_path):
    ears = f'ear_angle = {lean}\nears = [{{ pivot = [425, -110], name = "second" }}]\n'
    text = arm_job(mount=ears).replace("front = 160", "front = 260")
    text = text.replace('frame = { mount = "mount"', f'frame = {{ mount = "mount", hole = "{hole}"')
    built = build_text(text, tmp_path)
    (assembly,) = assemblies(built)
    (first, way), (second, _) = assembly.bolt_axes()[hole]
    middle = [(a + b) / 2 for a, b in zip(first, second, strict=True)]
    link = next(k for k in built.shop.linkage.layout.links if k.side == "left")
    spot = link.frame.spot.point - [RUN - 300, 500, 520]
    assert list(spot) == pytest.approx(middle, abs=1e-6)
    bolt = [0, cos(radians(lean)), sin(radians(lean))]
    assert list(link.frame.bolt) == pytest.approx(bolt)
    assert abs(sum(a * b for a, b in zip(way, bolt, strict=True))) == pytest.approx(1)
    assert 2 * link.frame.half_gap == pytest.approx(built.mounts[0].ear_gap)
    assert built.mounts[0].ear_gap >= 57


OWN = '[[linkage.obstacle]]\nmount = "mount"\npart = "mount"\ntrim = "outline"\n'


def least_room(built, extra):
    """How near the arm's middle line comes to the folded plates' metal beyond their bends [mm].

    In space: the plates as they are bent, the arm turned about its bolt through its range, leaning
    ``extra`` degrees more than it does [degrees].
    """
    (assembly,) = assemblies(built)
    (first, axis), (second, _) = assembly.bolt_axes()["joint"]
    middle = (np.array(first) + np.array(second)) / 2
    points = []
    for name in ("inner", "outer"):
        solid = next(s for s in assembly.solids if s.name == name)
        (fold,) = solid.frame.folds
        view = metal(solid, 0.01)
        x0, y0, x1, y1 = view.bounds
        for x, y in np.stack(
            np.meshgrid(np.arange(x0, x1, 1.0), np.arange(y0, y1, 1.0)), -1
        ).reshape(-1, 2):
            if fold.split((x, y))[1] > fold.flat_length and shapely.contains_xy(view, x, y):
                points += [solid.frame.at((x, y), out) for out in (0.0, solid.depth)]
    away = np.array(points) - middle
    link = next(k for k in built.shop.linkage.layout.links if k.side == "left")
    ways = [s.link(link.label).way for s in built.shop.linkage.states]
    axis = np.array(axis) * np.sign(np.dot(axis, ways[0]))
    worst = 1e9
    for way in ways:
        lean = np.arcsin(way @ axis) + radians(extra)
        flat = way - (way @ axis) * axis
        flat /= np.linalg.norm(flat)
        for turn in np.radians([-3, -1.5, 0, 1.5, 3]):
            turned = cos(turn) * flat + sin(turn) * np.cross(axis, flat)
            way_ = cos(lean) * turned + sin(lean) * axis
            along = away @ way_
            near = along > 0
            off = np.linalg.norm(away[near] - np.outer(along[near], way_), axis=1)
            worst = min(worst, float(off.min()))
    return worst


@pytest.mark.parametrize(("lean", "slope"), [(7, 0.0), (-6, 9.0)])
def test_own_leaning_plates_are_judged_and_trimmed_square_to_their_ears(lean, slope, tmp_path):
    """The arm, a round tube of 44, touches at the limit; cut back it leans 2 degrees more, free."""
    mount = f"root = 120\near_angle = {lean}"
    text, trimmed = (
        arm_job(hub=735 if lean > 0 else 665, mount=mount, more=more)
        .replace(
            "[rail.main]",
            f"[rail.main]\nlower_edge = [[-100, 0], [{900}, {-1000 * tan(radians(slope)):.6f}]]",
        )
        .replace("pivot = [300, -150]", f"pivot = [300, {-150 - 400 * tan(radians(slope)):.6f}]")
        for more in ("", OWN)
    )
    plain, cut = build_text(text, tmp_path), build_text(trimmed, tmp_path)
    edge = plain.shop.linkage.swings[0].edge
    assert least_room(plain, edge.limit - edge.lean - 0.3) >= 22
    assert least_room(plain, edge.limit - edge.lean + 0.4) < 22
    (before,) = [f for f in findings(text, tmp_path, "misalignment") if "edge" in f.where]
    (after,) = findings(trimmed, tmp_path, "misalignment")
    assert before.status is Status.FAIL
    assert after.status is Status.PASS
    assert least_room(cut, 2.0) >= 22 - 0.05
    whole, left = ({p.key: p for p in b.plates} for b in (plain, cut))
    for key in ("mount/inner", "mount/outer"):
        assert left[key].outline.area < whole[key].outline.area
        assert left[key].holes == whole[key].holes


def test_a_cut_that_would_reach_into_the_bend_is_refused_with_the_place(tmp_path):
    """The arm swings up so far that it comes under the bend: that is no cut on the flat ear."""
    mount = "root = 120\near_angle = 7\nbend_drop = 112"
    with pytest.raises(PartgenError, match=r"reaches into the bend of its ears at \(.*\) mm"):
        build_text(arm_job(hub=735, mount=mount, bump=330, more=OWN), tmp_path)


SKID = """
[[part]]
name = "skid"
family = "skid-plate"
plate = "5 mm S355"
flats = [80, 200, 90]
angles = [30, 40]
width = 210
"""


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ('flat = [200, -200]\naside = 30', "plate skid/skid is bent, so it is not seen flat"),
        ('line = [[180, -100], [180, -220]]\ntrim = "edge"', "is bent and is not trimmed along a line; leave out trim"),
    ],
)  # fmt: skip
def test_another_bent_plate_is_not_taken_for_a_flat_one(entry, words, tmp_path):
    thing = f'[[linkage.obstacle]]\nmount = "mount"\npart = "skid"\n{entry}\n'
    with pytest.raises(PartgenError, match=words):
        build_text(arm_job(parts=SKID, more=thing), tmp_path)


def test_a_bent_plate_seen_on_edge_is_told_with_clearance_place_and_case(tmp_path):
    """Its flats as a chain of lines: 5 mm thick, the arm's lower side 22 from its middle line."""
    thing = '[[linkage.obstacle]]\nmount = "mount"\npart = "skid"\nline = [[90, -300], [180, -190], [260, -180]]\n'
    (near,) = findings(arm_job(parts=SKID, more=thing), tmp_path, "swing")
    assert near.where.startswith("link arm to skid at (")
    assert near.status is Status.FAIL
    assert "deg" in near.where
