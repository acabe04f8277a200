"""Every family's plates in space: edges that mate coincide, bolts are coaxial; off the symmetric case."""

from dataclasses import replace
from math import cos, degrees, hypot, radians, sin, tan
from pathlib import Path

import numpy as np
import pytest
from helpers import part, shop
from places import assembly_of, filling, local, made, meet, metal

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.geometry.belt import rectangle
from partgen.job.assembly import Assembly, off_axis
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.plates.solid import FORWARD, LEFT, Frame, Solid

JOINT = Joint(width=57, body_diameter=64, bolt="M16", side_clearance=1)
RAIL = Rail(width=52, depth=100, corner_radius=8, lower_edge=((0, 0), (260, 5), (700, -60)))
BARE = shop(joints={"j": JOINT}, rails={"r": RAIL})
NEAR = 0.01  # mm


def named(solids):
    return {s.name: s for s in solids}


def with_mount(**parts):
    mounts = {name: replace(p.as_mount(BARE), name=name) for name, p in parts.items()}
    return replace(BARE, mounts=mounts)


def test_clevis_stands_on_its_base_plate():
    found = named(
        part("clevis", joint="j", height=70, offset=9, plate="6 mm S355", base_plate="8 mm S355")
        .solids(BARE)
    )  # fmt: skip
    base, inner, outer = found["base"], found["inner"], found["outer"]
    assert base.box[1][2] == pytest.approx(0, abs=NEAR)
    assert (inner.box[0][2], outer.box[0][2]) == pytest.approx((0, 0), abs=NEAR)
    assert (outer.box[0][1] - inner.box[1][1]) == pytest.approx(58, abs=NEAR)
    assert base.box[1][1] - outer.box[1][1] == pytest.approx(12, abs=NEAR)


@pytest.mark.parametrize("skew", [0, 17, -23])
def test_saddle_lies_on_its_tube_with_its_bolt_square_to_both_plates(skew):
    saddle = part("axle-saddle", joint="j", tube=76.2, pivot=(21, -103), plate="6 mm S355",
                  fit_gap=0.4, skew=skew, wrap=120)  # fmt: skip
    tube, inner, outer = saddle.solids(BARE)
    assert tube.name == "tube"
    for ear in (inner, outer):
        near = [p for p in ear.loop(ear.outlines[-1], ear.depth / 2) if hypot(p[0], p[2]) < 41]
        assert len(near) > 5
        ends = [hypot(p[0], p[2]) for p in near]
        assert all(abs(r - 38.5) < 0.06 for r in ends), (min(ends), max(ends))
        (_, hole), *_ = ear.holes
        x, y, z = ear.frame.at(hole, ear.depth / 2)
        along = -x * sin(radians(skew)) + y * cos(radians(skew))
        assert x * cos(radians(skew)) + y * sin(radians(skew)) == pytest.approx(21, abs=NEAR)
        assert (abs(along), z) == pytest.approx((32, -103), abs=NEAR)
        assert np.dot(ear.frame.normal, (sin(radians(skew)), -cos(radians(skew)), 0)) > 1 - 1e-9


def test_shock_tabs_lie_on_their_tube():
    tabs = part("shock-mount", joint="j", height=62, base=58, offset=6, tube=76.2, fit_gap=0.3,
                eyes=2, plate="6 mm S355")  # fmt: skip
    tube, *ears = tabs.solids(BARE)
    z = tube.frame.origin[2]
    for ear in ears:
        base = [s for s in ear.outlines[-1].segments if s.bulge < 0 and abs(s.y0) < 1e-6]
        assert base
        for k in range(11):
            x, _, up = ear.frame.at(base[0].at(k / 10))
            assert hypot(x, up - z) == pytest.approx(38.4, abs=NEAR)


