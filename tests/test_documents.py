"""README, the page on the job file, and DEVELOPERS.md say what is so."""

import ast
import re
import runpy
import tomllib
from pathlib import Path

from click.testing import CliRunner
from refresh_pictures import fresh

from partgen.cli import main
from partgen.dxf.read import MOST_LOOPS
from partgen.entries.joint import Joint
from partgen.entries.library import shipped
from partgen.entries.net import Net
from partgen.entries.prices import Prices
from partgen.entries.rail import Rail
from partgen.families.link_mount import LinkMount
from partgen.geometry import ellipse
from partgen.geometry.outline import CHORD_ERROR
from partgen.job.build import MOST_EDGES, build
from partgen.job.job import MOST_NETS, MOST_SHEETS, JobFile, JobHead, load_job
from partgen.linkage.entry import LinkageEntry
from partgen.packet.png import MOST_PIXELS
from partgen.plates.features import Features
from partgen.plates.plate import MOST_OPENINGS
from partgen.rules import check
from partgen.rules.finding import Status
from partgen.sheets import nest
from partgen.template.templates import MOST_PAGES

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
JOB_FILE = (ROOT / "demo_parts" / "job-file.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def blocks(kind):
    return re.findall(rf"^```{kind}\n(.*?)^```", README + JOB_FILE, re.MULTILINE | re.DOTALL)


def test_pictures_are_what_the_demos_give():
    for name, content in fresh().items():
        assert (ROOT / "demo_parts" / "pictures" / name).read_bytes() == content, name


def test_linked_files_exist():
    for folder, text in ((ROOT, README), (ROOT / "demo_parts", JOB_FILE)):
        for target in re.findall(r"\]\(([^)]+)\)", text):
            assert (folder / target).exists(), target


def test_every_picture_is_shown():
    shown = set(re.findall(r"pictures/([^)]+\.svg)\)", README + JOB_FILE))
    assert shown == set(fresh())


def test_the_page_on_the_job_file_names_every_table():
    named = set(re.findall(r"^\| (`.+`) \|", JOB_FILE, re.MULTILINE))
    words = set(re.findall(r"\[+(\w+)(?:\.NAME)?\]+", " ".join(named)))
    assert words == set(JobFile.model_fields)


def test_the_job_in_the_readme_builds(tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(blocks("toml")[0], encoding="utf-8")
    made = build(load_job(job))
    assert len(made.plates) == 5
    assert {f.status for f in check(made)} == {Status.PASS, Status.NOT_COVERED}


def test_the_links_in_the_readme_run_clear(tmp_path):
    job = tmp_path / "job.toml"
    links = next(block for block in blocks("toml") if "[linkage]" in block)
    job.write_text(blocks("toml")[0] + links, encoding="utf-8")
    linkage = build(load_job(job)).shop.linkage
    assert linkage.relative < 1e-9
    assert all(near.clearance > 6 for swing in linkage.swings for near in swing.nearest)


def test_the_loads_in_the_readme_are_checked(tmp_path):
    (loads,) = (b for b in blocks("toml") if "[[load]]" in b)
    job = tmp_path / "job.toml"
    job.write_text(blocks("toml")[0] + loads, encoding="utf-8")
    found = [f for f in check(build(load_job(job))) if f.rule in ("strength", "bolt-room")]
    assert len(found) > 20
    assert not [f for f in found if f.status is Status.NOT_COVERED]


def test_the_accept_entry_in_the_readme_reads():
    (accept,) = (b for b in blocks("toml") if "[[accept]]" in b)
    assert tomllib.loads(accept)["accept"][0]["reason"]


def test_what_the_readme_says_a_job_may_be_told_is_so():
    (block,) = (b for b in blocks("toml") if "library = " in b)
    told = tomllib.loads(block)
    kinds = {"job": JobHead, "prices": Prices, "part": LinkMount}
    tables = [(kinds[key], told[key]) for key in ("job", "prices")]
    tables += [(LinkMount, told["part"][0]), (Rail, told["rail"]["frame"])]
    tables += [(Joint, told["joint"]["bush"]), (Net, told["net"]["frame"])]
    for model, table in tables:
        assert set(table) <= {f.alias or n for n, f in model.model_fields.items()}, model
    assert Prices.model_validate(told["prices"]).left_out == []
    assert Net.model_validate(told["net"]["frame"]).points == ["A", "B", "C", "D"]
    assert told["joint"]["bush"]["like"] in shipped().joints
    assert told["rail"]["frame"]["section"] in shipped().sections


def test_the_measured_rails_and_features_in_the_readme_build(tmp_path):
    _, rails, features, *_ = blocks("toml")
    (tmp_path / "left.csv").write_text("0,0\n260,2\n420,28\n560,47\n700,60\n")
    head = blocks("toml")[0].split("[rail.left]")[0]
    rest = "[joint.bush]" + blocks("toml")[0].split("[joint.bush]")[1]
    pair = rest.replace('rail = "left"', 'rail = { left = "left", right = "right" }')
    pair = pair.replace("outer.windows", "ends = 'square'\nrear = 160\nfront = 180\nouter.windows")
    job = tmp_path / "job.toml"
    job.write_text(head + rails + pair, encoding="utf-8")
    assert len({p.label for p in build(load_job(job)).plates}) == 6
    part = tomllib.loads("[part]\n[part.features]" + features.split("[part.features]")[1])["part"]
    found = Features.model_validate(part["features"])
    assert all(getattr(found, kind) for kind in Features.model_fields)


def test_the_program_in_the_readme_runs(tmp_path, monkeypatch, capsys):
    (program,) = blocks("python")
    (tmp_path / "demo_parts").symlink_to(ROOT / "demo_parts")
    (tmp_path / "program.py").write_text(program, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    runpy.run_path("program.py")
    stops, plates, mounts, nests, files = capsys.readouterr().out.splitlines()
    assert stops == "[]"
    assert "Vertex(x=" in plates
    assert "BoltFit(" in mounts
    assert "Placement(" in nests
    made = set(ast.literal_eval(files))
    assert made == {str(p.relative_to("out/from-python")) for p in Path("out").rglob("*.dxf")}


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
        assert f"`{name}`" in DEVELOPERS or f"`partgen/{name}`" in DEVELOPERS, name


def test_every_file_the_map_names_is_there():
    for places, told in re.findall(r"^\| (`partgen.+?) \| (.+) \|$", DEVELOPERS, re.MULTILINE):
        named = re.findall(r"`([\w/.]+)`", places)
        folders = [ROOT / place for place in named if place.endswith("/")]
        for place in named:
            assert (ROOT / place).exists() or (ROOT / "partgen" / place).exists(), place
        for word in re.findall(r"`([a-z_]+)(?:\.py)?`", told):
            there = [f / f"{word}.py" for f in folders] + [f / word for f in folders]
            assert any(path.exists() for path in there), f"{word} in {places}"


FULLY_TOLD = (
    "geometry", "reference", "plates", "dxf", "entries", "fit", "linkage", "job", "sheets", "welds",
    "output", "tasks",
)  # fmt: skip


def test_no_file_is_missing_on_the_map_where_it_names_them_one_by_one():
    for folder in FULLY_TOLD:
        (row,) = re.findall(rf"^\| `partgen/{folder}/`.*$", DEVELOPERS, re.MULTILINE)
        named = {word.removesuffix(".py") for word in re.findall(r"`([\w.]+)`", row)}
        there = {p.stem for p in (ROOT / "partgen" / folder).glob("[a-z]*.py")}
        assert not there - named, folder


def test_limits_in_the_documents_are_those_of_the_code():
    layout = f"{nest.MOST_PIECES} plates of {nest.MOST_SHAPES} shapes"
    links = LinkageEntry.model_fields
    told = {
        JOB_FILE: [
            f"at most {MOST_EDGES:,} lines and arcs in its plates",
            f"at most {layout} and as many lines and arcs",
            f"{links['margin'].default:g} degrees beyond",
            f"{links['spare'].default:g} degrees to spare",
        ],
        DEVELOPERS: [
            f"at most {MOST_EDGES:,} lines and arcs in a job's plates and in one run's layout, {layout}",
            f"at most {MOST_PIXELS // 1_000_000} million pixels",
            f"at most {MOST_OPENINGS} openings in a plate",
            f"{MOST_LOOPS:,} outlines in a drawing",
            f"{MOST_SHEETS} kinds of sheet",
            f"{MOST_NETS} nets",
            f"{MOST_PAGES} pages of templates",
        ],
        README: [f"within {CHORD_ERROR} mm", f"exact-to-{ellipse.TOLERANCE} mm ellipse"],
    }
    for text, phrases in told.items():
        for phrase in phrases:
            assert phrase in " ".join(text.split()), phrase


def test_options_in_the_readme_are_options():
    for name in re.findall(r"^\| `partgen (\w+)", README, re.MULTILINE):
        (row,) = re.findall(rf"^\| `partgen {name}\b.*$", README, re.MULTILINE)
        options = {o for p in main.commands[name].params for o in p.opts}
        assert set(re.findall(r"--[a-z-]+", row)) <= options, name
        assert "--json" in options, name


def test_every_option_of_the_cut_is_in_the_readme():
    table = README.split("## Ready for your table")[1].split("## ")[0]
    told = set(re.findall(r"^\| `(--[a-z-]+)", table, re.MULTILINE))
    told |= set(re.findall(r"^\| `.*, `(--[a-z-]+)", table, re.MULTILINE))
    both = [{o for p in main.commands[n].params for o in p.opts} for n in ("make", "nest")]
    other = {"--json", "--out", "--seconds", "--fresh", "--dxf"}
    assert told == {o for o in both[0] & both[1] if o.startswith("--")} - other
