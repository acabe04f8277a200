"""Write files of ours where the user points: whole or not at all, nobody else's overwritten.

A file made by partgen says so inside (``MARK``), so that a newer one may take its place. What is
for the user to go on with (a form, a job, a profile) is only ever written anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from partgen.errors import PartgenError
from partgen.file_content import file_content
from partgen.output.staging import at_work_in, put

MARK = b"partgen"
LARGEST = 200_000_000  # bytes of a file of ours


def write_own(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files that partgen may replace by newer ones; the folder is made.

    Raises:
        PartgenError: a file of somebody else is in the way, or the folder cannot be written;
            nothing is written then.
    """
    with at_work_in(folder):
        problems = [
            f"{path}: not made by partgen; move it or choose another --out"
            for path in (folder / name for name in files)
            if path.is_symlink() or (path.exists() and not _is_ours(path))
        ]
        if problems:
            raise PartgenError(problems)
        put(folder, files)


def write_new(folder: Path, files: Mapping[str, bytes], other: str) -> None:
    """Write files that are not there yet; the folder is made.

    Args:
        folder: where.
        files: content by name.
        other: what to choose otherwise if one is there, for the message.

    Raises:
        PartgenError: a file is there already, or the folder cannot be written; nothing is written.
    """
    with at_work_in(folder):
        taken = [path for path in (folder / name for name in files) if _is_there(path)]
        if taken:
            raise PartgenError([f"{path}: already there; choose another {other}" for path in taken])
        put(folder, files)


def write_over(path: Path, before: bytes, after: bytes) -> None:
    """Put ``after`` in the place of a file that still holds ``before``; a link stays a link.

    Raises:
        PartgenError: the file was changed meanwhile, or cannot be written.
    """
    target = path.resolve()

    def unchanged(_: Path) -> list[str]:
        if target.read_bytes() != before:
            raise PartgenError(f"{path}: changed meanwhile; nothing was saved, run it again")
        return []

    with at_work_in(target.parent):
        put(target.parent, {target.name: after}, proof=unchanged)


def _is_there(path: Path) -> bool:
    return path.is_symlink() or path.exists()


def _is_ours(path: Path) -> bool:
    try:
        return MARK in file_content(path, LARGEST)
    except OSError:
        return False