@pytest.mark.parametrize("lap", [0, 44])
def test_tower_back_lies_between_the_sides_flush_with_their_edges(lap):
    tower = part("tower", joint="j", height=210, base=150, offset=48, plate="6 mm S355",
                 back="5 mm S355", rail="r", lap=lap)  # fmt: skip
    found = named(tower.solids(BARE))
    back, inner, outer = found["back"], found["inner"], found["outer"]
    assert back.box[0][1] == pytest.approx(inner.box[1][1], abs=NEAR)
    assert back.box[1][1] == pytest.approx(outer.box[0][1], abs=NEAR)
    for vertex in back.outlines[-1].vertices:
        x, _, z = back.frame.at((vertex.x, vertex.y))
        assert inner.outlines[-1].distance((x, z)) == pytest.approx(0, abs=NEAR)
    assert not meet(back, inner)


BUILT = {
    "clevis": part("clevis", joint="j", height=125, base=130, foot=90, plate="6 mm S355"),
    "tower": part("tower", joint="j", height=190, base=160, lap=0, plate="6 mm S355"),
    "saddle": part("axle-saddle", joint="j", tube=76.2, pivot=(20, -130), plate="6 mm S355",
                   ear_radius=36, lip=24, wrap=150),
}  # fmt: skip
WHERE = with_mount(**BUILT)
SPOT = {"clevis": (4, 40, 17), "tower": (75, 60, -8), "saddle": (2, -62, 0)}


def bridged(name):
    """The ears with their slots, and the bridge."""
    x, y, angle = SPOT[name]
    bridge = part("bridge", mount=name, at=(x, y), angle=angle, length=80, plate="4 mm S355", tab=10,
                  slot_radius=1, cut_tolerance=0.5, measured=4.2)  # fmt: skip
    ears = BUILT[name].model_copy(update={"name": name})
    where = replace(WHERE, cuts=bridge.cuts(WHERE))
    found = named(ears.solids(where))
    (plate,) = bridge.solids(where)
    return plate, found["inner"], found["outer"]


def shifted(solid, along=0.0, across=0.0):
    """A piece pushed along its drawing's x and out of its plane."""
    way = solid.frame.direction((along, 0.0, across))
    origin = tuple(o + d for o, d in zip(solid.frame.origin, way, strict=True))
    return replace(solid, frame=replace(solid.frame, origin=origin))


@pytest.mark.parametrize("name", BUILT)
def test_bridge_fills_the_gap_and_its_tabs_the_slots(name):
    """Shoulders on the ears' faces; by the play of 0.5 mm either way nothing interpenetrates."""
    plate, inner, outer = bridged(name)
    for ear, face in ((inner, -29), (outer, 29)):
        low, high = local(ear, [plate.frame.at((0, y)) for y in (-29, 29)])[:, 2]
        near = 0.0 if face > 0 else ear.depth  # the ear's face towards the gap
        assert min(abs(low - near), abs(high - near)) < NEAR
        for along, across in ((0, 0), (0.5, 0.4), (-0.5, -0.4)):
            assert not meet(shifted(plate, along, across), ear)
    assert meet(shifted(plate, 1.6), inner)
    assert meet(shifted(plate, 0, 1.6), inner)


@pytest.mark.parametrize("name", BUILT)
def test_bridge_turned_or_mirrored_collides_wherever_it_is_pushed(name):
    plate, inner, outer = bridged(name)
    frame, middle = plate.frame, plate.frame.at((0, 0), plate.depth / 2)
    wrong = [plate.mirrored(middle, frame.u), plate.mirrored(middle, frame.v)]
    wrong.append(wrong[0].mirrored(middle, frame.v))
    for solid in wrong:
        for push in range(-40, 41, 4):
            pushed = shifted(solid, push)
            assert meet(pushed, inner) or meet(pushed, outer)


def test_dummy_and_washers_are_on_the_bolt():
    where = replace(WHERE, rack=[*WHERE.rack])
    discs = part("dummy-spacer", mount="tower").solids(where)
    assert sum(abs(d.depth) for d in discs) == pytest.approx(58, abs=2.0)
    washers = part("washer", mount="tower", bolt="M16", plate="4 mm S355", count=3).solids(where)
    for piece in (*discs, *washers):
        x, _, z = piece.frame.at((0, 0))
        assert (x, z) == pytest.approx((80, 190))
    spans = [tuple(round(v[1], 6) for v in w.box) for w in washers]
    assert spans == [(35, 39), (-39, -35), (39, 43)]


