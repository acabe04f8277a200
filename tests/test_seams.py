"""What each family says of its welded edges: lengths from hand geometry, off the symmetric case."""

from collections import Counter
from math import asin, hypot, pi, radians, sqrt, tan

import numpy as np
import pytest

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.welds.weld_map import weld_map

HEAD = """
[job]
name = "seams"
units = "mm"
[rail.left]
width = 52
depth = 100
corner_radius = 8
[rail.wide]
width = 58
depth = 120
corner_radius = 8
[joint.bush]
width = 57
body_diameter = 64
bolt = "M16"
[[sheet]]
plate = "3 mm S355"
size = [1250, 2500]
"""


def job(tmp_path, *parts):
    path = tmp_path / "job.toml"
    path.write_text(HEAD + "".join(f"[[part]]\n{part}\n" for part in parts), encoding="utf-8")
    return build(load_job(path))


def welds(tmp_path, *parts):
    return weld_map(job(tmp_path, *parts))


def of(found, plate):
    return [w for w in found if w.plate == plate]


SADDLE = """name = "saddle"
family = "axle-saddle"
plate = "6 mm S355"
joint = "bush"
tube = 76.1
pivot = [18, -128]
ear_radius = 28
lip = 22
"""


@pytest.mark.parametrize(("skew", "wrap"), [(0, 130), (8, 150), (-31, 95)])
def test_a_saddles_weld_is_as_long_as_the_cut_through_the_tube(tmp_path, skew, wrap):
    """The curve in space where a plane, skewed about the vertical, meets the tube: numerically."""
    found, _ = welds(tmp_path, SADDLE + f'skew = "{skew} deg"\nwrap = "{wrap} deg"')
    turns = np.radians(np.linspace(-90 - wrap / 2, -90 + wrap / 2, 20_001))
    x, z = 76.1 / 2 * np.cos(turns), 76.1 / 2 * np.sin(turns)  # across the tube, and up
    along = x * tan(radians(skew))  # the tube's axis; the plane stands at the skew to it
    length = np.hypot(np.hypot(np.diff(x), np.diff(z)), np.diff(along)).sum()
    for side in ("inner", "outer"):
        (weld,) = of(found, f"saddle/{side}/left")
        assert weld.edge_length == pytest.approx(length, abs=0.1)
        assert weld.length == pytest.approx(length - 12, abs=0.1)
        assert (weld.seam.sides, weld.count) == (2, 1)
        assert weld.leg == (
            4 if abs(skew) < 12 else pytest.approx(4 + 25.4 / 64 + 6 * tan(radians(31)))
        )


def test_a_wide_gap_at_a_skewed_edge_makes_the_leg_larger(tmp_path):
    """6 mm x tan 20 degrees and the fit gap 0.4: 2.6 mm, over 1/16 in (AWS D1.1, from memory)."""
    (weld,) = of(welds(tmp_path, SADDLE + 'skew = "20 deg"')[0], "saddle/inner/left")
    gap = 6 * tan(radians(20)) + 25.4 / 64
    assert weld.leg == pytest.approx(4 + gap)
    assert any("larger by the gap" in note for note in weld.notes)
    (wide,) = of(welds(tmp_path, SADDLE + 'skew = "40 deg"')[0], "saddle/inner/left")
    assert wide.leg == 4
    assert any("more than a fillet may fill" in note for note in wide.notes)


def test_a_base_on_a_tube_is_welded_along_the_tube(tmp_path):
    found, _ = welds(tmp_path, """name = "lower"
family = "shock-mount"
plate = "6 mm S355"
joint = "bush"
height = 70
base = 62
offset = 5
tube = 76.1
fit_gap = 1""")  # fmt: skip
    (weld,) = of(found, "lower/outer/left")
    assert weld.edge_length == pytest.approx(76.1 * asin(31 / (76.1 / 2 + 1)))


