"""Motion programs, read by a reader of the test's own and by the dry run.

Meaning of words and of centre-format arcs: NIST RS274/NGC Interpreter, version 3 (NISTIR 6556),
sections 3.5.1 to 3.5.3 (from memory): G2 clockwise, G3 anticlockwise, I and J from the arc's start,
radii equal within 0.002 mm (0.0002 in).
"""

import re
from dataclasses import replace
from math import atan2, cos, hypot, pi, sin

import pytest
import shapely
from helpers import plate

from partgen.cautions import TORCH_OFF
from partgen.cut.dry_run import faults, follow
from partgen.cut.loop import lying, placed
from partgen.cut.motion import program
from partgen.cut.plan import Way, plan
from partgen.cut.post import post
from partgen.entries.cutting import cutting
from partgen.errors import PartgenError
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline
from partgen.reference.profile_files import profiles_dir

PLAIN = post("plain")
PROFILES = profiles_dir()
PROCESS = cutting("plasma-65a")
FEED = PROCESS.feed_at(6)
SHEET = rectangle(400, 360, 0, (200, 180))
BOX = plate(
    [(0, 0), (120, 0), (120, 60), (0, 60)],
    holes=[("joint", 25, 30, "M16")],
    windows=[("w", rectangle(40, 20, 5, (80, 30)))],
)
BELT = belt([Pin(0, 0), Pin(120, 0, 0, 8), Pin(60, 70, 22), Pin(10, 50, -9), Pin(-15, 40)])


def planned(**way):
    there = [placed(lying(BOX), 60, 50, 0), placed(lying(BOX), 200, 200, 90, " 2")]
    way = {"kerf": PROCESS.kerf, "leads": True, **way}
    return plan(there, PROCESS, Way(**way), [SHEET])


def written(result, unit="mm", used=PLAIN):
    return program(result, used, FEED, unit=unit, comments=("job: (odd; name)",))


def check(content, result, sheet=SHEET, used=PLAIN):
    return faults(
        content,
        used,
        [p.run for p in result.passes],
        [(*p.lead_in, *p.lead_out) for p in result.passes],
        sheet,
    )


def burns(content, step=0.02):
    """A reader of the test's own: points of every torch-on path, arcs in small steps."""
    x = y = code = 0.0
    lit, paths, scale = False, [], 25.4 if b"\nG20\n" in content else 1.0
    for line in content.decode().splitlines():
        bare = re.sub(r"\(.*?\)", "", line)
        w = {a: float(v) for a, v in re.findall(r"([A-Z])(-?[\d.]+)", bare)}
        if bare == "M3":
            lit = True
            paths.append([])
        if bare == "M5":
            lit = False
        if bare.startswith(("G0", "G1", "G2 ", "G3 ")):
            code = w["G"]
        if "X" not in w:
            continue
        nx, ny = w["X"] * scale, w["Y"] * scale
        if lit and code == 1:
            paths[-1] += [(x, y), (nx, ny)]
        elif lit:
            cx, cy = x + w["I"] * scale, y + w["J"] * scale
            r, a, b = hypot(x - cx, y - cy), atan2(y - cy, x - cx), atan2(ny - cy, nx - cx)
            assert hypot(nx - cx, ny - cy) == pytest.approx(r, abs=0.002)
            turn = (b - a) % (2 * pi) if code == 3 else -((a - b) % (2 * pi))
            n = max(8, int(abs(turn) / step))
            paths[-1] += [(cx + r * cos(a + turn * k / n), cy + r * sin(a + turn * k / n))
                          for k in range(n + 1)]  # fmt: skip
        x, y = nx, ny
    return [shapely.LineString(p) for p in paths]


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("clockwise", [True, False])
def test_what_is_left_of_the_sheet_are_the_plates_at_size(unit, clockwise):
    """The torch of the profile's kerf is run along the program by GEOS: metal left is the plate."""
    result = planned(clockwise=clockwise)
    content = written(result, unit)
    assert check(content, result) == []
    kerf = shapely.union_all([b.buffer(PROCESS.kerf / 2, quad_segs=64) for b in burns(content)])
    left = SHEET.polygon("inside").difference(kerf)
    pieces = sorted(left.geoms, key=lambda p: p.area)
    plates = [p for p in pieces if abs(p.area - BOX.area) < 0.01 * BOX.area]
    assert len(plates) == 2
    for p in plates:
        assert p.area == pytest.approx(BOX.area, abs=3.0)  # leads nick a little, arcs in steps
        x0, y0, x1, y1 = p.bounds
        assert sorted((x1 - x0, y1 - y0)) == pytest.approx([60, 120], abs=0.03)