@pytest.mark.parametrize("angle", [0, 14, -21])
def test_discs_and_washers_lean_with_the_ears_they_are_between(angle):
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -125), plate="6 mm S355", rear=160,
                 front=180, ear_angle=angle, outer={"plate": "8 mm S355"})  # fmt: skip
    mount = mount.model_copy(update={"name": "m"})
    where = with_mount(m=mount)
    discs = part("dummy-spacer", mount="m", diameter=50).solids(where)
    washers = part("washer", mount="m", bolt="M16", plate="3 mm S355", count=2).solids(where)
    ears = mount.solids(where)[1:]
    assembly = Assembly("m", "left", (*ears, *discs, *washers))
    (_, way), *others = assembly.bolt_axes()["joint"]
    assert len(others) == 1 + len(discs) + len(washers)
    assert off_axis(assembly, "joint") < NEAR
    assert all(abs(np.dot(way, w)) > 1 - 1e-9 for _, w in others)
    m = where.mounts["m"]
    if angle:  # by hand: between the middle layers (gap + 7) cos, less 7; radii 15 and 20
        closer = np.sign(angle) * 5 * (1 - cos(radians(angle)))
        between = (m.fit.gap + 7) * cos(radians(angle)) - 7 - closer
        assert m.dummy.length == pytest.approx(between - 2 * m.fit.shim)
    assert not any(meet(ear, piece) for ear in ears for piece in (*discs, *washers))
    for ear, washer in zip(ears[::-1], washers, strict=True):  # the first one on the outer ear
        (_, hole), *_ = ear.holes
        face = local(washer, [ear.frame.at(hole, out) for out in (0.0, ear.depth)])[:, 2]
        assert min(abs(face)) < NEAR


def test_a_face_plates_ears_are_coaxial_from_face_to_face(tmp_path):
    text = (
        TRUSS[: TRUSS.index("[[part]]")]
        + """
[[part]]
name = "face"
family = "face-plate"
plate = "6 mm S355"
hands = "left"
count = 2
length = 420
height = 90
ears = [{ at = 90, drop = 34, bolt = "M16" }]
space = [
  { assembly = "box", at = [-35, 210, 0] },
  { assembly = "box", at = [SHIFT, 210, 0], turn = TURN },
]
[[sheet]]
plate = "6 mm S355"
size = [1250, 1250]
"""
    )
    box = assembly_of(made(tmp_path, text.replace("SHIFT", "41").replace("TURN", "0")), "box")
    ((a, _), (b, _)) = box.bolt_axes()["face: ear-1"]
    assert off_axis(box, "face: ear-1") < NEAR
    assert np.subtract(b, a) == pytest.approx((76, 0, 0))
    assert a == pytest.approx((-35 - 3, 210 - 90, -34))
    askew = assembly_of(made(tmp_path, text.replace("SHIFT", "41").replace("TURN", "2")), "box")
    assert off_axis(askew, "face: ear-1") > 1


def test_webs_of_a_through_ear_join_it_to_the_rails_plate():
    demo = Path(__file__).parents[1] / "demo_parts" / "hill-trial-buggy-through-bolt.toml"
    found = named(assembly_of(build(load_job(demo)), "rail-plates").solids)
    ear, inner = found["upper-mount"], found["inner"]
    for web in (found["floor"], found["front-web"]):
        assert web.box[1][1] == pytest.approx(inner.box[0][1], abs=NEAR)
        assert web.box[0][1] == pytest.approx(ear.box[1][1], abs=NEAR)
    assert found["floor"].box[0][2] == pytest.approx(ear.box[0][2], abs=NEAR)
    assert found["front-web"].box[0][2] == pytest.approx(found["floor"].box[1][2], abs=NEAR)
    assert found["front-web"].box[1][0] == pytest.approx(ear.box[1][0], abs=NEAR)