def test_ears_stand_on_their_base(tmp_path):
    found, notes = welds(tmp_path, """name = "one"
family = "ear"
plate = "8 mm S355"
bolt = "M16"
height = 61
offset = 7
base = 83""", """name = "pair"
family = "clevis"
plate = "6 mm S355"
joint = "bush"
height = 62
offset = 3
base = 88
shelf = 13
corner = 5
base_plate = "4 mm S355"
""")  # fmt: skip
    (one,) = of(found, "one/ear/left")
    assert (one.edge_length, one.length, one.seam.sides) == (83, 83 - 12, 2)
    assert one.leg == 6  # three quarters of 8
    (ear,) = of(found, "pair/outer/left")
    assert (ear.edge_length, ear.seam.mate) == (88, "pair base")
    assert ear.leg == 3  # by the thinner part, the base plate
    base = of(found, "pair/base")
    across = 57 + 0.8 + 2 * 6 + 2 * 13
    assert sum(w.edge_length for w in base) == pytest.approx(
        2 * (88 + 26 - 10) + 2 * (across - 10), abs=1
    )
    assert {(w.count, w.seam.sides) for w in base} == {(2, 1)}
    assert notes == []


TOWER = """name = "tower"
family = "tower"
plate = "6 mm S355"
joint = "bush"
rail = "wide"
height = 230
base = 150
offset = 62
lap = {lap}
upright = 16
corner = 6
back = "5 mm S355"
"""


def test_a_towers_lap_stops_below_the_rails_upper_edge(tmp_path):
    """Ends 46 - 6 up to the rail's edge; the weld stops 19 mm under it and 6 mm over the corner."""
    found, _ = welds(tmp_path, TOWER.format(lap=46))
    ends = {w.seam.edge.split()[0]: w for w in of(found, "tower/inner/left")}
    assert set(ends) == {"lower", "front", "rear"}
    assert ends["lower"].edge_length == pytest.approx(150 - 12)
    for name in ("front", "rear"):
        assert ends[name].edge_length == pytest.approx(46 - 6)
        assert ends[name].length == pytest.approx(46 - 6 - 19 - 6)
        assert ends[name].flange == pytest.approx(19)
        assert max(p[1] for s in ends[name].run for p in (s.start, s.end)) == pytest.approx(-19)


def test_a_tower_on_top_and_its_back(tmp_path):
    made = job(tmp_path, TOWER.format(lap=0))
    found, _ = weld_map(made)
    (side,) = of(found, "tower/outer/left")
    assert (side.edge_length, side.seam.sides) == (150, 2)
    back = of(found, "tower/back")
    x0, y0, x1, y1 = next(p for p in made.plates if p.name == "back").outline.box
    assert [w.edge_length for w in back] == pytest.approx([y1 - y0] * 2)
    assert y1 - y0 > 3 * (x1 - x0)
    assert {w.leg for w in back} == {3}  # 5 mm: three quarters, down to the whole mm


BRIDGE = """name = "boxing"
family = "bridge"
mount = "pair"
plate = "4 mm S355"
at = [0, 30]
length = 100
tab = 12
relief = 1.5
proud = {proud}
"""
PAIR = """name = "pair"
family = "clevis"
plate = "6 mm S355"
joint = "bush"
height = 110
base = 130
foot = 40
"""


def test_a_bridge_is_welded_between_its_tabs_and_over_them(tmp_path):
    made = job(tmp_path, PAIR, BRIDGE.format(proud=0))
    found, _ = weld_map(made)
    mine = of(found, "boxing/bridge/left")
    tabs = [w for w in mine if "tab" in w.seam.edge]
    assert [w.edge_length for w in tabs] == pytest.approx([12] * 4)
    assert {(w.leg, w.seam.sides, w.seam.kind) for w in tabs} == {(None, 1, "flush")}
    part = next(p for p in made.job.parts if p.name == "boxing")
    for side, slots in zip(("inner", "outer"), part.tabs(made.shop), strict=True):
        first, last = slots.middles
        gaps = [50 + first - 9, last - first - 18, 50 - last - 9]  # tab and two reliefs of 3 mm
        edges = [w for w in mine if w.seam.edge == f"{side} edge"]
        long = sorted(gap for gap in gaps if gap >= 10)
        assert sorted(w.edge_length for w in edges) == pytest.approx(long)
        assert {w.seam.mate for w in edges} == {f"pair {side}"}
        assert {w.seam.sides for w in edges} == {2}


