"""``template`` and ``picture`` as a user runs them."""

import json
import struct
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from partgen.cli import main

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result


def test_template_says_how_to_print(tmp_path):
    result = run("template", BUGGY, "web", "--out", tmp_path / "new" / "t.pdf", "--paper", "A3")
    assert (tmp_path / "new" / "t.pdf").read_bytes().startswith(b"%PDF")
    assert "2 pages A3" in result.output
    assert "no fit to page" in result.output
    assert "Screening only" in result.output


def test_template_again_replaces_ours_and_no_other(tmp_path):
    out = tmp_path / "t.pdf"
    run("template", BUGGY, "web", "--out", out)
    run("template", BUGGY, "web", "--out", out, "--measured", "99.1")
    out.write_bytes(b"%PDF a letter to somebody")
    result = run("template", BUGGY, "web", "--out", out, code=2)
    assert "not made by" in result.output
    assert out.read_bytes() == b"%PDF a letter to somebody"
    assert [p.name for p in tmp_path.iterdir()] == ["t.pdf"]


def test_template_names_the_revision_of_the_folder_it_was_made_in(tmp_path):
    made, out, plate = tmp_path / "made", tmp_path / "t.pdf", "web/gusset/left"

    def text(*more):
        run("template", BUGGY, plate, "--out", out, *more)
        return PdfReader(out).pages[0].extract_text()

    run("make", BUGGY, "--out", made)
    there = json.loads((made / "job.json").read_text(encoding="utf-8"))["revisions"][plate]
    assert text("--made", made).count(f"revision {there['letter']}-{there['content']}") == 2
    assert "revision B-" in text("--made", made, "--set", "joint_width=65")
    assert "revision" not in text()
    nothing = run("template", BUGGY, "--out", out, "--made", tmp_path, code=2)
    assert "no job.json with revisions there" in nothing.output


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--paper", "a44"], "a4"),
        (["--measured", "25.4"], "bar marked 100 mm"),
        (["no-such-part"], "no such plate"),
        (["--set", "joint_widht=60"], "joint_width"),
    ],
)
def test_mistakes_are_one_line_and_write_nothing(tmp_path, args, words):
    result = run("template", BUGGY, "--out", tmp_path / "t.pdf", *args, code=2)
    assert words in result.output
    assert not list(tmp_path.iterdir())


def test_pictures_are_svg_with_a_title_block(tmp_path):
    run("picture", BUGGY, "--out", tmp_path)
    files = sorted(tmp_path.iterdir())
    assert len(files) == 9
    texts = [t.text for t in ElementTree.parse(files[0]).iter("{http://www.w3.org/2000/svg}text")]
    assert "Hill-trial buggy, rear lower links" in texts
    assert "lower-front-mount/inner/left" in texts
    run("picture", BUGGY, "--out", tmp_path)


def test_png_has_the_width_asked_for_and_ink(tmp_path):
    run("picture", BUGGY, "web/gusset/left", "--png", 640, "--out", tmp_path)
    (file,) = tmp_path.iterdir()
    content = file.read_bytes()
    assert content.startswith(b"\x89PNG\r\n\x1a\n")
    assert struct.unpack(">I", content[16:20]) == (640,)
    run("picture", BUGGY, "web/gusset/left", "--png", 640, "--out", tmp_path)
    run("picture", BUGGY, "--png", 5, "--out", tmp_path / "x", code=2)
    assert not (tmp_path / "x").exists()


def test_png_shows_its_texts(tmp_path):
    """The letters come with the program, not from the machine: without them the ink is less."""
    from partgen.packet.png import png

    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">'
    bare = png(f"{head}</svg>", 400)
    words = png(
        f'{head}<text x="2" y="15" font-size="12" font-family="sans-serif">169.36</text></svg>', 400
    )
    assert len(words) > 2 * len(bare)


def test_a_failing_rule_is_written_and_said(tmp_path):
    job = tmp_path / "bad.toml"
    text = BUGGY.read_text(encoding="utf-8")
    job.write_text(
        text.replace("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"), encoding="utf-8"
    )
    for command, out in (("template", tmp_path / "t.pdf"), ("picture", tmp_path / "p")):
        result = run(command, job, "--out", out, code=1)
        assert "STOPPED BY A RULE" in result.output
        assert json.loads(run(command, job, "--out", out, "--json", code=1).output)["stopped"]
    assert "STOPPED" in next((tmp_path / "p").iterdir()).read_text(encoding="utf-8")


def test_make_writes_the_page_even_when_stopped(tmp_path):
    job = tmp_path / "bad.toml"
    text = BUGGY.read_text(encoding="utf-8")
    job.write_text(
        text.replace("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"), encoding="utf-8"
    )
    run("make", job, "--out", tmp_path / "out", code=1)
    assert "STOPPED BY A RULE" in (tmp_path / "out" / "packet.html").read_text(encoding="utf-8")
    assert not (tmp_path / "out" / "plates").exists()