TRUSS = """
[job]
name = "Truss"
units = "mm"
cutting = "plasma-65a"
[joint.ball]
width = 66
body_diameter = 58
bolt = "M16"
[[part]]
name = "top"
family = "plate"
plate = "8 mm S355"
hands = "left"
points = [[-260, -80], [300, -80], [300, 100], [-260, 100]]
[[part]]
name = "ears"
family = "clevis"
plate = "6 mm S355"
joint = "ball"
height = 118
offset = 11
base = 120
foot = 90
stands = { on = "top", at = [-120, 8], angle = 109, measured = 6.1, cut_tolerance = 0.5, FACE }
[[part]]
name = "back"
family = "bridge"
mount = "ears"
plate = "5 mm S355"
at = [-44, 45]
angle = 90
length = 84
tab = 10
slot_radius = 1.5
measured = 5.1
cut_tolerance = 0.5
windows = [{ at = [0, 0], size = [40, 24], radius = 12 }]
[[sheet]]
plate = "6 mm S355"
size = [1250, 1250]
"""


def truss(tmp_path, face="near"):
    return assembly_of(made(tmp_path, TRUSS.replace("FACE", f'face = "{face}"')), "top")


@pytest.mark.parametrize("face", ["near", "far"])
def test_ears_at_a_plan_angle_are_coaxial_and_stand_on_the_plate(tmp_path, face):
    assembly = truss(tmp_path, face)
    assert next(s.name for s in assembly.solids) == "top"
    axes = assembly.bolt_axes()
    assert len(axes) == 2
    for name, holes in axes.items():
        assert len(holes) == 2
        assert off_axis(assembly, name) < NEAR
        (a, way), (b, _) = holes
        apart = np.linalg.norm(np.subtract(a, b))
        assert apart == pytest.approx(66 + 25.4 / 32 + 6, abs=NEAR)
        assert abs(a[2] - b[2]) < NEAR
        # Plate seen from above, x to the right: the ears run 19 degrees off forward.
        assert abs(degrees(np.arctan2(way[0], abs(way[1])))) == pytest.approx(19, abs=1e-6)
    _top, *rest = assembly.solids
    for ear in (s for s in rest if "inner" in s.name or "outer" in s.name):
        foot = [ear.frame.at(p)[2] for p in ((-60, 0), (60, 0))]
        assert foot == pytest.approx([8, 8] if face == "near" else [0, 0], abs=NEAR)


@pytest.mark.parametrize("face", ["near", "far"])
def test_put_together_with_play_nothing_interpenetrates(tmp_path, face):
    solids = truss(tmp_path, face).solids
    assert len(solids) == 7
    for k, a in enumerate(solids):
        for b in solids[k + 1 :]:
            assert not meet(a, b), (a.name, b.name)
    top, *rest = solids
    for ear in (s for s in rest if "back" not in s.name):
        for along, across in ((0.5, 0.4), (-0.5, -0.4)):
            assert not meet(shifted(ear, along, across), top)
        assert meet(shifted(ear, 2.4), top)


def test_an_ear_turned_swapped_or_of_the_other_hand_collides(tmp_path):
    top, *rest = truss(tmp_path).solids
    left = [s for s in rest if s.is_named and "back" not in s.name]
    assert len(left) == 2
    for ear, other in (left, left[::-1]):
        middle = ear.frame.at((0, 0), ear.depth / 2)
        turned = ear.mirrored(middle, ear.frame.u)
        swapped = replace(ear, outlines=other.outlines)
        for wrong in (turned, swapped, swapped.mirrored(middle, ear.frame.u)):
            for push in range(-60, 61, 3):
                assert meet(shifted(wrong, push), top)


