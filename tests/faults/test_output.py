"""Writing is all or nothing: killed anywhere, disk full, read-only, two at once, foreign files."""

import errno
import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.output import staging
from partgen.output.folder import ASIDE, MANIFEST, write_all
from partgen.output.staging import MOVES, STAGING
from partgen.packet.data import digest

ROOT = Path(__file__).parents[2]


def job(**contents):
    """A job's files with a manifest; keywords are file stems."""
    files = {f"plates/{name}.dxf": text.encode() for name, text in contents.items()}
    manifest = {"files": {name: digest(content) for name, content in files.items()}}
    return {**files, MANIFEST: json.dumps(manifest).encode()}


OLD = job(a="old a", b="same b", c="old c")
NEW = job(a="new a", b="same b", d="new d")


def tree(folder):
    return {
        str(p.relative_to(folder)).replace(os.sep, "/"): p.read_bytes()
        for p in folder.rglob("*")
        if p.is_file() and not p.relative_to(folder).parts[0].startswith(STAGING)
    }


def kept_aside(folder):
    return sorted(c for n, c in tree(folder).items() if n.startswith(ASIDE))


def test_new_output_replaces_old_and_keeps_what_changed_aside(tmp_path):
    write_all(tmp_path, OLD)
    write_all(tmp_path, NEW)
    found = tree(tmp_path)
    assert {n: c for n, c in found.items() if not n.startswith(ASIDE)} == NEW
    assert kept_aside(tmp_path) == [b"old a", b"old c"]
    assert not list(tmp_path.glob(f"{STAGING}*"))


KILLER = """
import os, sys
from pathlib import Path
sys.path[:0] = [{root!r}, {here!r}]
from partgen.output.folder import ASIDE, MANIFEST, write_all
from partgen.output.staging import MOVES, STAGING
from test_output import NEW
left = int(sys.argv[2])
def dying(real):
    def call(*args, **more):
        global left
        left -= 1
        if left < 0:
            os._exit(9)
        return real(*args, **more)
    return call
os.replace, os.fsync, os.mkdir = dying(os.replace), dying(os.fsync), dying(os.mkdir)
os.unlink, os.rmdir = dying(os.unlink), dying(os.rmdir)
write_all(Path(sys.argv[1]), NEW)
"""


def test_a_run_killed_anywhere_leaves_the_old_whole_or_the_next_run_completes_it(tmp_path):
    """Killed before and after every change of the file system, one after the other."""
    script = tmp_path / "killer.py"
    script.write_text(KILLER.format(root=str(ROOT), here=str(Path(__file__).parent)))
    undecided = decided = 0
    for calls in range(200):
        folder = tmp_path / str(calls)
        write_all(folder, OLD)
        done = subprocess.run([sys.executable, script, folder, str(calls)], capture_output=True)
        if done.returncode == 0:
            break
        assert done.returncode == 9, done.stderr
        if any(folder.glob(f"{STAGING}*/{MOVES}")):
            decided += 1
        elif digest((folder / MANIFEST).read_bytes()) == digest(OLD[MANIFEST]):
            undecided += 1
            assert {n: c for n, c in tree(folder).items() if n in OLD} == OLD
        contents = {c for p in folder.rglob("*") if p.is_file() for c in [p.read_bytes()]}
        assert {b"old a", b"same b", b"old c"} <= contents
        write_all(folder, NEW)
        found = tree(folder)
        assert {n: c for n, c in found.items() if not n.startswith(ASIDE)} == NEW
        assert kept_aside(folder) == [b"old a", b"old c"]
        assert not list(folder.glob(f"{STAGING}*"))
    else:
        pytest.fail("the run never came to its end")
    assert undecided >= 5
    assert decided >= 5


@pytest.mark.parametrize("name", ["a", "c", "d"])  # replaced, moved aside, new
def test_what_somebody_changed_after_a_killed_run_is_never_lost(name, tmp_path, monkeypatch):
    write_all(tmp_path, OLD)
    with monkeypatch.context() as patch:
        patch.setattr(staging, "_move", lambda *_: None)  # killed once it was decided
        write_all(tmp_path, NEW)
    mine = tmp_path / "plates" / f"{name}.dxf"
    mine.write_bytes(b"mine")
    if name == "c":  # nothing takes its place: it stays
        write_all(tmp_path, NEW)
        assert mine.read_bytes() == b"mine"
        return
    for _ in range(2):
        with pytest.raises(PartgenError) as error:
            write_all(tmp_path, NEW)
        assert error.value.problems == [
            f"{mine}: changed since a run that was stopped halfway; move it away and run again, "
            "the rest follows then"
        ]
        assert mine.read_bytes() == b"mine"
    mine.rename(tmp_path / "kept.dxf")
    write_all(tmp_path, NEW)
    found = tree(tmp_path)
    assert found.pop("kept.dxf") == b"mine"
    assert {n: c for n, c in found.items() if not n.startswith(ASIDE)} == NEW


