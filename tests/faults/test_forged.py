"""What somebody else left in an output folder cannot lead a run out of it, nor hold it up.

A list of moves, a manifest, a staging folder or a link that partgen did not write: whatever it
says, the files outside stay as they are, and the run ends in its files or in one line.
"""

import json
import os
import sys
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.output.folder import MANIFEST, write_all
from partgen.output.folder_lock import lock_file
from partgen.output.own_file import write_new, write_own
from partgen.output.staging import MOVES, STAGING
from partgen.packet.data import digest
from partgen.plates.revision import known_revisions
from partgen.sheets.known_layout import known_layouts

SECRET = b"made by partgen, and not yours"
STAGED = f"{STAGING}abcd1234"
needs_links = pytest.mark.skipif(sys.platform == "win32", reason="links need rights of their own")


def job(**contents):
    files = {f"plates/{name}.dxf": text.encode() for name, text in contents.items()}
    manifest = {"files": {name: digest(content) for name, content in files.items()}}
    return {**files, MANIFEST: json.dumps(manifest).encode()}


NEW = job(a="new a", d="new d")


@pytest.fixture
def outside(tmp_path):
    folder = tmp_path / "outside"
    (folder / "plates").mkdir(parents=True)
    for name in ("secret", "plates/a.dxf", "plates/plate-1_mm.dxf"):
        (folder / name).write_bytes(SECRET)
    return folder