def test_each_tab_goes_through_its_plate(tmp_path):
    """Tabs are as long as the plate they stand on is thick, 8 mm; proud adds to it."""
    _top, *rest = truss(tmp_path).solids
    for ear in (s for s in rest if "back" not in s.name):
        assert ear.box[0][2] == pytest.approx(0, abs=NEAR)
    built = made(tmp_path, TRUSS.replace("FACE", "proud = 2"))
    ear = next(s for s in assembly_of(built, "top").solids if s.name == "ears inner")
    assert ear.box[0][2] == pytest.approx(-2, abs=NEAR)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('on = "top"', 'on = "topp"', "did you mean 'top'"),
        ("base = 120", "base = 50", "too short for tabs that fit one way only"),
        ("offset = 11", "offset = 11\ncount = 2", "1 place(s) for count = 2"),
        ("at = [-120, 8]", "at = [-250, 8]", "is not inside the plate"),
    ],
)
def test_where_ears_cannot_stand_it_is_said(tmp_path, old, new, said):
    with pytest.raises(Exception, match=said.replace("(", r"\(").replace(")", r"\)")):
        made(tmp_path, TRUSS.replace("FACE", "proud = 0").replace(old, new))


def test_on_a_plate_for_each_side_each_has_its_own_ears(tmp_path):
    text = TRUSS.replace("FACE", "proud = 0").replace('hands = "left"\n', "")
    assembly = assembly_of(made(tmp_path, text), "top")
    assert len(assembly.solids) == 4
    assert len(assembly.solids[0].filled) == 4


@pytest.mark.parametrize(
    ("angle", "outer", "drop", "place", "high"),
    [
        (14, 6, 9, None, (74, 58)),
        (-19, 8, 9, None, (66, 66)),
        (22, 8, 0, None, (74, 58)),
        (14, 6, 9, (361, -52), (50, 43)),  # all below the bend
        (-19, 8, 25, (474, -22), (74, 58)),  # begins above it
    ],
)
def test_web_between_leaning_ears_is_true_to_shape(angle, outer, drop, place, high):
    """Its side edges lie on the faces of the bent ears that look into the gap, arcs and all."""
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -125), plate="6 mm S355", rear=160,
                 front=180, ear_angle=angle, bend_drop=drop,
                 outer={"plate": f"{outer} mm S355"}).model_copy(update={"name": "m"})  # fmt: skip
    where = with_mount(m=mount)
    web = part("gusset", mount="m", plate="6 mm S355", shape="trapezoid", height=high[0],
               far_height=high[1], snipe=7, place=place)  # fmt: skip
    (solid,) = web.solids(where)
    edge, seams = solid.outlines[-1], web.seams(web.finished(where)[0], where)
    if place:
        assert solid.frame.at((0, 0))[::2] == pytest.approx(place)
    for ear, far, name in zip(mount.solids(where)[1:], high, ("upright", "far"), strict=True):
        (fold,), met = ear.frame.folds, 0
        welded = [s for seam in seams if seam.edge == name for s in seam.path]
        for k in range(4, 260):
            flat = fold.joined(0.0, 0.5 * k - drop)  # along the ear, from the rail's edge
            x, y, _ = local(solid, [ear.frame.at(flat, 0.0)])[0]
            if 8 + 12 * sin(radians(abs(angle))) * (drop == 0) < y < far - 9:
                assert edge.distance((x, y)) < NEAR, (ear.name, x, y)
                assert min(s.distance((x, y)) for s in welded) < NEAR, (ear.name, x, y)
                met += 1
        assert met > (1.6 if place else 1.9) * (far - 17 - 12 * sin(radians(abs(angle))))
    arcs = [s for s in edge.segments if abs(degrees(s.sweep)) == pytest.approx(abs(angle))]
    assert len(arcs) == (2 if drop and place != (361, -52) else 0)


def test_a_web_placed_in_the_bend_says_so():
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -125), plate="6 mm S355",
                 ear_angle=30, bend_drop=20).model_copy(update={"name": "m"})  # fmt: skip
    web = part("gusset", mount="m", plate="6 mm S355", shape="trapezoid", height=60, far_height=44,
               place=(402, -45))  # fmt: skip
    with pytest.raises(GeometryError, match="in the bend of the ears"):
        web.plates(with_mount(m=mount))