def test_proud_tabs_take_fillets(tmp_path):
    found, _ = welds(tmp_path, PAIR, BRIDGE.format(proud=5))
    tabs = [w for w in of(found, "boxing/bridge/left") if "tab" in w.seam.edge]
    assert {(w.leg, w.seam.sides, w.seam.kind) for w in tabs} == {(3, 2, "fillet")}


FLANGE = """name = "end"
family = "crossmember-flange"
plate = "8 mm S355"
size = [190, 150]
bolts = { bolt = "M12", shape = "two-rows", size = [140, 110] }
"""


@pytest.mark.parametrize(
    ("more", "length"),
    [("bore = 62\ntube = 60.3", 62 * pi), ("bore = 30\ntube = 60.3", 60.3 * pi),
     ("tube_size = [70, 46]", 2 * (70 + 46)), ("bore = 80\ntube = 60.3", 60.3 * pi),
     ("opening = [61, 42]\nopening_radius = 0\ntube_size = [60, 40]", 2 * (61 + 42))],
)  # fmt: skip
def test_a_flange_is_welded_round_its_crossmember(tmp_path, more, length):
    found, _ = welds(tmp_path, FLANGE + more + "\nsharp = true")
    (weld,) = of(found, "end/flange")
    assert weld.edge_length == pytest.approx(length)
    assert weld.length == pytest.approx(length)  # all round: no ends to stop short of
    assert weld.count == 2


def test_a_flange_without_its_crossmember_says_so(tmp_path):
    assert any("end/flange: no seam named" in note for note in welds(tmp_path, FLANGE)[1])
    assert welds(tmp_path, FLANGE + "welded = []") == ([], [])


FACE = """name = "face"
family = "face-plate"
plate = "5 mm S355"
length = 400
height = 90
corner = 4
blend = 10
arches = [{ at = 250, radius = 45, mouth = 45 }]
"""


def test_a_face_leaves_its_arches_out(tmp_path):
    found, _ = welds(tmp_path, FACE)
    lower = sorted(w.edge_length for w in found if w.seam.edge.startswith("lower")
                   and w.plate.endswith("left"))  # fmt: skip
    # Between the corners' radii of 4: 0 to 205 and 295 to 400; square mouths, rounded by 4.
    assert lower == pytest.approx([400 - 295 - 8, 205 - 8])
    ends = [w for w in found if w.seam.mate == "the end's plate" and w.plate.endswith("left")]
    assert [w.edge_length for w in ends] == pytest.approx([82, 82])
    open_below, _ = welds(tmp_path, FACE + 'edges = ["upper"]')
    assert {w.seam.mate for w in open_below} == {"the box's top plate"}


def test_plug_slots_of_any_family_are_welds(tmp_path):
    found, _ = welds(tmp_path, """name = "patch"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [160, 0], [160, 90], [0, 90]]
[part.features]
slots = [{ at = [50, 40], size = [42, 14], angle = 30 }, { at = [120, 60], size = [62, 13] }]
""")  # fmt: skip
    first, second = (next(w for w in found if w.seam.edge.startswith(f"slot-{k}")) for k in (1, 2))
    assert (first.edge_length, first.length) == pytest.approx((42, 42))
    (s,) = first.path
    assert hypot(s.x1 - s.x0, s.y1 - s.y0) == pytest.approx(42)
    assert (s.y1 - s.y0) / (s.x1 - s.x0) == pytest.approx(1 / sqrt(3))
    assert first.notes == ("fill to the top",)
    # AISC 360-16 J2.3b, from memory: width at least 6 + 8 mm, length at most 10 x 6 mm.
    assert "13 mm wide, should be at least 14 mm" in " ".join(second.notes)
    assert "62 mm long, should be at most 60 mm" in " ".join(second.notes)


