"""The weld map: every mating edge once, legs by AISC 360-16 Table J2.4 (typed in again here)."""

import csv
import io
import itertools
import re
from collections import Counter
from math import cos, hypot, radians
from pathlib import Path

import pytest
import shapely

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.weld_sheets import weld_sheets
from partgen.plates.edges import edges_of
from partgen.plates.seam import KEEP_OUT, STOP
from partgen.welds.weld_map import weld_map

ROOT = Path(__file__).parents[1]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer.toml"


def made(path=BUGGY, **changes):
    return build(load_job(path, changes))


def bare(tmp_path, more=""):
    """The buggy's rail as wide as its joint needs: plates on the rail, no spacers."""
    text = BUGGY.read_text().replace("rail_width = 52", "rail_width = 58")
    head, mount, tail = text.partition('family = "link-mount"')
    mount += "\n".join(
        line
        for line in tail.split("[[part]]")[0].split("\n")
        if not re.match("(shelf|height|weld_leg) =", line)
    )
    text = "[[part]]".join([head + mount, *tail.split("[[part]]")[1:]])
    path = tmp_path / "bare.toml"
    path.write_text(re.sub(r"(?m)^rear = 160", f"rear = 160\n{more}", text))
    return build(load_job(path))


def test_plates_on_the_rail_are_welded_along_their_body_but_not_the_ear(tmp_path):
    job = bare(tmp_path)
    assert not any(job.mounts[0].fit.spacers)
    welds, _ = weld_map(job)
    rail = shapely.Polygon([(0, 0), (260, 0), (420, -28), (700, -60), (700, 40), (420, 72),
                            (260, 100), (0, 100)]).buffer(2)  # fmt: skip
    for label in ("lower-front-mount/inner/left", "lower-front-mount/outer/left"):
        mine = [w for w in welds if w.plate == label]
        assert sorted(w.seam.edge.split()[0] for w in mine) == [
            "front",
            "lower",
            "lower",
            "rear",
            "upper",
        ]
        for w in mine:
            assert all(rail.contains(shapely.Point(s.at(0.5))) for s in w.path)
            assert (w.leg, w.seam.sides) == (4, 1)


def test_a_leg_asked_beyond_the_edge_is_cut_down_and_said(tmp_path):
    """AISC 360-16 J2.2b: 6 mm plate takes 4 mm along its edge."""
    welds, _ = weld_map(bare(tmp_path, "weld_leg = 5"))
    mine = [w for w in welds if w.plate == "lower-front-mount/inner/left"]
    assert {w.leg for w in mine} == {4}
    assert all("leg 5 mm asked; along this edge no more than 4 mm" in w.notes for w in mine)


def test_every_mating_edge_once(tmp_path):
    for job in (made(), made(TRAILER), bare(tmp_path)):
        welds, _ = weld_map(job)
        keys = [(w.plate, w.seam.mate, w.path) for w in welds]
        assert len(set(keys)) == len(keys)
        lines = [
            (w, shapely.LineString([s.at(k / 4) for s in w.path for k in range(5)])) for w in welds
        ]
        for k, (a, line) in enumerate(lines):
            for b, other in lines[:k]:
                if (a.plate, a.seam.mate) == (b.plate, b.seam.mate):
                    assert line.distance(other) > 1
        assert [w.step for w in welds] == list(range(1, len(welds) + 1))


def test_a_spacer_mates_rail_and_plate_all_round():
    welds, notes = weld_map(made())
    mine = [w for w in welds if w.plate == "rail-spacer/pad"]
    assert [w.seam.mate for w in mine].count("rail") == 4
    assert [w.seam.mate for w in mine].count("lower-front-mount plate") == 4
    assert sum(w.edge_length for w in mine) == pytest.approx(2 * 2 * (150 + 60 - 4 * 6))
    assert all(w.count == 4 for w in mine)
    assert not [w for w in welds if w.plate.startswith("lower-front-mount")]
    assert any("a leg short of the plate's edge" in note for note in notes)


def test_gusset_lengths_by_hand():
    """Web 58 x 60/44, snipes 14, toe 6, corners 3; outrigger 90 x 70, snipe 15."""
    welds, _ = weld_map(made())
    web = {w.seam.edge: w for w in welds if w.plate == "web/gusset/left"}
    assert web["base"].edge_length == pytest.approx(58 - 2 * 14)
    assert web["upright"].edge_length == pytest.approx(60 - 14)
    assert set(web) == {"base", "upright", "far"}
    assert web["base"].length == pytest.approx(30 - 2 * STOP)
    assert web["base"].leg == 4
    out = {w.seam.edge: w for w in welds if w.plate == "outrigger-gusset/gusset/right"}
    assert out["base"].edge_length == pytest.approx(90 - 15)
    assert out["upright"].edge_length == pytest.approx(70 - 15)
    assert all(w.seam.sides == 2 for w in (*web.values(), *out.values()))