def test_web_that_ends_in_the_bend_is_refused():
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -105), plate="6 mm S355",
                 ear_angle=30, bend_drop=40).model_copy(update={"name": "m"})  # fmt: skip
    web = part("gusset", mount="m", plate="6 mm S355", shape="trapezoid", height=60, far_height=44)
    with pytest.raises(GeometryError, match="ends in the bend of the ears"):
        web.plates(with_mount(m=mount))


def test_web_hangs_square_from_a_kicked_rail_clear_of_the_joint():
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -105), plate="6 mm S355")
    mount = mount.model_copy(update={"name": "m"})
    web = part("gusset", mount="m", plate="6 mm S355", shape="trapezoid", height=60, far_height=44)
    (solid,) = web.solids(with_mount(m=mount))
    slope = (-60 - 5) / (700 - 260)
    assert solid.frame.v == pytest.approx(
        (slope / hypot(1, slope), 0, -1 / hypot(1, slope)), abs=1e-9
    )
    for x in (0, 58):
        px, _, pz = solid.frame.at((x, 0))
        assert pz == pytest.approx(5 + slope * (px - 260), abs=NEAR)
    away = local(solid, [(420, 0, -105)])[0][2]
    assert away == pytest.approx(-(64 / 2 + 8), abs=NEAR)


def test_pads_lie_along_the_rail_in_the_plates_middle():
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -105), plate="6 mm S355", rear=90,
                 front=150).model_copy(update={"name": "m"})  # fmt: skip
    where = with_mount(m=mount)
    for pad in part("spacer", mount="m", size=(120, 50)).solids(where):
        x, _, z = pad.frame.origin
        slope = (-60 - 5) / (700 - 260)
        up = (z - (5 + slope * (x - 260))) * cos(np.arctan(slope))
        assert up == pytest.approx(50, abs=NEAR)
        assert x - 50 * sin(np.arctan(-slope)) == pytest.approx(450, abs=NEAR)
        assert pad.frame.u[2] / pad.frame.u[0] == pytest.approx(slope)


def test_skid_plate_folds_to_its_outside_measures():
    """Outside 80 / 210 / 95, bends 35 and -50 degrees: mould lines of the outside faces."""
    skid = part("skid-plate", plate="5 mm S355", measured="outside", flats=(80, 210, 95),
                angles=(35, 50), radius=11, width=160)  # fmt: skip
    (solid,) = skid.solids(BARE)
    frame, length = solid.frame, solid.outlines[-1].box[2]
    under = [np.array(frame.at((x, 0), 0.0)) for x in (0, length)]
    first, last = (np.array(frame.way((x, 0))) for x in (0.0, length))
    turn = radians(35)
    a = under[0] + 80 * np.array((1, 0, 0))
    b = a + 210 * np.array((cos(turn), 0, sin(turn)))
    c = b + 95 * np.array((cos(turn + radians(50)), 0, sin(turn + radians(50))))
    assert under[1] == pytest.approx(c, abs=NEAR)
    assert first @ last == pytest.approx(cos(radians(85)))
    back = tan(turn / 2) * (11 + 5)  # from the mould line to the tangent
    centre = np.array((80 - back, 0, 16))
    for k in range(9):
        x = 80 - back + radians(35) * (11 + 2.5) * k / 8
        assert np.linalg.norm(np.array(frame.at((x, 0), 5.0)) - centre) == pytest.approx(11)
        assert np.linalg.norm(np.array(frame.at((x, 0), 0.0)) - centre) == pytest.approx(16)
    thick = np.array(frame.at((length, 0), 5.0)) - under[1]
    assert np.linalg.norm(thick) == pytest.approx(5)


