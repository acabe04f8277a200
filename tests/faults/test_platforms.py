"""What differs between systems: locks, files that are open, line ends, letters a console lacks, case.

Windows' part is played by stand-ins that answer as its documentation says; the rest runs as it is.
"""

import ast
import importlib.util
import json
import os
import subprocess
import sys
import threading
import time
import types
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.output import staging
from partgen.output.folder import MANIFEST, write_all
from partgen.output.own_file import write_own
from partgen.packet.data import digest
from partgen.sheets.cut_plans import Asked
from partgen.tasks import making, measuring, nesting

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_parts" / "hill-trial-buggy.toml"


def job(**contents):
    """A job's files with a manifest; keywords are file stems."""
    files = {f"plates/{name}.dxf": text.encode() for name, text in contents.items()}
    manifest = {"files": {name: digest(content) for name, content in files.items()}}
    return {**files, MANIFEST: json.dumps(manifest).encode()}


OLD, NEW = job(a="old a", c="old c"), job(a="new a", d="new d")


def tree(folder):
    found = (p for p in folder.rglob("*") if p.is_file())
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in found}


@pytest.fixture
def windows_lock(monkeypatch):
    """The lock as Windows has it: no ``fcntl``, and ``msvcrt.locking`` that gives up after a while.

    The Python library reference, "msvcrt": LK_LOCK tries again each second, ten times, then OSError.
    """
    fcntl = pytest.importorskip("fcntl")
    tried = []

    def locking(handle, mode, count):
        tried.append(handle)
        assert (mode, count) == (1, 1)
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)

    stand_in = types.SimpleNamespace(LK_LOCK=1, locking=locking)
    monkeypatch.setitem(sys.modules, "msvcrt", stand_in)
    monkeypatch.setitem(sys.modules, "fcntl", None)
    path = ROOT / "partgen" / "output" / "folder_lock.py"
    spec = importlib.util.spec_from_file_location("folder_lock_of_windows", path)
    module = importlib.util.module_from_spec(spec)
    with monkeypatch.context() as m:
        m.setattr(sys, "platform", "win32")
        spec.loader.exec_module(module)
    return module, tried


@pytest.mark.parametrize("stays", [False, True])  # an open file cannot be taken away there
def test_the_lock_of_windows_keeps_runs_apart(windows_lock, monkeypatch, tmp_path, stays):
    module, tried = windows_lock
    if stays:
        monkeypatch.setattr(Path, "unlink", refused)
    order = []

    def second():
        with module.locked(tmp_path):
            order.append("second")

    with module.locked(tmp_path):
        other = threading.Thread(target=second)
        other.start()
        while len(tried) < 5:  # it was refused, and tries again
            time.sleep(0.001)
        order.append("first")
    other.join()
    assert order == ["first", "second"]
    monkeypatch.undo()
    assert module.lock_file(tmp_path).exists() is stays
    module.lock_file(tmp_path).unlink(missing_ok=True)


def refused(*_, **__):
    raise PermissionError(13, "The process cannot access the file because it is being used")


def test_a_file_that_is_open_elsewhere_stops_in_one_line_and_the_next_run_completes(
    tmp_path, monkeypatch
):
    write_all(tmp_path, OLD)
    held = tmp_path / "plates" / "d.dxf"
    real = os.replace

    def replace(source, target):
        return refused() if Path(target) == held else real(source, target)

    with monkeypatch.context() as m:
        m.setattr(staging.os, "replace", replace)
        with pytest.raises(PartgenError, match=r"d\.dxf: cannot be put in its place: .*close"):
            write_all(tmp_path, NEW)
    write_all(tmp_path, NEW)
    assert {n: c for n, c in tree(tmp_path).items() if n in NEW} == NEW
    assert not list(tmp_path.glob(f"{staging.STAGING}*"))


@pytest.mark.parametrize("name", ["plates/a.dxf", "plates/d.dxf", MANIFEST])
def test_a_folder_in_a_files_place_is_named_before_anything_is_moved(tmp_path, name):
    write_all(tmp_path / "out", OLD)
    there = tmp_path / "out" / name
    there.unlink(missing_ok=True)
    there.mkdir()
    (there / "keep").write_bytes(b"mine")
    before = tree(tmp_path)
    with pytest.raises(PartgenError, match=r"in the way|not written by partgen"):
        write_all(tmp_path / "out", NEW)
    assert tree(tmp_path) == before
    with pytest.raises(PartgenError, match="not made by partgen"):
        write_own(there.parent, {there.name: b"partgen", "z.pdf": b"partgen"})
    assert tree(tmp_path) == before


