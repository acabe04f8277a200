"""Files whose edges micro-joints hold open are read as the closed edges they were."""

import itertools
import re

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from partgen.cli import main
from partgen.cut.loop import Lying
from partgen.cut.plan import Way, plan
from partgen.dxf.read import DxfError, read_pieces
from partgen.dxf.write import write_items
from partgen.entries.cutting import cutting
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline
from partgen.sheets.cut_files import cut_items

PROCESS = cutting("plasma-65a")
DROP = belt([Pin(0, 0, 30), Pin(110, 15, 8), Pin(40, 90, 4)])
SHAPES = {
    "rounded": (Outline.circle(31, 22, 17), rectangle(120, 70, 12, (50, 40))),
    "drop": (Outline.circle(0, 0, 17), DROP),
    "disc": (Outline.circle(3, 4, 60),),
    "sharp": (rectangle(90, 40, 0, (45, 20)),),
}


def planned(name, joints, clockwise, kerf=0.0):
    *openings, edge = SHAPES[name]
    lying = Lying(name, tuple((f"o{k}", o) for k, o in enumerate(openings)), edge)
    return plan([lying], PROCESS, Way(kerf=kerf, joints=joints, clockwise=clockwise))


def file_of(found, version="R2000", unit="mm"):
    items = list(cut_items(found, one_layer=False))
    return write_items(items, unit=unit, version=version, kerf=found.way.kerf, joint=found.joint)


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("joints", "clockwise"), [(1, False), (2, True), (3, False), (5, True)])
@pytest.mark.parametrize(("version", "unit"), [("R2000", "mm"), ("R12", "in"), ("R12", "mm")])
def test_edges_come_back_whole(name, joints, clockwise, version, unit):
    found = planned(name, joints, clockwise)
    data = file_of(found, version, unit)
    assert b"held by micro-joints: each outside edge is open there, for" in data
    (piece,) = read_pieces(data, where="held.dxf")
    assert len(piece) == len(SHAPES[name])
    for got, want in zip(piece, SHAPES[name], strict=True):
        assert got.area == pytest.approx(want.area, rel=1e-8)
        assert got.length == pytest.approx(want.length, rel=1e-8)
        assert all(want.distance((v.x, v.y)) < 1e-6 for v in got.vertices)


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 12), st.booleans(), st.sampled_from(sorted(SHAPES)))
def test_any_number_of_joints(joints, clockwise, name):
    found = planned(name, joints, clockwise)
    assert 1 <= found.joints <= joints
    gap = PROCESS.micro_joint + PROCESS.kerf
    cut = next(c for c in found.cuts if c.is_held)
    open_length = cut.path.length - sum(s.length for p in cut.passes for s in p.run)
    assert open_length == pytest.approx(gap * found.joints, abs=1e-6)
    (piece,) = read_pieces(file_of(found), where="held.dxf")
    assert piece[-1].area == pytest.approx(SHAPES[name][-1].area, rel=1e-8)


def test_neighbours_nearer_than_the_joint_are_not_joined_to_each_other():
    """Two plates a millimetre apart, the joints 3.2 mm wide."""
    a, b = rectangle(60, 40, 0, (30, 20)), rectangle(60, 40, 0, (91, 20))
    found = plan([Lying("a", (), a), Lying("b", (), b)], PROCESS, Way(joints=4))
    pieces = read_pieces(file_of(found), where="two.dxf")
    assert sorted(o.box for (o,) in pieces) == [(0, 0, 60, 40), (61, 0, 121, 40)]


def without_a_run(text):
    return re.sub(r"(?ms)^  0\nLWPOLYLINE\n.*?(?=^  0\n)", "", text, count=1)


def narrower(text):
    return text.replace("open there, for 3.2 mm", "open there, for 3 mm")


@pytest.mark.parametrize("change", [without_a_run, narrower])
def test_a_joint_that_does_not_close_is_named(change):
    text = file_of(planned("sharp", 3, clockwise=False)).decode()
    assert change(text) != text
    with pytest.raises(DxfError) as error:
        read_pieces(change(text).encode(), where="held.dxf")
    assert re.fullmatch(
        r"held\.dxf: LWPOLYLINE.*: this file says that micro-joints hold its edges, but from "
        r"\(.*\) mm the cut does not go on after 3\.?2? mm; take the file made without --joints",
        str(error.value),
    )


def test_a_small_disc_with_room_for_no_joint_is_cut_free_with_a_note():
    """A disc of 2 mm is 6.3 mm round; a joint leaves 3.2 mm open on one half circle of 3.1 mm."""
    found = plan([Lying("speck", (), Outline.circle(0, 0, 2))], PROCESS, Way(joints=2))
    assert found.joints == 0
    assert found.notes == ("speck: outside edge: room for 0 of 2 micro-joints",)
    assert not found.cuts[0].is_held


def test_what_nest_is_given_with_joints_it_lays_out(tmp_path):
    def run(*args):
        result = CliRunner().invoke(main, [str(a) for a in args])
        assert result.exit_code == 0, result.output

    job = tmp_path / "job.toml"
    job.write_text('[job]\nname = "Disc"\nunits = "mm"\n[[part]]\nname = "d"\nfamily = "washer"\n'
                   'diameter = 90\nbolt = "M12"\nplate = "6 mm S355"\n'
                   '[[sheet]]\nplate = "6 mm S355"\nsize = [300, 300]\n')  # fmt: skip
    run("make", job, "--out", tmp_path / "a", "--joints", 3, "--leads")
    (held,) = (tmp_path / "a" / "plates").glob("*.dxf")
    run("nest", held, "--sheet", "200x200", "--out", tmp_path / "b")
    (sheet,) = itertools.chain((tmp_path / "b").glob("nested_*.dxf"))
    ((hole, edge),) = read_pieces(sheet.read_bytes(), where="sheet")
    assert edge.circle_of[2] == pytest.approx(90)
    assert hole.circle_of[2] == pytest.approx(13.5)
