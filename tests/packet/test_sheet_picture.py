"""Pictures of sheets: what is asked for is drawn, where the plan has it."""

import re
import struct
import zlib
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from helpers import made_demo

from partgen.packet.sheet_picture import LEAD_INK, SCRIBE_INK, sheet_picture
from partgen.sheets.cut_plans import Asked
from partgen.tasks.making import make

BUGGY = Path(__file__).parents[2] / "demo_parts" / "hill-trial-buggy.toml"
SVG = "{http://www.w3.org/2000/svg}"
CAUTION = 2.6 / 90  # of the width: the line below the sheet


def made(**asked):
    found = make(BUGGY, {}, (), "R2000", asked=Asked(**asked))
    (plan,) = [p for p in found.plans if p.nest.stock.thickness == 6]
    return plan, Asked(**asked)


def drawn(plan, asked):
    return ElementTree.fromstring(sheet_picture(plan, "mm", asked))


def words(root):
    return [t.text for t in root.iter(f"{SVG}text")]


def box(root):
    return [float(v) for v in root.get("viewBox").split()]


@pytest.fixture(scope="module")
def everything():
    return made(leads=True, joints=3, text=True, order=True, clockwise=True)


def test_a_plain_picture_shows_the_whole_sheet_with_names():
    plan, asked = made()
    root = drawn(plan, asked)
    # 2500 x 1250, a pad all round, and the cautions below
    assert box(root)[2:] == pytest.approx([2550, 1300 + 2500 * CAUTION], abs=0.01)
    assert "lower-front-mount/outer/left" in words(root)
    assert not list(root.iter(f"{SVG}circle"))
    assert not [w for w in words(root) if w.isdigit()]


def test_used_length_across_the_page_with_a_number_for_each_cut(everything):
    plan, asked = everything
    root = drawn(plan, asked)
    _, _, wide, high = box(root)
    (used,) = plan.nest.layout.used
    assert wide == pytest.approx(1250 * 1.04)
    assert high == pytest.approx(used.length * 1.08 + 1250 * (0.04 + CAUTION), abs=0.01)
    numbers = sorted(int(w) for w in words(root) if w.isdigit())
    assert numbers == list(range(1, len(plan.plan.cuts) + 1))


def test_every_pierce_is_a_dot_where_the_torch_begins(everything):
    plan, asked = everything
    dots = {
        (float(c.get("cx")), -float(c.get("cy"))) for c in drawn(plan, asked).iter(f"{SVG}circle")
    }
    pierces = {tuple(round(v, 3) for v in p.chain[0].start) for p in plan.plan.passes}
    assert dots == pierces
    assert len(dots) == plan.plan.pierces


def test_leads_joints_and_strokes_are_all_there(everything):
    plan, asked = everything
    styles = [p.get("style") for p in drawn(plan, asked).iter(f"{SVG}path")]
    leads = sum(bool(p.lead_in) + bool(p.lead_out) for p in plan.plan.passes)
    assert sum(LEAD_INK in s for s in styles) == leads
    assert sum(SCRIBE_INK in s for s in styles) == len(plan.plan.marks)
    assert sum("#1f6f54" in s for s in styles) == plan.plan.joints == 24


def test_numbers_of_outside_edges_stand_off_the_metal_they_count(everything):
    plan, asked = everything
    cuts = plan.plan.cuts
    for text in drawn(plan, asked).iter(f"{SVG}text"):
        if text.text.isdigit():
            cut, at = cuts[int(text.text) - 1], (float(text.get("x")), -float(text.get("y")))
            metal = cut.loop.nominal.polygon("outside")
            assert cut.loop.inside or not metal.contains(shapely.Point(at))
            start = cut.passes[0].chain[0].start
            assert shapely.Point(at).distance(shapely.Point(start)) < 60


def test_a_scribed_plate_goes_without_its_name(everything):
    plan, asked = everything
    left = [w for w in words(drawn(plan, asked)) if not w.isdigit()]
    assert not [w for w in left if w.startswith("lower-front-mount")]
    without = [
        note for note in make(BUGGY, {}, (), "R2000", asked=asked).ready.notes if "no room" in note
    ]
    assert len(left) <= len(without)


def test_names_keep_off_drill_centres():
    plan, asked = made(order=True)
    marks = [shapely.LineString(m.path) for m in plan.plan.marks]
    assert len(marks) == 8
    for text in drawn(plan, asked).iter(f"{SVG}text"):
        if not text.text.isdigit() and not text.get("transform"):
            x, y, size = float(text.get("x")), -float(text.get("y")), float(text.get("font-size"))
            wide = 0.3 * size * len(text.text)
            room = shapely.box(x - wide, y - size / 2, x + wide, y + size / 2)
            assert not any(room.intersects(mark) for mark in marks)


def pixels(content):
    """Width, height and bytes of a PNG with 8 bits a channel, filters undone by hand where none."""
    wide, high = struct.unpack(">II", content[16:24])
    data = b"".join(re.findall(rb"(?s)IDAT(.*?)(?=.{8}IDAT|.{8}IEND)", content))
    return wide, high, zlib.decompress(data)


def test_png_of_each_sheet_on_request(tmp_path):
    asked = Asked(png=700, order=True)
    found = make(BUGGY, {}, (), "R2000", asked=asked)
    names = [n for n in found.files if n.endswith(".png")]
    assert sorted(n.replace(".png", ".svg") for n in names) == sorted(
        n for n in found.files if "sheet" in n and n.endswith(".svg")
    )
    for name in names:
        wide, high, data = pixels(found.files[name])
        assert wide == 700
        assert len(data) >= wide * high
        assert len(np.unique(np.frombuffer(data, np.uint8))) > 20
    assert not [n for n in made_demo("hill-trial-buggy").files if n.endswith(".png")]
