"""The weld map of ears that stand on a plate: feet, tabs, legs; lengths from hand geometry."""

import re

import pytest

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.welds.weld_map import weld_map

JOB = """
[job]
name = "standing"
units = "mm"
[joint.ball]
width = 66
body_diameter = 58
bolt = "M16"
[[part]]
name = "top"
family = "plate"
plate = "5 mm S355"
hands = "left"
points = [[-400, -100], [420, -100], [420, 130], [-400, 130]]
[[part]]
name = "ears"
plate = "8 mm S355"
height = 118
base = 130
foot = 90
{ear}
stands = {{ on = "top", measured = 8.1, cut_tolerance = 0.5, slot_radius = 1.5, relief = 2, {stands} }}
[[sheet]]
plate = "8 mm S355"
size = [1250, 2500]
[[sheet]]
plate = "5 mm S355"
size = [1250, 2500]
"""
PAIR = 'family = "clevis"\njoint = "ball"\noffset = 11'
PLACES = 'at = [-120, 8], angle = 109, more = [{ at = [-300, 12], angle = 84, face = "far" }]'
# A foot of 130 with tabs of 26 (a fifth) and 13 (a tenth) at -28.6 and 26, outer -33.8 and 36.4,
# each with 4 mm of relief on either side: from, to and how far the weld stops short of both.
INNER = [(-65, -45.6, 6, 4), (-11.6, 15.5, 4, 4), (36.5, 65, 4, 6)]
OUTER = [(-65, -50.8, 6, 4), (-16.8, 25.9, 4, 4), (46.9, 65, 4, 6)]


def welds(tmp_path, ear, stands):
    path = tmp_path / "job.toml"
    path.write_text(JOB.format(ear=ear, stands=stands), encoding="utf-8")
    return weld_map(build(load_job(path)))[0]


def spans(found):
    ends = [(min(s.x0 for s in w.run), max(s.x1 for s in w.run)) for w in found]
    return [x for end in sorted(ends) for x in end]


@pytest.mark.parametrize(("name", "edges"), [("inner", INNER), ("outer", OUTER)])
@pytest.mark.parametrize("hand", ["left", "right"])
def test_feet_are_welded_beside_and_between_their_tabs(tmp_path, name, edges, hand):
    """Two places for each hand, on one plate; its 5 mm make the leg, three quarters of it."""
    found = welds(tmp_path, f"{PAIR}\ncount = 2", PLACES)
    mine = [w for w in found if w.plate == f"ears/{name}/{hand}"]
    feet = [w for w in mine if w.seam.edge == "base"]
    expected = [x for a, b, first, last in edges for x in (a + first, b - last)]
    if hand == "right":
        expected = [-x for x in reversed(expected)]
    assert spans(feet) == pytest.approx(expected)
    assert sum(w.edge_length for w in mine) == pytest.approx(130 - 4 * 4)  # nothing twice
    assert {(w.seam.mate, w.seam.sides, w.leg, w.count) for w in feet} == {("top", 2, 3, 2)}
    assert sum(w.total for w in feet) == pytest.approx(
        2 * 2 * sum(b - a - first - last for a, b, first, last in edges)
    )
    assert len(mine) == 5


@pytest.mark.parametrize("hand", [1, -1])
def test_flush_tabs_are_welded_over_from_the_other_face(tmp_path, hand):
    found = welds(tmp_path, f"{PAIR}\ncount = 2", PLACES)
    label = f"ears/outer/{'left' if hand > 0 else 'right'}"
    tabs = [w for w in found if w.plate == label and w.seam.edge == "tab"]
    assert spans(tabs) == pytest.approx(sorted(hand * x for x in (-46.8, -20.8, 29.9, 42.9)))
    for w in tabs:
        assert (w.seam.kind, w.seam.sides, w.leg, w.count, w.seam.mate) == (
            "flush",
            1,
            None,
            2,
            "top",
        )
        assert {y for s in w.path for y in (s.y0, s.y1)} == {-5}
        assert "from the other face" in w.notes[-1]