def test_a_file_in_a_folders_place_is_named_too(tmp_path):
    (tmp_path / "plates").write_bytes(b"mine")
    with pytest.raises(PartgenError, match="plates: in the way"):
        write_all(tmp_path, NEW)
    assert tree(tmp_path) == {"plates": b"mine"}


TEXTUAL = {"write_text", "open_text", "TextIOWrapper", "NamedTemporaryFile", "fdopen"}


def test_nothing_is_written_through_a_text_layer_that_knows_the_platforms_line_end():
    """One place in partgen opens a file to write, in binary; all else hands it bytes."""
    writing = []
    for path in sorted((ROOT / "partgen").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and node.attr in {*TEXTUAL, "linesep"}:
                writing.append((path.name, node.attr))
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "open":
                modes = [a.value for a in node.args if isinstance(a, ast.Constant)]
                writing += [
                    (path.name, mode) for mode in modes if isinstance(mode, str) and mode != "rb"
                ]
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "open":
                writing.append((path.name, "open"))
    assert writing == [("staging.py", "wb")]


def test_line_ends_are_those_of_the_format():
    """CSV ends its lines by RFC 4180, CR LF; all other text by a line feed alone."""
    asked = Asked(motion="plain", order=True, text=True)
    made = making.make(DEMO, {}, (), "R12", asked=asked)
    files = {**made.files, "form.csv": measuring.form_csv(measuring.measuring(DEMO).form)}
    kinds = {name.rpartition(".")[2] for name in files}
    assert {"csv", "dxf", "html", "json", "svg"} < kinds
    for name, content in files.items():
        if name.endswith(".csv"):
            assert content.count(b"\n") == content.count(b"\r\n") == content.count(b"\r") > 0, name
        elif not name.endswith((".pdf", ".png")):
            assert b"\r" not in content, name


@pytest.mark.parametrize("encoding", ["cp1252", "cp437", "ascii"])
def test_a_console_without_the_letter_shows_another_one(tmp_path, encoding):
    text = DEMO.read_text(encoding="utf-8").replace('"Hill-trial', '"Hügel ☃ trial')
    (tmp_path / "j.toml").write_text(text, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "0"}
    for command in ("fit", "measure"):
        done = subprocess.run(
            [sys.executable, "-m", "partgen", command, "j.toml"],
            cwd=tmp_path,
            env={**environment, "PYTHONIOENCODING": f"{encoding}:strict"},
            capture_output=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr[-300:]
        assert b"? trial" in done.stdout
    done = subprocess.run(
        [sys.executable, "-m", "partgen", "fit", "j.toml", "--json"],
        cwd=tmp_path,
        env={**environment, "PYTHONIOENCODING": f"{encoding}:strict"},
        capture_output=True,
        check=True,
    )
    assert json.loads(done.stdout)["job"].startswith("Hügel ☃ trial")


def test_names_that_differ_by_case_alone_are_never_made(tmp_path):
    """Drawings called alike, and jobs; on some systems one file would take the other's place."""
    made = making.make(DEMO, {}, ("web",), "R12").files
    drawing = next(content for name, content in made.items() if name.startswith("plates/"))
    files = [tmp_path / "a" / "Lamp.dxf", tmp_path / "b" / "lamp.dxf", tmp_path / "c" / "LAMP.DXF"]
    for path in files:
        path.parent.mkdir()
        path.write_bytes(drawing)
    request = nesting.Request(
        [*files, DEMO], ["1250x2500"], 1, {}, None, "mm", None, None, "R12", "6 mm S355"
    )
    names = [name.casefold() for name in nesting.nest_files(request).files]
    assert len(names) == len(set(names)) > 3


def test_a_job_cannot_name_parts_that_differ_by_case_alone(tmp_path):
    text = DEMO.read_text(encoding="utf-8")
    path = tmp_path / "j.toml"
    path.write_text(text.replace('name = "outrigger-gusset"', 'name = "Web"'), encoding="utf-8")
    with pytest.raises(PartgenError, match="lower-case"):
        build(load_job(path))