def test_a_crush_sleeve_is_welded_first_all_round_at_both_ends():
    from test_weld_map import ROOT

    found, _ = weld_map(build(load_job(ROOT / "demo_parts" / "hill-trial-buggy-through-bolt.toml")))
    sleeves = [w for w in found if w.seam.piece]
    assert [w.step for w in sleeves] == [1, 2]
    assert {w.plate for w in sleeves} == {
        f"upper-mount/crush-sleeve/{h}" for h in ("left", "right")
    }
    assert [w.edge_length for w in sleeves] == pytest.approx([26 * pi] * 2)
    assert {w.count for w in sleeves} == {2}


DISC = """name = "boss"
family = "washer"
plate = "6 mm S355"
bolt = "M16"
diameter = 44
"""
SHEET = """name = "top"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [160, 0], [160, 90], [40, 90], [0, 50]]
corner = 8
"""


def test_edges_that_the_job_names(tmp_path):
    found, notes = welds(
        tmp_path,
        DISC + 'welded = [{ at = [22, 0], to = "the ear" }]',
        SHEET + 'welded = [{ at = [160, 40], to = "truss", sides = 2, leg = 5, stop = 10 }]',
    )
    (boss,) = of(found, "boss/washer")
    assert (boss.edge_length, boss.length) == pytest.approx((44 * pi, 44 * pi))
    left, right = of(found, "top/plate/left"), of(found, "top/plate/right")
    assert [w.length for w in (*left, *right)] == pytest.approx([90 - 16 - 20] * 2)
    assert (left[0].leg, left[0].seam.sides, left[0].seam.mate) == (5, 2, "truss")
    assert {s.x0 for s in left[0].path} == {160}
    assert {s.x0 for s in right[0].path} == {-160}
    assert notes == []


@pytest.mark.parametrize(
    ("entry", "said"),
    [("{ at = [80, 40], to = 'x' }", "no edge of top/plate within 5 mm of (80, 40) mm, the nearest is 40.0 mm away"),
     ("{ at = [80, 0], to = 'x', plates = ['plat'] }", "plates = 'plat': no such plate; did you mean 'plate'")],
)  # fmt: skip
def test_an_edge_that_is_not_there_is_refused(tmp_path, entry, said):
    with pytest.raises(PartgenError, match=r'(?s)part "top".*welded') as error:
        job(tmp_path, SHEET + f"welded = [{entry}]")
    assert said in str(error.value)


def test_plates_that_are_not_welded_say_so(tmp_path):
    found, notes = welds(tmp_path, DISC, SHEET, """name = "skid"
family = "skid-plate"
plate = "5 mm S355"
flats = [80, 200, 90]
angles = [30, 40]
width = 210""", PAIR, """name = "dummy"
family = "dummy-spacer"
mount = "pair"
""")  # fmt: skip
    said = Counter(note.split(":")[0].split("/")[0] for note in notes)
    assert set(said) == {"boss", "top", "skid", "dummy"}
    assert {w.plate.split("/")[0] for w in found} == {"pair"}
    assert any("bolted" in note for note in notes)
    assert any("taken out after welding" in note for note in notes)


def test_a_weld_across_a_bend_is_said(tmp_path):
    """EN 1993-1-8 4.14, from memory: 5 thicknesses beside a bend; the far edge is clear of it."""
    skid = """name = "roof"
family = "skid-plate"
plate = "5 mm S355"
flats = [80, 140]
angles = [45]
width = 52
corner = 2
welded = [{ at = [%s], to = "sides" }]
"""
    for at, near in (("100, 26", True), ("0, 0", False)):
        found, _ = welds(tmp_path, skid % at)
        (weld,) = found if len(found) == 1 else found[:1]
        assert any("from a bend" in note for note in weld.notes) is near