def test_the_program_says_what_it_is():
    text = written(planned()).decode()
    lines = text.splitlines()
    assert lines[0] == f"({TORCH_OFF})"
    assert "no offset in the control" in text
    assert "kerf 1.7 mm is in the path" in text
    assert "(job:  odd; name )" in lines
    assert [w for w in ("G21", "G40", "G90") if w in lines] == ["G21", "G40", "G90"]
    assert lines[-2:] == ["M5", "M2"]
    assert "G4 P0.40" in lines
    assert not re.search(r"^G4[12]|^G2 .*R", text, re.MULTILINE)


def test_arcs_are_arcs_and_as_many_lines_as_the_plan_has():
    result = planned()
    moves = [line for line in written(result).decode().splitlines() if re.match(r"G[123] ", line)]
    assert len(moves) == sum(len(p.chain) for p in result.passes)
    assert sum(line[1] in "23" for line in moves) == sum(
        s.bulge != 0 for p in result.passes for s in p.chain
    )


def test_micro_joints_lift_the_torch():
    result = planned(joints=3)
    content = written(result)
    assert check(content, result) == []
    assert len(follow(content, PLAIN).burns) == 2 * (2 + 3)


MISTAKES = {
    "a contour left out": (r"G1 X180.85\d* Y\d+.\d+\n", "", "is not cut|off every contour"),
    "an arc turned round": (r"G3 (X139\.\d+ .*)", r"G2 \1", "off every contour"),
    "a contour shifted": (r"G1 (X\d+\.\d+) Y49.15", r"G1 \1 Y49.12", "off every contour|not cut"),
    "travel with the torch on": (
        r"M5\n\(cut 2.*\n(G0 .*\n)M3\nG4 P0.40\n",
        r"\1",
        "travel with the torch on",
    ),
    "a whole cut left out": (r"\(cut 1(?s:.*?)(?=\(cut 2)", "", r"^contour at .* is not cut"),
    "torch lit twice": (r"M5\n\(cut 2", "(cut 2", "torch lit twice"),
    "no dwell": (r"G4 P0.40\n", "", "arc starts but"),
    "an offset in the control": (r"G40", "G41", "G41 is not known here"),
    "steps instead of places": (r"G90", "G91", "G91|before unit, G90"),
    "no unit": (r"G21\n", "", "before unit"),
    "torch left on": (r"M5\nM5\nM2", "M2", "ends with the torch on"),
    "an arc off its centre": (r"(G3 X\S+ Y\S+) I0.0000", r"\1 I0.0300", "differ in radius"),
    "a dwell after the cut began": (r"(G4 P0.40\n)(G1 .*\n)", r"\2\1", "before its dwell"),
    "a dwell with the torch off": (r"(M3\n)(G4 P0.40\n)", r"\2\1", "dwell with the torch off"),
    "a cut made twice": (r"(\(cut 2(?s:.*?))(?=\(cut 3)", r"\1\1", r"\d mm .* is cut twice"),
    "feed by the turn": (r"G94", "G95", "G95 is not known here"),
    "a word unknown": (r"G17", "G17 Pang", "'Pang' is no word"),
    "a code unknown": (r"G17", "G18", "G18 is not known here"),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_the_dry_run_finds(name):
    before, after, says = MISTAKES[name]
    result = planned()
    text = written(result).decode()
    wrong = re.sub(before, after, text, count=0 if name == "no dwell" else 1)
    assert wrong != text
    found = check(wrong.encode("ascii", "replace"), result)
    assert re.search(says, "; ".join(found)), found


def test_the_dry_run_keeps_the_torch_on_the_sheet():
    result = planned()
    small = rectangle(230, 300, 0, (115, 150))
    assert any("off the sheet" in f for f in check(written(result), result, small))


def test_the_tolerance_is_two_hundredths():
    result = planned()
    text = written(result).decode()
    for shift, well in ((0.015, True), (0.025, False)):
        moved = re.sub(r"Y49.1500", f"Y{49.15 - shift:.4f}", text)
        assert moved != text
        found = check(moved.encode(), result)
        found = [f for f in found if "radius" not in f]  # its corner arcs' ends differ
        assert (found == []) == well, found


def test_circles_and_major_arcs_are_cut_in_halves():
    result = plan([lying(plate_of(Outline.circle(100, 100, 80)))], PROCESS, Way(1.7, leads=True))
    content = written(result)
    assert check(content, result, None) == []
    (path,) = burns(content)
    assert path.length == pytest.approx(pi * 81.7 + PROCESS.lead + PROCESS.lead_out, abs=0.02)


def plate_of(outline):
    return replace(BOX, outline=outline, holes=(), windows=())


def test_a_belt_is_traced():
    result = plan([lying(plate_of(BELT.moved(60, 50)))], PROCESS, Way(1.7, leads=True), [SHEET])
    for unit in ("mm", "in"):
        assert check(written(result, unit), result) == []


def test_a_post_of_ones_own(tmp_path):
    text = (PROFILES / "post" / "plain.toml").read_text()
    own = tmp_path / "own.toml"
    own.write_text(
        text.replace('"M3"', '"M3 S1"').replace('"G4 P{seconds}"', '"G4 X{seconds}"')
        .replace('["(", ")"]', '[";", ""]').replace('"job"', '"in"').replace('["M2"]', '["M9", "M30"]')
    )  # fmt: skip
    used = post(str(own))
    result = planned()
    content = program(result, used, FEED, unit="mm", comments=())
    assert check(content, result, used=used) == []
    assert content.decode().splitlines()[0] == f";{TORCH_OFF}"
    assert b"\nG20\n" in content
    assert b"M3 S1\nG4 X0.40\n" in content


def test_posts_that_will_not_do(tmp_path):
    text = (PROFILES / "post" / "plain.toml").read_text()
    own = tmp_path / "own.toml"
    for wrong, says in (
        (text.replace("{seconds}", ""), "has no {seconds}"),
        (text.replace("places = 4", "places = 2"), "places"),
        (text.replace("torch_on", "torch"), "torch_on"),
        ("name = ", "own.toml: not readable as TOML"),
    ):
        own.write_text(wrong)
        with pytest.raises(PartgenError, match=re.escape(says)):
            post(str(own))
    with pytest.raises(PartgenError, match="plain"):
        post("plane")


@pytest.mark.parametrize("arc", ["G2 X30.0", "G3 X30 Y0 I1e9"])
def test_an_arc_cut_short_is_told_and_followed_as_a_line(arc):
    """A word lost: the ends differ in radius (RS274/NGC 3.5.3), and no arc of any size comes of it."""
    start = ["G21", "G90", "G0 X0 Y0.5", "F1000", PLAIN.torch_on, PLAIN.dwell.format(seconds="0.5")]
    run = follow("\n".join([*start, arc]).encode(), PLAIN)
    assert "line 7: the arc's ends differ in radius" in run.faults
    assert sum(s.length for burn in run.burns for s in burn) < 31
