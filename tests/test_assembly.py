"""The plates of a mount in space: axes, coaxial holes, edges that meet, and the picture of it."""

import re
from dataclasses import replace
from itertools import combinations, pairwise
from math import sqrt
from pathlib import Path

import pytest
from places import meet

from partgen.job.assembly import assemblies, off_axis
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.assembly_picture import assembly_picture, back_to_front, isometric
from partgen.plates.solid import DOWN, FORWARD, LEFT, UP, Frame, dot

ROOT = Path(__file__).parents[1]
STRAIGHT = (ROOT / "demo_parts" / "camping-trailer.toml").read_text()


def made(tmp_path, text=STRAIGHT, **changes):
    for old, new in changes.items():
        assert old.replace("_", " ") in text or old in text
        text = text.replace(old, new)
    job = tmp_path / "job.toml"
    job.write_text(text)
    return build(load_job(job))


def pieces(assembly):
    """By name; the pads by side."""
    found = {}
    for solid in assembly.solids:
        name = solid.name
        if name == "rail-spacer":
            name += "-inner" if solid.box[1][1] < 0 else "-outer"
        found[name] = solid
    return found


def test_axes_are_right_handed():
    frame = Frame((1.0, 2.0, 3.0), FORWARD, UP)
    assert frame.normal == (0, -1, 0)  # towards the middle of the vehicle, on the left side
    assert Frame((0, 0, 0), LEFT, DOWN).normal == (-1, 0, 0)
    assert frame.at((10, 20), 4) == (11, -2, 23)


def test_pieces_stack_across_the_vehicle_without_gap_or_overlap(tmp_path):
    """Rail 2 in, spacers 3/8 in each, ears 1/4 in: faces at 1, 1.375 and 1.625 in from the middle."""
    (assembly,) = assemblies(made(tmp_path))
    spans = {
        name: tuple(round(v / 25.4, 9) for v in (s.box[0][1], s.box[1][1]))
        for name, s in pieces(assembly).items()
    }
    assert spans == {
        "rail": (-1, 1),
        "rail-spacer-inner": (-1.375, -1),
        "rail-spacer-outer": (1, 1.375),
        "inner": (-1.625, -1.375),
        "outer": (1.375, 1.625),
        "web": (-1.375, 1.375),
    }


def test_bolt_holes_are_coaxial(tmp_path):
    (assembly,) = assemblies(made(tmp_path))
    (centres,) = assembly.bolt_axes().values()
    assert len(centres) == 2
    assert off_axis(assembly, "joint") < 0.01
    assert [c[2] / 25.4 for c, _ in centres] == [-2, -2]
    spoiled = replace(
        assembly,
        solids=tuple(
            replace(s, holes=(("joint", (0.3, -50.8)),)) if s.name == "outer" else s
            for s in assembly.solids
        ),
    )
    assert off_axis(spoiled, "joint") == pytest.approx(0.3)


def test_the_webs_edges_lie_on_the_ears_and_on_the_rail(tmp_path):
    (assembly,) = assemblies(made(tmp_path))
    found = pieces(assembly)
    web, inner, outer, rail = (found[n] for n in ("web", "inner", "outer", "rail"))
    assert web.box[0][1] == pytest.approx(inner.box[1][1], abs=0.01)
    assert web.box[1][1] == pytest.approx(outer.box[0][1], abs=0.01)
    assert web.box[1][2] == pytest.approx(rail.box[0][2], abs=0.01)


def test_another_joint_moves_the_plates(tmp_path):
    (assembly,) = assemblies(
        made(tmp_path, STRAIGHT.replace('joint_width = "2-5/8 in"', "joint_width = 2.4"))
    )
    found = pieces(assembly)
    assert found["outer"].box[0][1] == pytest.approx(1.25 * 25.4)


def test_no_two_pieces_interpenetrate():
    """Points all through one piece lie outside the metal of every other; the rail is hollow."""
    seen = 0
    for demo in sorted((ROOT / "demo_parts").glob("*.toml")):
        for assembly in assemblies(build(load_job(demo))):
            for a, b in combinations(assembly.solids, 2):
                if not (a.is_inside or b.is_inside):
                    assert not meet(a, b), (demo.name, a.name, b.name)
                    seen += 1
    assert seen > 100


def test_every_bolt_of_every_demo_is_coaxial():
    axes = 0
    for demo in sorted((ROOT / "demo_parts").glob("*.toml")):
        for assembly in assemblies(build(load_job(demo))):
            for name, ((_, way), *others) in assembly.bolt_axes().items():
                assert off_axis(assembly, name) < 0.01, (demo.name, name)
                assert all(abs(dot(way, w)) > 1 - 1e-9 for _, w in others), (demo.name, name)
                axes += 1
    assert axes > 12


def test_place_moves_a_pad_in_the_picture_only(tmp_path):
    text = STRAIGHT.replace("size = [6,", "place = [1.5, 2.5]\nsize = [6,")
    (assembly,) = assemblies(made(tmp_path, text))
    low, high = pieces(assembly)["rail-spacer-inner"].box
    assert ((low[0] + high[0]) / 2 / 25.4, (low[2] + high[2]) / 2 / 25.4) == pytest.approx(
        (1.5, 2.5)
    )


def test_isometric_scales_the_three_axes_alike():
    origin = isometric((0, 0, 0))
    ends = [isometric(p) for p in (FORWARD, LEFT, UP)]
    assert origin == (0, 0)
    assert [x * x + y * y for x, y in ends] == pytest.approx([2 / 3] * 3)
    assert ends[0][0] < 0 < ends[1][0]
    assert ends[2] == pytest.approx((0, 2 / sqrt(6)))


def test_drawn_from_the_back_to_the_front(tmp_path):
    (assembly,) = assemblies(made(tmp_path))
    order = [s.name for s in back_to_front(assembly.solids)]
    assert order.index("inner") < order.index("rail") < order.index("outer")
    assert order.index("web") < order.index("outer")


def test_pulled_apart_nothing_hides_the_bolts_line(tmp_path):
    (assembly,) = assemblies(made(tmp_path))
    apart = assembly.pulled_apart()
    gaps = sorted((s.box[0][1], s.box[1][1]) for s in apart.solids if s.name != "web")
    assert all(a[1] + 10 < b[0] for a, b in pairwise(gaps))
    assert off_axis(apart, "joint") < 0.01


@pytest.mark.parametrize("hand", ["left", "right"])
def test_picture_names_every_piece_and_the_right_side_is_the_mirror_image(tmp_path, hand):
    (assembly,) = assemblies(made(tmp_path))
    text = assembly_picture(replace(assembly, hand=hand)).decode()
    assert re.findall(r">([^<]+)</text>", text) == [s.name for s in assembly.solids]
    assert f"{hand} side" in text
    numbers = [float(n) for n in re.findall(r'd="M(-?[\d.]+)', text)]
    plain = [float(n) for n in re.findall(r'd="M(-?[\d.]+)', assembly_picture(assembly).decode())]
    assert (numbers == plain) == (hand == "left")
    assert len(numbers) == len(plain)
