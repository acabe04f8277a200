"""Write a job's files into a folder: all or nothing, and nothing of anybody else's is touched.

A file of an earlier run that is no longer made, or has changed, is kept in ``superseded/``. A file
that partgen did not write, or that was changed since, stops the run before anything is staged.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from partgen.errors import PartgenError
from partgen.file_content import file_content
from partgen.output.staging import Move, Proof, at_work_in, is_inside, put
from partgen.packet.data import digest

MANIFEST = "job.json"
ASIDE = "superseded"
LARGEST = 200_000_000  # bytes of a manifest


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
    with at_work_in(folder):
        ours = _written_before(folder)
        _refuse_foreign(folder, files, ours)
        manifest_last = {n: files[n] for n in sorted(files, key=lambda n: (n == MANIFEST, n))}
        put(folder, manifest_last, _aside(folder, files, ours), proof)


def _written_before(folder: Path) -> dict[str, str]:
    """Return what an earlier run wrote here: digest by path."""
    try:
        files = json.loads(file_content(folder / MANIFEST, LARGEST))["files"]
        found = {str(name): str(value) for name, value in files.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}
    return {name: value for name, value in found.items() if is_inside(folder, folder / name)}


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


def _aside(folder: Path, files: Mapping[str, bytes], ours: Mapping[str, str]) -> list[Move]:
    """Return what is kept aside, and where."""
    moves: list[Move] = []
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
            moves.append((name, aside, old))
    return moves
