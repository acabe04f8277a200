"""The section picture: read back, true to scale."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.section_picture import section_picture

DEMOS = Path(__file__).parents[2] / "demo_parts"
SVG = "{http://www.w3.org/2000/svg}"


def drawn(demo):
    job = load_job(DEMOS / f"{demo}.toml")
    mount = build(job).mounts[0]
    root = ET.fromstring(section_picture(mount, job.unit))
    boxes = [
        tuple(float(r.get(k)) for k in ("x", "y", "width", "height"))
        for r in root.iter(f"{SVG}rect")
    ]
    texts = [t.text for t in root.iter(f"{SVG}text")]
    return mount, boxes, texts, root


@pytest.mark.parametrize("demo", ["hill-trial-buggy", "camping-trailer", "swamp-cart"])
def test_every_piece_is_there_to_scale(demo):
    mount, boxes, _, _ = drawn(demo)
    fit, bolt = mount.fit, mount.bolt_fit
    widths = [round(w, 2) for _, _, w, _ in boxes]
    wanted = [fit.rail_width, fit.joint_width, bolt.near_ear, bolt.far_ear, bolt.length,
              bolt.bolt.head_height, bolt.nut_height,
              *(s.thickness for s in (*fit.inner, *fit.outer))]  # fmt: skip
    wanted += [fit.shim] * (2 if fit.shim else 0)
    wanted += [bolt.bolt.washer_thickness] * (2 + bolt.extra_washers)
    for width in wanted:
        assert round(width, 2) in widths or round(width - 0.001, 2) in widths, width
        if round(width, 2) in widths:
            widths.remove(round(width, 2))


def test_the_ears_stand_a_gap_apart_and_the_joint_hangs_where_it_is_shifted():
    mount, boxes, _, _ = drawn("swamp-cart")
    ears = sorted((x, w) for x, y, w, h in boxes if w == 6 and h > 100)
    inner, outer = ears[0][0] + ears[0][1], ears[-1][0]
    assert outer - inner == pytest.approx(mount.fit.gap, abs=0.01)
    x, _, w, _ = next(b for b in boxes if abs(b[2] - mount.fit.joint_width) < 0.002)
    assert x + w / 2 == pytest.approx(mount.fit.shift, abs=0.01) == 3
    rail = next(b for b in boxes if b[2] == 50 and b[3] == 100)
    assert rail[0] == -25


def test_figures_are_in_the_jobs_unit():
    _, _, texts, _ = drawn("camping-trailer")
    assert {"gap 2-3/4", "rail 2", "joint 2-5/8", "over ears 3-1/4"} <= set(texts)
    assert "5/8-11 x 5 in under the head" in texts
    assert any("shims 2 x 3/64" in t for t in texts)


def test_thread_begins_where_the_sum_says():
    mount, _, _, root = drawn("swamp-cart")
    lines = [ln for ln in root.iter(f"{SVG}line") if ln.get("x1") == ln.get("x2")]
    head = mount.fit.gap / 2 + mount.fit.shift + 6 + 3
    start = head - 87
    long = [ln for ln in lines if abs(float(ln.get("y1")) - float(ln.get("y2"))) == 16]
    assert any(abs(float(ln.get("x1")) - start) < 0.01 for ln in long)


def test_a_mount_without_its_ears_has_no_section():
    mount = build(load_job(DEMOS / "swamp-cart.toml")).mounts[0]
    assert section_picture(replace(mount, ears=None), "mm") is None