def test_runs_stop_short_at_both_ends(tmp_path):
    for w in weld_map(bare(tmp_path))[0]:
        assert w.length == pytest.approx(w.edge_length - 2 * STOP)
        assert w.run[0].start != w.path[0].start
        away = hypot(w.run[0].x0 - w.path[0].x0, w.run[0].y0 - w.path[0].y0)
        assert away == pytest.approx(STOP, abs=0.3)


def test_the_flange_keep_out_is_measured(tmp_path):
    """Shelf 8 + 5 = 13 mm under 19; with a shelf of 20 the lower edge is clear of it."""
    low = next(w for w in weld_map(bare(tmp_path))[0] if w.seam.edge.startswith("lower"))
    assert low.flange == pytest.approx(13, abs=0.01)
    assert any("13.0 mm from the rail's flange edge" in n for n in low.notes)
    lifted = weld_map(bare(tmp_path, "shelf = 20\nheight = 55"))[0]
    low = next(w for w in lifted if w.seam.edge.startswith("lower"))
    assert low.flange == pytest.approx(20, abs=0.01)
    assert not any("flange" in n for n in low.notes)
    assert KEEP_OUT == 19


def test_hands_are_mirror_images(tmp_path):
    welds, _ = weld_map(bare(tmp_path))
    left = {w.seam.edge: w.length for w in welds if w.plate == "lower-front-mount/inner/left"}
    right = {w.seam.edge: w.length for w in welds if w.plate == "lower-front-mount/inner/right"}
    assert left == pytest.approx(right)


def test_neighbours_in_sequence_lie_on_different_plates(tmp_path):
    welds, _ = weld_map(bare(tmp_path))
    longest = max(len([w for w in welds if w.plate == p]) for p in {w.plate for w in welds})
    same = sum(a.plate == b.plate for a, b in itertools.pairwise(welds))
    assert same <= longest // 2
    hands = [w.plate.rsplit("/")[-1] for w in welds if w.plate.startswith("lower")]
    assert {"left", "right"} <= set(hands[:4])


def test_a_short_edge_says_it_counts_for_less(tmp_path):
    path = tmp_path / "short.toml"
    path.write_text(
        BUGGY.read_text().replace("width = 90\n", "width = 38\n").replace("lightening = 18", "")
    )
    welds, _ = weld_map(build(load_job(path)))
    base = next(w for w in welds if w.plate.startswith("outrigger") and w.seam.edge == "base")
    assert base.edge_length == pytest.approx(23)
    assert any("11.0 mm is under 4 legs" in n for n in base.notes)


def test_corners_part_edges_and_gentle_kicks_do_not():
    plate = next(p for p in made().plates if p.label == "lower-front-mount/inner/left")
    edges = edges_of(plate.outline)
    upper = max(edges, key=lambda e: sum(s.length for s in e))
    assert len(upper) == 3  # straight, kick of 10 degrees, straight
    assert 260 - 10 * cos(radians(10)) < upper[1].x0 + 10 < 320
    spacer = next(p for p in made().plates if p.part == "rail-spacer")
    assert len(edges_of(spacer.outline)) == 4


def test_files_hold_every_weld_and_the_hold_point(tmp_path):
    job = bare(tmp_path)
    files = weld_sheets(job, "bare")
    rows = list(csv.reader(io.StringIO(files["weld-map.csv"].decode())))
    assert rows[1][0] == "hold"
    assert "second person" in rows[1][-1]
    welds, _ = weld_map(job)
    assert [r[0] for r in rows if r[0].isdigit()] == [str(w.step) for w in welds]
    total = next(r for r in rows if r[0] == "all")
    assert float(total[8]) == pytest.approx(
        sum(w.length * w.seam.sides * w.count for w in welds), abs=1
    )
    picture = files["pictures/bare_weld-map.svg"].decode()
    assert picture.count('stroke="#b3261e"') == len(welds)
    assert "safe" not in picture.lower()


def test_pads_of_a_stack_mate_each_other_once():
    """Inner pad of one plate, outer of two: two rails, two plates and one joint between, each side."""
    cart = build(load_job(ROOT / "demo_parts" / "swamp-cart.toml"))
    fit = cart.mounts[0].fit
    assert (len(fit.inner), len(fit.outer)) == (1, 2)
    welds, _ = weld_map(cart)
    found = Counter()
    for w in welds:
        if w.plate.startswith("rail-pad/"):
            found[w.plate, w.seam.mate] += w.count
    edges, sides = 4, 2
    assert found == {
        ("rail-pad/inner", "rail"): edges * sides,
        ("rail-pad/inner", "arm-mount plate"): edges * sides,
        ("rail-pad/outer", "rail"): edges * sides,
        ("rail-pad/outer", "the next pad"): edges * sides,
        ("rail-pad/outer", "arm-mount plate"): edges * sides,
    }
    assert all(w.leg is None for w in welds if w.seam.mate == "the next pad")
