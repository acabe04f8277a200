"""Write a job's files into a folder: all or nothing, and nothing of anybody else's is touched.

1. Everything is staged in a folder of its own beside its place, and read back by a proof.
2. One rename, of the list of moves, decides: before it the former output is whole; after it the
   moves are done, by this run or, if it was killed, by the next one.
3. A file of an earlier run that is no longer made, or has changed, is kept in ``superseded/``.

A file that partgen did not write, or that was changed since, stops the run before step 1. Runs into
one folder wait for each other.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from partgen.errors import PartgenError
from partgen.output.folder_lock import locked
from partgen.packet.data import digest

MANIFEST = "job.json"
ASIDE = "superseded"
STAGING = ".partgen-"  # start of the staging folder's name
MOVES = "moves.json"  # in the staging folder, once the run is decided
Proof = Callable[[Path], list[str]]


def write_all(folder: Path, files: Mapping[str, bytes], proof: Proof | None = None) -> None:
    """Put ``files`` into ``folder``.

    Args:
        folder: made if it is not there.
        files: content by path in the folder; must hold the manifest.
        proof: reads the staged files back and returns what is wrong with them.

    Raises:
        PartgenError: the folder cannot be written, or holds files that are not ours in the way.
        RuntimeError: the proof finds a fault (a mistake in partgen); nothing was moved.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with locked(folder):
            _finish_earlier(folder)
            ours = _written_before(folder)
            _refuse_foreign(folder, files, ours)
            staging = Path(tempfile.mkdtemp(prefix=STAGING, dir=folder))
            try:
                _stage(staging, files, proof)
                _decide(staging, _moves(folder, files, ours))
            except BaseException:
                shutil.rmtree(staging, ignore_errors=True)
                raise
            _move(folder, staging)
    except OSError as error:
        raise PartgenError(f"{folder}: cannot be written: {error.strerror or error}") from None


def _finish_earlier(folder: Path) -> None:
    """Complete the moves of a run that was killed; clear away one that was not decided."""
    for staging in sorted(folder.glob(f"{STAGING}*")):
        if staging.is_dir() and not staging.is_symlink():
            if (staging / MOVES).exists():
                _move(folder, staging)
            else:
                shutil.rmtree(staging, ignore_errors=True)


def _written_before(folder: Path) -> dict[str, str]:
    """Return what an earlier run wrote here: digest by path."""
    try:
        content = (folder / MANIFEST).read_bytes()
        files = json.loads(content)["files"]
        found = {str(name): str(value) for name, value in files.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}
    return {name: value for name, value in found.items() if _is_inside(folder, folder / name)}


def _is_inside(folder: Path, there: Path) -> bool:
    return there.resolve().is_relative_to(folder.resolve())


def _refuse_foreign(folder: Path, files: Mapping[str, bytes], ours: Mapping[str, str]) -> None:
    problems = []
    for name, content in files.items():
        there = folder / name
        if there.is_symlink() or (there.exists() and not there.is_file()):
            problems.append(f"{there}: in the way; move it or choose another --out")
        elif (
            there.exists()
            and not (name == MANIFEST and ours)
            and digest(there.read_bytes()) not in (ours.get(name), digest(content))
        ):
            problems.append(
                f"{there}: not written by partgen, or changed since; move it or choose "
                "another --out"
            )
    for name in sorted({str(Path(name).parent) for name in (*files, f"{ASIDE}/x")} - {"."}):
        there = folder / name
        if there.is_symlink() or (there.exists() and not there.is_dir()):
            problems.append(f"{there}: in the way; move it or choose another --out")
    if problems:
        raise PartgenError(problems)


def _stage(staging: Path, files: Mapping[str, bytes], proof: Proof | None) -> None:
    for name, content in files.items():
        target = staging / name
        target.parent.mkdir(parents=True, exist_ok=True)
        _write(target, content)
    faults = proof(staging) if proof else []
    if faults:
        raise RuntimeError("the files failed their own check: " + "; ".join(faults))


def _write(target: Path, content: bytes) -> None:
    with target.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _moves(folder: Path, files: Mapping[str, bytes], ours: Mapping[str, str]) -> list[list[str]]:
    """Return what goes where: first what is kept aside, then the new files, the manifest last."""
    moves = []
    for name, old in ours.items():
        there = folder / name
        if name == MANIFEST or not there.is_file() or there.is_symlink():
            continue
        found = digest(there.read_bytes())
        if found != old:
            continue  # changed by somebody, and not made any more: theirs now
        if name not in files or digest(files[name]) != old:
            path = Path(name)
            aside = f"{ASIDE}/{path.parent.as_posix()}/{path.stem}_{old[:8]}{path.suffix}"
            moves.append([name, aside, old])
    moves += [["", name, ""] for name in sorted(files, key=lambda n: (n == MANIFEST, n))]
    return moves


def _decide(staging: Path, moves: list[list[str]]) -> None:
    _write(staging / f"{MOVES}.new", json.dumps(moves).encode("utf-8"))
    os.replace(staging / f"{MOVES}.new", staging / MOVES)


def _move(folder: Path, staging: Path) -> None:
    """Do the decided moves; those that are done already are passed over."""
    for source, target, old in json.loads((staging / MOVES).read_bytes()):
        there = folder / source if source else staging / target
        if there.exists() and (not source or digest(there.read_bytes()) == old):
            (folder / target).parent.mkdir(parents=True, exist_ok=True)
            os.replace(there, folder / target)
    shutil.rmtree(staging, ignore_errors=True)
