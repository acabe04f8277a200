"""README and DEVELOPERS.md say what is so."""

import re
import tomllib
from pathlib import Path

from click.testing import CliRunner
from refresh_pictures import fresh

from partgen.build import build
from partgen.cli import main
from partgen.job import load_job

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def blocks(kind):
    return re.findall(rf"^```{kind}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def test_pictures_are_what_the_demos_give():
    for name, content in fresh().items():
        assert (ROOT / "demo_parts" / "pictures" / name).read_bytes() == content, name


def test_linked_files_exist():
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).exists(), target


def test_the_job_in_the_readme_builds(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(blocks("toml")[0], encoding="utf-8")
    assert len(build(load_job(job)).plates) == 5


def test_the_links_in_the_readme_run_clear(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(blocks("toml")[0] + blocks("toml")[2], encoding="utf-8")
    linkage = build(load_job(job)).shop.linkage
    assert linkage.relative < 1e-9
    assert all(near.clearance > 6 for swing in linkage.swings for near in swing.nearest)


def test_the_accept_entry_in_the_readme_reads():
    assert tomllib.loads(blocks("toml")[1])["accept"][0]["reason"]


def test_first_command_makes_a_demo_that_exists():
    demo = re.search(r"partgen make (\S+)", blocks("sh")[0])[1]
    assert (ROOT / demo).exists()


def test_commands_in_the_readme_are_the_commands():
    named = set(re.findall(r"^\| `partgen (\w+)", README, re.MULTILINE))
    assert named == set(main.commands)
    assert CliRunner().invoke(main, ["--help"]).exit_code == 0


def test_every_module_is_on_the_map():
    for path in (ROOT / "partgen").iterdir():
        if path.name.startswith("__") or path.name == "py.typed":
            continue
        name = path.name + ("/" if path.is_dir() else "")
        stem = "dxf*.py" if path.name.startswith("dxf") else name
        assert stem in DEVELOPERS or path.stem in DEVELOPERS, name
