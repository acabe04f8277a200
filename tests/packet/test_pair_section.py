"""Sections of pairs that no rail stands between, read back; and the words of their fit."""

import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path

import pytest

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.fit_section import fit_rows
from partgen.packet.mount_section import mount_section
from partgen.printing.fit import fit

DEMOS = Path(__file__).parents[2] / "demo_parts"
SVG = "{http://www.w3.org/2000/svg}"


@cache
def built(demo):
    return build(load_job(DEMOS / f"hill-trial-buggy-{demo}.toml"))


def boxes(demo, name):
    root = ET.fromstring(mount_section(built(demo), built(demo).shop.mounts[name]))
    found = [tuple(float(r.get(k)) for k in ("x", "y", "width", "height"))
             for r in root.iter(f"{SVG}rect")]  # fmt: skip
    return found, [t.text for t in root.iter(f"{SVG}text")]


def test_through_a_rail_every_piece_is_to_scale_and_in_its_place():
    """Ear 6, gap 47 + 1/32 in, plate 6, rail 52 with a sleeve 1/4 mm shorter, plate 6."""
    found, texts = boxes("through-bolt", "upper-mount")
    spans = {(round(x, 2), round(x + w, 2)) for x, _, w, _ in found}
    left = -26 - 6 - (47 + 25.4 / 32)
    for low, high in ((-26, 26), (-32, -26), (26, 32), (left - 6, left), (-25.88, 25.88)):
        assert any(abs(a - low) < 0.011 and abs(b - high) < 0.011 for a, b in spans), (low, high)
    floor = next(b for b in found if b[3] == 6 and b[2] > 40)
    assert floor[1] == pytest.approx(52 - 6)  # its lower face 52 below the bolt; y down
    assert {"rail 52", "joint 47", "M14 x 160 mm under the head"} <= set(texts)
    assert any("crush sleeve 51.75 long" in t for t in texts)


def test_a_pair_on_a_base():
    found, texts = boxes("upper-links", "ears")
    ears = sorted(x for x, _, w, h in found if w == 6 and h > 128)
    assert ears[1] - ears[0] == pytest.approx(66 + 25.4 / 32 + 6, abs=0.01)
    assert any("bolt 128 off the base" in t for t in texts)


@pytest.mark.parametrize(
    ("demo", "name", "word"),
    [("lower-axle", "lower-mount", "tube"), ("upper-links", "ears", "base"),
     ("through-bolt", "rail-plates", "rail")],
)  # fmt: skip
def test_the_fit_says_what_stands_between_the_ears(demo, name, word, capsys):
    made = built(demo)
    mount = made.shop.mounts[name]
    assert mount.sits_on == word
    rows = [row[0] for row in fit_rows(mount, "mm")]
    assert ("rail width" in rows) == (word == "rail")
    fit(made, as_json=False)
    said = capsys.readouterr().out.split(f"\n{name}:")[1].split("dummy spacer")[0]
    assert ("- rail" in said) == (word == "rail")
    assert ("= gap between the ears" in said) == (word != "rail")