@pytest.mark.parametrize(
    ("proud", "kind", "leg"),
    [
        (0.99, "flush", None),
        (1, "fillet", 1),
        (2.5, "fillet", 2.5),
        (3, "fillet", 3),
        (7, "fillet", 3),
    ],
)
def test_proud_tabs_take_fillets_no_larger_than_they_are_proud(tmp_path, proud, kind, leg):
    """AISC 360-16 Table J2.4 asks for 3 mm on plate to 6 mm."""
    ear = 'family = "ear"\nbolt = "M16"\noffset = -7'
    found = welds(tmp_path, ear, f"at = [150, 8], angle = 20, proud = {proud}")
    tabs = [w for w in found if w.plate == "ears/ear/left" and w.seam.edge == "tab"]
    assert sorted(w.length for w in tabs) == pytest.approx([13, 26])
    assert {(w.seam.kind, w.leg) for w in tabs} == {(kind, leg)}
    assert {w.seam.sides for w in tabs} == {1 if kind == "flush" else 2}
    assert all(
        any("under the table's 3 mm" in n for n in w.notes) == (leg in (1, 2.5)) for w in tabs
    )


def test_without_tabs_the_whole_foot_is_welded(tmp_path):
    """Alike on both hands: both sides' ears in one line."""
    ear = 'family = "shock-mount"\nbolt = "M16"\ntabs = 1\ncount = 2'
    (foot,) = [w for w in welds(tmp_path, ear, f"{PLACES}, tabs = false") if w.key != "top/plate"]
    assert (foot.seam.mate, foot.leg, foot.count) == ("top", 3, 4)
    assert (foot.edge_length, foot.length) == pytest.approx((130, 118))


def test_a_single_shock_tab_stands_by_its_tabs_too(tmp_path):
    ear = 'family = "shock-mount"\nbolt = "M16"\ntabs = 1\neyes = 2\nlean = 9'
    found = welds(tmp_path, ear, "at = [150, 8], angle = 20")
    mine = [w for w in found if w.plate == "ears/tab/left"]
    assert sorted(w.seam.kind for w in mine) == ["fillet"] * 3 + ["flush"] * 2
    assert {w.seam.mate for w in mine} == {"top"}
    assert spans([w for w in mine if w.seam.edge == "base"]) == pytest.approx(
        [x for a, b, first, last in INNER for x in (a + first, b - last)]
    )


def test_pieces_of_a_foot_too_short_to_weld_are_told(tmp_path):
    """On a foot of 60 the tabs are 12 and 6 long, relieved by 1.6 on either side.

    Left of the inner ear's long tab .18 x 60 - 1.6 = 9.2, of the outer's .14 x 60 - 1.6 = 6.8;
    right of the outer's short one .17 x 60 - 1.6 = 8.6. All else is in the map.
    """
    text = JOB.format(ear=f"{PAIR}\ncount = 2", stands=PLACES).replace("base = 130", "base = 60")
    slim = "measured = 4.1, cut_tolerance = 0.2, slot_radius = 0.5, relief = 0.8"
    text = re.sub(r"measured = .*relief = 2", slim, text).replace("8 mm S355", "4 mm S355")
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    found, notes = weld_map(build(load_job(path)))
    told = {n.split(":")[0]: n for n in notes if "edges under 10 mm stay unwelded" in n}
    short = {k: sorted(float(x) for x in re.findall(r"mm, ([0-9.]+) mm, to top", n))
             for k, n in told.items()}  # fmt: skip
    assert short == {"ears/inner": [9.2], "ears/outer": [6.8, 8.6]}
    feet = {k: sum(w.edge_length for w in found if w.plate == f"{k}/left" and w.seam.edge == "base")
            for k in told}  # fmt: skip
    inner = (0.27 * 60 - 3.2) + (0.25 * 60 - 1.6)
    assert feet == pytest.approx({"ears/inner": inner, "ears/outer": 0.39 * 60 - 3.2})