@pytest.mark.parametrize("nth", range(8))
def test_a_full_disk_leaves_the_old_output_whole(nth, tmp_path, monkeypatch):
    write_all(tmp_path, OLD)
    real, calls = os.fsync, []

    def full(handle):
        calls.append(handle)
        if len(calls) > nth:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(handle)

    monkeypatch.setattr(os, "fsync", full)
    if nth < 5:
        with pytest.raises(PartgenError, match="No space left on device"):
            write_all(tmp_path, NEW)
        assert tree(tmp_path) == OLD
        assert not list(tmp_path.glob(f"{STAGING}*"))
    else:
        write_all(tmp_path, NEW)


def test_a_folder_that_cannot_be_made_is_one_line(tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(PartgenError) as error:
        write_all(tmp_path / "file" / "out", NEW)
    assert len(error.value.problems) == 1


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere"
)
def test_a_read_only_folder_is_one_line(tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(PartgenError, match="Permission denied"):
        write_all(tmp_path, NEW)


def test_a_failed_proof_moves_nothing(tmp_path):
    write_all(tmp_path, OLD)
    with pytest.raises(RuntimeError, match=r"a\.dxf is not what it should be"):
        write_all(tmp_path, NEW, lambda staged: ["a.dxf is not what it should be"])
    assert tree(tmp_path) == OLD


def test_two_runs_at_once_do_not_mix(tmp_path):
    jobs = [job(**{k: f"{k} of run {n}" for k in "abcdefgh"}) for n in range(6)]
    with ThreadPoolExecutor(6) as pool:
        list(pool.map(lambda files: write_all(tmp_path, files), jobs))
    found = {n: c for n, c in tree(tmp_path).items() if not n.startswith(ASIDE)}
    assert found in jobs
    aside = set(kept_aside(tmp_path))
    others = {c for files in jobs if files != found for n, c in files.items() if n != MANIFEST}
    assert aside == others


@pytest.mark.parametrize(
    "name", ["plates/a.dxf", "plates/d.dxf", "plates", "superseded", "job.json"]
)
def test_foreign_files_in_the_way_stop_the_run(name, tmp_path):
    there = tmp_path / name
    there.parent.mkdir(parents=True, exist_ok=True)
    there.write_text("mine")
    with pytest.raises(PartgenError, match="another --out"):
        write_all(tmp_path, NEW)
    assert tree(tmp_path) == {name: b"mine"}


def test_links_are_not_followed(tmp_path):
    target = tmp_path / "elsewhere"
    target.mkdir()
    out = tmp_path / "out"
    out.mkdir()
    (out / "plates").symlink_to(target)
    with pytest.raises(PartgenError, match="in the way"):
        write_all(out, NEW)
    assert list(target.iterdir()) == []


def test_a_forged_manifest_cannot_reach_outside(tmp_path):
    secret = tmp_path / "secret"
    secret.write_text("keep")
    out = tmp_path / "out"
    out.mkdir()
    forged = {"files": {"../secret": digest(b"keep"), str(secret): digest(b"keep")}}
    (out / MANIFEST).write_text(json.dumps(forged))
    with pytest.raises(PartgenError, match=r"job\.json: not written by partgen"):
        write_all(out, NEW)
    assert secret.read_text() == "keep"


def test_foreign_files_beside_ours_are_never_touched(tmp_path):
    write_all(tmp_path, OLD)
    (tmp_path / "notes.txt").write_text("mine")
    (tmp_path / "plates" / "mine.dxf").write_text("mine")
    (tmp_path / "plates" / "c.dxf").write_text("changed by hand")
    write_all(tmp_path, NEW)
    found = tree(tmp_path)
    assert found["notes.txt"] == found["plates/mine.dxf"] == b"mine"
    assert found["plates/c.dxf"] == b"changed by hand"
