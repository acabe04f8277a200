"""The cautions are where somebody would cut or weld: every command's help, screen, data and files."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from partgen import cautions
from partgen.cautions import CAUTIONS, ON_PAPER, SHORT, TORCH_OFF
from partgen.cli import COMMANDS, main

ROOT = Path(__file__).parents[2]
DEMOS = ROOT / "demo_parts"
BUGGY, LINKS = DEMOS / "hill-trial-buggy.toml", DEMOS / "hill-trial-buggy-rear-links.toml"
OUT = "OUT"  # stands for a new place
ARGUMENTS = {
    "adjust": [BUGGY, "joint_width=60 mm"],
    "check": [BUGGY, "--strength"],
    "compare": [BUGGY, DEMOS / "swamp-cart.toml"],
    "cope": ["--tube", "45", "--onto", "60", "--out", f"{OUT}.pdf"],
    "coupon": ["--plate", "6 mm S355", "--out", OUT],
    "demo": [OUT],
    "families": ["gusset"],
    "fit": [BUGGY],
    "library": [],
    "linkage": [LINKS],
    "make": [BUGGY, "--motion", "plain", "--order", "--out", OUT],
    "measure": [BUGGY],
    "nest": [BUGGY, "--sheet", "1250x2500", "--motion", "plain", "--out", OUT],
    "picture": [LINKS, "--out", OUT],
    "schema": ["rail"],
    "template": [BUGGY, "--out", f"{OUT}.pdf"],
}
REFERENCE = {"demo", "families", "library", "schema"}  # say nothing of a plate that is cut
NAMES = [command.name for command in COMMANDS]
# What a word would promise; "on the safe side" is how a sum was rounded.
PROMISE = re.compile(r"\b(safe(?! side)|safely|approved|approves|guaranteed?|certified)\b", re.I)


def run(name, tmp_path, *more):
    words = [str(word).replace(OUT, str(tmp_path / name)) for word in ARGUMENTS[name]]
    result = CliRunner().invoke(main, [name, *words, *more])
    assert result.exit_code == 0, result.output
    return result.output


@pytest.fixture(scope="module")
def said(tmp_path_factory):
    """What every command prints, and the folder with what they write."""
    folder = tmp_path_factory.mktemp("written")
    return {name: run(name, folder) for name in NAMES}, folder


def text_of(path):
    if path.suffix == ".pdf":
        return " ".join("\n".join(page.extract_text() for page in PdfReader(path).pages).split())
    return " ".join(path.read_text(encoding="utf-8").split())


@pytest.mark.parametrize("name", NAMES)
def test_every_commands_help_ends_in_the_cautions(name):
    text = " ".join(CliRunner().invoke(main, [name, "--help"]).output.split())
    assert text.endswith(SHORT)


def test_help_ends_in_the_cautions():
    assert " ".join(CliRunner().invoke(main, ["--help"]).output.split()).endswith(SHORT)


def test_every_command_that_tells_of_plates_prints_them(said):
    printed, _ = said
    assert {name for name, text in printed.items() if SHORT not in text} == REFERENCE


@pytest.mark.parametrize("name", ["coupon", "make", "nest"])
def test_data_of_what_is_cut_holds_them(name, said):
    _, folder = said
    data = json.loads((folder / name / "job.json").read_text(encoding="utf-8"))
    assert data["cautions"] == list(CAUTIONS)


def test_the_page_holds_them_all(said):
    _, folder = said
    page = text_of(folder / "make" / "packet.html")
    assert all(caution in page for caution in CAUTIONS)


def test_what_is_carried_to_the_bench_says_so(said):
    _, folder = said
    drawn = [*folder.rglob("*.pdf"), *(folder / "picture").iterdir()]
    drawn += [*(folder / "nest" / "pictures").iterdir(), *folder.rglob("*.ngc")]
    sheets = [p for p in (folder / "make" / "pictures").iterdir() if "_sheet-" in p.name]
    drawn += [*sheets, *(folder / "make" / "pictures").glob("*_weld-map.svg")]
    assert {p.suffix for p in drawn} == {".pdf", ".svg", ".ngc"}
    assert len(drawn) > 15
    for path in drawn:
        words = " ".join(re.sub(r"</?[a-z][^>]*>", " ", text_of(path)).split())
        assert ON_PAPER in words, path.name


def test_every_page_of_paper_says_so(said):
    _, folder = said
    for name in ("cope.pdf", "template.pdf"):
        for page in PdfReader(folder / name).pages:
            assert ON_PAPER in " ".join(page.extract_text().split()), name


def test_motion_programs_begin_with_the_torch_off(said):
    _, folder = said
    programs = list(folder.rglob("*.ngc"))
    assert len(programs) == 4
    for path in programs:
        assert TORCH_OFF in path.read_text(encoding="ascii").splitlines()[0]


def test_nothing_printed_or_written_promises_anything(said):
    printed, folder = said
    kinds = {".html", ".csv", ".json", ".svg", ".toml", ".ngc", ".pdf", ".dxf"}
    texts = dict(printed) | {str(p): text_of(p) for p in folder.rglob("*.*") if p.suffix in kinds}
    assert len(texts) > 60
    for name, text in texts.items():
        assert not PROMISE.search(text), name


def test_nothing_we_write_down_promises_anything():
    """Not even in a note of a rule that no demo meets."""
    written = [*(ROOT / "partgen").rglob("*.py"), *(ROOT / "profiles").rglob("*.toml")]
    written += [ROOT / "README.md", *DEMOS.glob("*.md"), *DEMOS.glob("*.toml")]
    for path in written:
        text = path.read_text(encoding="utf-8").replace("never names a\n> safe load", "")
        assert not PROMISE.search(text), path.name


def test_every_figure_of_strength_is_called_screening_only(said):
    printed, folder = said
    texts = [*printed.values(), (folder / "make" / "findings.csv").read_text(encoding="utf-8")]
    lines = [line for text in texts for line in text.splitlines() if re.search(r"\d kN\b", line)]
    assert len(lines) > 10
    for line in lines:
        assert "screening only" in line.lower(), line


def test_the_words_stand_in_one_place():
    for path in (ROOT / "partgen").rglob("*.py"):
        if path != Path(cautions.__file__):
            text = path.read_text(encoding="utf-8").lower()
            assert "licensed practice" not in text, path.name
            assert TORCH_OFF.lower() not in text, path.name


def test_the_readme_defers_to_code_and_practice():
    readme = " ".join((ROOT / "README.md").read_text(encoding="utf-8").replace(">", " ").split())
    for words in ("local vehicle code", "licensed practice", "on stands", "torch off"):
        assert words in readme
