"""Write a job's files into a folder: all or nothing, and nothing of anybody else's is touched.

Everything is written beside its place first and moved in at the end. A file of an earlier run that
is no longer made, or has changed, is kept in ``superseded/``. A file that partgen did not write, or
that was changed since, stops the run before anything is moved.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from partgen.errors import PartgenError
from partgen.packet.data import digest

MANIFEST = "job.json"
ASIDE = "superseded"


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put ``files`` into ``folder``.

    Args:
        folder: made if it is not there.
        files: content by path in the folder; must hold the manifest.

    Raises:
        PartgenError: the folder cannot be written, or holds files that are not ours in the way.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        ours = _written_before(folder)
        _refuse_foreign(folder, files, ours)
        staging = Path(tempfile.mkdtemp(prefix=".partgen-", dir=folder))
        try:
            _stage(staging, files)
            _move_in(folder, staging, files, ours)
        finally:
            shutil.rmtree(staging, ignore_errors=True)
    except OSError as error:
        raise PartgenError(f"{folder}: cannot be written: {error.strerror or error}") from None


def _written_before(folder: Path) -> dict[str, str]:
    """Return what an earlier run wrote here: digest by path."""
    try:
        files = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
        return {str(name): str(value) for name, value in files.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _refuse_foreign(folder: Path, files: Mapping[str, bytes], ours: Mapping[str, str]) -> None:
    problems = []
    for name, content in files.items():
        there = folder / name
        if name == MANIFEST and ours:
            continue
        if there.is_symlink() or (there.exists() and not there.is_file()):
            problems.append(f"{there}: in the way; move it or choose another --out")
        elif there.exists():
            found = digest(there.read_bytes())
            if found not in (ours.get(name), digest(content)):
                problems.append(
                    f"{there}: not written by partgen, or changed since; move it or choose "
                    "another --out"
                )
    problems += _changed_and_going(folder, files, ours)
    for name in {str(Path(name).parent) for name in files} - {"."}:
        if (folder / name).is_symlink() or (
            (folder / name).exists() and not (folder / name).is_dir()
        ):
            problems.append(f"{folder / name}: in the way; move it or choose another --out")
    if problems:
        raise PartgenError(problems)


def _changed_and_going(
    folder: Path, files: Mapping[str, bytes], ours: Mapping[str, str]
) -> list[str]:
    """Return a line for each file of ours that would be kept aside but was changed since."""
    going = (folder / name for name in sorted(ours.keys() - files.keys() - {MANIFEST}))
    return [
        f"{there}: changed since partgen wrote it; move it or choose another --out"
        for there in going
        if _is_inside(folder, there)
        and there.is_file()
        and digest(there.read_bytes()) != ours[str(there.relative_to(folder).as_posix())]
    ]


def _stage(staging: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        target = staging / name
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())


def _move_in(
    folder: Path, staging: Path, files: Mapping[str, bytes], ours: Mapping[str, str]
) -> None:
    """Move the staged files to their places, the manifest last; keep aside what goes."""
    for name, old in ours.items():
        there = folder / name
        if name == MANIFEST or not _is_inside(folder, there) or not there.is_file():
            continue
        if name not in files or digest(files[name]) != old:
            _keep_aside(folder, there, name, old)
    for name in sorted(files, key=lambda n: n == MANIFEST):
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        os.replace(staging / name, target)


def _is_inside(folder: Path, there: Path) -> bool:
    return there.resolve().is_relative_to(folder.resolve())


def _keep_aside(folder: Path, there: Path, name: str, old: str) -> None:
    path = Path(name)
    aside = folder / ASIDE / path.with_name(f"{path.stem}_{old[:8]}{path.suffix}")
    aside.parent.mkdir(parents=True, exist_ok=True)
    os.replace(there, aside)