@pytest.fixture
def out(tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    return folder


def tree(folder):
    """Every path below a folder, links not followed, with the content of files."""
    return {
        str(Path(top, name).relative_to(folder)): (
            Path(top, name).read_bytes() if Path(top, name).is_file() else None
        )
        for top, folders, files in os.walk(folder)
        for name in (*folders, *files)
    }


def run(work, outside):
    """Run it: done or refused in one line each, and nothing outside has changed."""
    before = tree(outside)
    try:
        work()
        problems = []
    except PartgenError as error:
        problems = error.problems
        assert problems
    assert tree(outside) == before
    return problems


def staged(out, moves, **files):
    """Leave a decided run behind, as if it was killed."""
    folder = out / STAGED
    folder.mkdir()
    for name, content in files.items():
        (folder / name).write_text(content)
    (folder / MOVES).write_text(moves if isinstance(moves, str) else json.dumps(moves))
    return folder


def forged_moves(outside):
    secret, known = str(outside / "secret"), digest(SECRET)
    return {
        "target-up": [["", "../outside/secret", ""]],
        "target-absolute": [["", secret, ""]],
        "target-new-up": [["", "../outside/new", ""]],
        "target-hidden-up": [["", "plates/../../outside/new", ""]],
        "source-up": [["../outside/secret", "stolen", known]],
        "source-absolute": [[secret, "stolen", known]],
        "folder-itself": [["", "", ""]],
        "folder-dot": [["", ".", ""]],
        "nul": [["", "a\0b", ""], ["a\0b", "c", ""]],
        "over-long": [["", "x" * 5000, ""]],
        "lone-surrogate": [["", "\ud800", ""], ["\ud800", "x", ""]],
        "good-then-bad": [["", "fine", ""], ["", "../outside/new", ""]],
        "no-list": {"a": 1},
        "short-rows": [["", "a"]],
        "numbers": [[1, 2, 3]],
        "deep": "[" * 100_000,
        "no-json": "\0\xff",
        "empty": "",
    }


@pytest.mark.parametrize("name", forged_moves(Path()))
def test_a_forged_list_of_moves_touches_nothing_outside(name, out, outside):
    moves = forged_moves(outside)[name]
    staged(out, moves, fine="x", secret="forged", new="forged")
    run(lambda: write_all(out, NEW), outside)
    assert not (out / "stolen").exists()


@needs_links
@pytest.mark.parametrize("moves", [
    [["", "plates/a.dxf", ""]],  # staged in a folder that is a link: would be taken from outside
    [["plates/secret", "stolen", digest(SECRET)]],
    [["", "link/new", ""]],
], ids=["staged", "aside", "target"])  # fmt: skip
def test_links_in_what_was_staged_lead_nowhere(moves, out, outside):
    folder = staged(out, moves)
    (folder / "plates").symlink_to(outside / "plates")
    (folder / "link").mkdir()
    (folder / "link" / "new").write_text("forged")
    (out / "link").symlink_to(outside)
    if moves[0][0]:
        (out / "plates").symlink_to(outside)
    problems = run(lambda: write_all(out, NEW), outside)
    assert problems
    assert not (out / "stolen").exists()
    assert not (out / "plates" / "a.dxf").exists() or moves[0][0]


@needs_links
@pytest.mark.parametrize("what", ["staging", "moves", "staged-file"])
def test_a_link_in_place_of_staging_is_not_followed(what, out, outside):
    (outside / MOVES).write_text(json.dumps([["", "secret", ""]]))
    if what == "staging":
        (out / STAGED).symlink_to(outside)
    else:
        folder = staged(out, [["", "stolen", ""]])
        if what == "moves":
            (folder / MOVES).unlink()
            (folder / MOVES).symlink_to(outside / MOVES)
        else:
            (folder / "stolen").symlink_to(outside / "secret")
    run(lambda: write_all(out, NEW), outside)
    assert SECRET not in {c for p, c in tree(out).items() if not (out / p).is_symlink()}


@needs_links
@pytest.mark.parametrize("place", ["plates", "superseded", "superseded/plates", "plates/a.dxf"])
def test_a_planted_link_stops_the_run_before_anything_moves(place, out, outside):
    write_all(out, job(a="old a", c="old c"))
    there = out / place
    there.parent.mkdir(exist_ok=True)
    if there.exists():
        there.rename(out / "away")
    there.symlink_to(outside / "plates" if there.suffix != ".dxf" else outside / "secret")
    before = tree(out)
    assert run(lambda: write_all(out, NEW), outside)
    assert tree(out) == before


@needs_links
@pytest.mark.parametrize("write", [write_own, lambda f, x: write_new(f, x, "--csv")])
def test_single_files_do_not_follow_links_either(write, out, outside):
    (out / "t.pdf").symlink_to(outside / "secret")
    assert run(lambda: write(out, {"t.pdf": b"x"}), outside)


def forged_manifests(outside):
    secret, known = str(outside / "secret"), digest(SECRET)
    files = {
        "up": {"../outside/secret": known},
        "absolute": {secret: known},
        "hidden-up": {"plates/../../outside/secret": known},
        "aside-up": {"superseded/../../outside/secret": known},
        "nul": {"a\0b": known},
        "over-long": {"x" * 5000: known},
        "lone-surrogate": {"\ud800": known},
        "empty": {"": known, ".": known, "..": known},
    }
    return {name: json.dumps({"files": entry}) for name, entry in files.items()} | {
        "deep": "[" * 100_000,
        "huge-number": '{"files": {"a": ' + "9" * 5000 + "}}",
        "no-text": "\udcff",
    }


@pytest.mark.parametrize("name", forged_manifests(Path()))
def test_a_forged_manifest_touches_nothing_outside(name, out, outside):
    content = forged_manifests(outside)[name].encode("utf-8", "surrogateescape")
    (out / MANIFEST).write_bytes(content)
    run(lambda: write_all(out, NEW), outside)
    known_revisions(out / MANIFEST)
    known_layouts(out / MANIFEST)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name here")
@pytest.mark.parametrize("place", [MANIFEST, "plates/a.dxf", f"{STAGED}/{MOVES}", "t.pdf"])
def test_a_pipe_holds_nobody_up(place, out, outside):
    there = out / place
    there.parent.mkdir(exist_ok=True)
    os.mkfifo(there)
    assert run(lambda: [write_own(out, {"t.pdf": b"x"}), write_all(out, NEW)], outside)
    assert known_revisions(there) == {}
    assert known_layouts(there) == {}


def test_a_folder_of_the_users_that_begins_alike_is_left_alone(out):
    mine = out / f"{STAGING}notes-of-mine"
    mine.mkdir()
    (mine / "note.txt").write_text("mine")
    write_all(out, NEW)
    assert (mine / "note.txt").read_text() == "mine"


@needs_links
def test_a_link_in_place_of_the_lock_is_one_line(out, outside):
    lock = lock_file(out)
    lock.symlink_to(outside / "made-through-the-lock")
    try:
        problems = run(lambda: write_all(out, NEW), outside)
    finally:
        lock.unlink()
    assert len(problems) == 1
    assert str(lock) in problems[0]
    assert list(out.iterdir()) == []