def test_mirrored_twice_is_the_same():
    skid = part("skid-plate", plate="5 mm S355", flats=(80, 210, 95), angles=(35, -50), width=160)
    (solid,) = skid.solids(BARE)
    at, way = (3.0, 9.0, -2.0), (0.6, 0.0, 0.8)
    once = solid.mirrored(at, way)
    for p in ((10, 20), (140, -30), (390, 5)):
        for out in (0.0, 5.0):
            x, image = (np.array(s.frame.at(p, o)) for s, o in ((solid, out), (once, -out)))
            across = x - np.array(at)
            want = x - 2 * (across @ np.array(way)) * np.array(way)
            assert image == pytest.approx(want, abs=1e-9)
            back = np.array(once.mirrored(at, way).frame.at(p, out))
            assert back == pytest.approx(x, abs=1e-9)


def test_filling_is_inside():
    """The test's own points: of a 10 mm cube they lie within it."""
    cube = Solid("c", (rectangle(10, 10),), Frame((0, 0, 0), FORWARD, LEFT), 10, (0, 0, 0))
    points = filling(cube, 2.0)
    assert np.abs(points[:, :2]).max() <= 5 - 0.04
    assert metal(cube).area == pytest.approx(100)
    assert not meet(cube, shifted(cube, 10))
    assert meet(cube, shifted(cube, 9))


@pytest.mark.parametrize(
    ("angle", "outer", "at", "turn"),
    [(14, 6, (404, -150), 62), (-19, 8, (431, -148), -80), (11, 5, (372, -4), 4)],
)
def test_bridge_between_leaning_ears_stands_square_to_them_in_its_slots(angle, outer, at, turn):
    """Its shoulders lie on the faces that look into the gap, its tabs in both plates' slots.

    The third stands above the bends, between the plates on the rail.
    """
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -195), plate="6 mm S355", rear=160,
                 front=180, root=90, ear_angle=angle, bend_drop=9,
                 outer={"plate": f"{outer} mm S355"}).model_copy(update={"name": "m"})  # fmt: skip
    where = with_mount(m=mount)
    bridge = part("bridge", mount="m", at=at, angle=turn, length=80, plate="4 mm S355", tab=10,
                  slot_radius=1, cut_tolerance=0.5, measured=4.2)  # fmt: skip
    slots = bridge.cuts(where)
    ears = named(mount.solids(replace(where, cuts=slots)))
    (solid,) = bridge.solids(where)
    edge = solid.outlines[-1]
    half = (solid.seated.box[3] - solid.seated.box[1]) / 2
    lean = angle if at[1] < -50 else 0
    assert solid.frame.v[1] == pytest.approx(cos(radians(lean)))
    assert solid.frame.at((0, 0), solid.depth / 2)[::2] == pytest.approx(at, abs=NEAR)
    for name, side in (("inner", -1), ("outer", 1)):
        ear = ears[name]
        (fold,) = ear.frame.folds
        for window in slots[f"m/{name}"]:
            x, y = window.outline.centroid
            for out, thick in ((0.0, half), (ear.depth, half + abs(ear.depth))):
                u, v, n = local(solid, [ear.frame.at((x, y), out)])[0]
                assert (v, n) == pytest.approx((side * thick, solid.depth / 2), abs=NEAR)
                assert edge.distance((u, side * half)) < 10
            # the tab's ends are as far from the slot's as its own play and corners
            ends = sorted(s.x0 for s in edge.segments
                          if s.x0 == s.x1 and abs(s.x0 - u) < 12 and max(s.y0 * side, s.y1 * side) > half + 1)  # fmt: skip
            assert sum(ends) / 2 == pytest.approx(u, abs=NEAR)
            assert (lean == 0) == (fold.split((x, y))[1] < 0)


@pytest.mark.parametrize("at", [(404, -97), (404, -38)])
def test_a_bridge_in_the_bend_is_refused(at):
    mount = part("link-mount", rail="r", joint="j", pivot=(420, -195), plate="6 mm S355", rear=160,
                 front=180, ear_angle=30, bend_drop=30).model_copy(update={"name": "m"})  # fmt: skip
    bridge = part("bridge", mount="m", at=at, angle=88, length=90, plate="4 mm S355")
    with pytest.raises(GeometryError, match="into the bend of the ears of 'm'"):
        bridge.cuts(with_mount(m=mount))