def test_right_hand_welds_are_the_mirror_of_the_left(tmp_path):
    found, _ = welds(tmp_path, SADDLE + 'skew = "12 deg"')
    (left,), (right,) = of(found, "saddle/inner/left"), of(found, "saddle/inner/right")
    assert right.length == pytest.approx(left.length)
    mirrored = [(-s.x1, s.y1) for s in reversed(left.run)]
    assert np.allclose([s.start for s in right.run], mirrored)
    for s in right.run:  # metal on the left: towards the lip, away from the tube's middle
        (x, y), (dx, dy) = s.at(0.5), s.direction(0.5)
        assert x * -dy + y * dx > 0


def test_no_seam_is_listed_twice(tmp_path):
    found, _ = welds(tmp_path, PAIR + 'welded = [{ at = [0, 0], to = "the member under it" }]')
    keys = [(w.plate, w.seam.mate, w.path) for w in found]
    assert len(keys) == len(set(keys))
    assert len(found) == 2


BACKED = TOWER.format(lap=0)


@pytest.mark.parametrize(
    ("part", "entries", "said"),
    [
        (SHEET, [((160, 40), "truss", ""), ((160, 71), "roof", "")],
         "edge 'front at x = 160.0 mm' of top/plate is welded to 'truss' and 'roof'"),
        (SHEET, [((160, 40), "truss", ", leg = 5"), ((160, 71), "truss", "")],
         "is welded to 'truss' twice"),
        (BACKED, [((28.9, 3), "brace", "")],
         "of tower/back is welded to 'tower side' and 'brace'"),
    ],
)  # fmt: skip
def test_an_edge_has_one_mate(tmp_path, part, entries, said):
    named = ", ".join(f'{{ at = [{x}, {y}], to = "{to}"{more} }}' for (x, y), to, more in entries)
    where = ", plates = ['back'] }" if part == BACKED else " }"
    with pytest.raises(PartgenError) as error:
        job(tmp_path, f"{part}welded = [{named.replace(' }', where)}]")
    assert [said in line for line in error.value.problems].count(True) == 1, error.value.problems


def test_an_edge_named_twice_alike_is_one(tmp_path):
    found, _ = welds(
        tmp_path,
        SHEET + 'welded = [{ at = [160, 40], to = "truss" }, { at = [160, 71], to = "truss" }]',
    )
    assert len(of(found, "top/plate/left")) == 1


def test_what_a_job_names_stands_in_place_of_a_familys_guess(tmp_path):
    """Both fillets of the base stay; the leg and the stops are the job's."""
    plain, _ = welds(tmp_path, PAIR)
    found, _ = welds(
        tmp_path, PAIR + 'welded = [{ at = [11, 0], to = "crossmember", leg = 5, stop = 9 }]'
    )
    for side in ("inner", "outer"):
        (before,), (weld,) = of(plain, f"pair/{side}"), of(found, f"pair/{side}")
        assert (before.seam.mate, weld.seam.mate) == ("the member under it", "crossmember")
        assert (weld.path, weld.seam.sides, weld.leg) == (before.path, 2, 5)
        assert weld.length == pytest.approx(weld.edge_length - 18)


@pytest.mark.parametrize(("wall", "leg"), [("", 4), ("wall = 4", 3), ('wall = ".065 in"', 1.651)])
def test_an_axle_tubes_wall_is_the_thinner_part(tmp_path, wall, leg):
    """6 mm ears: 3/4 of the thinner in whole mm, at least Table J2.4M's 3, never over the wall."""
    shock = """name = "shock"
family = "shock-mount"
plate = "6 mm S355"
joint = "bush"
height = 70
tube = 76.1
"""
    found, notes = welds(tmp_path, SADDLE + wall, shock + wall)
    legs = {w.key: w.leg for w in found}
    assert legs == pytest.approx(dict.fromkeys(legs, leg))
    told = [n for n in notes if n.startswith("the tube of 76.1 mm: its wall is not known")]
    assert len(told) == (not wall)


def test_a_tubes_wall_that_cannot_be(tmp_path):
    with pytest.raises(PartgenError, match=r"less than half the tube, 38\.05 mm"):
        job(tmp_path, SADDLE + "wall = 38.5")
