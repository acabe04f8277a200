"""Write files of ours where the user points: whole or not at all, nobody else's overwritten.

A file made by partgen says so inside (``MARK``), so that a newer one may take its place.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from partgen.errors import PartgenError

MARK = b"partgen"


def write_own(files: Mapping[Path, bytes]) -> None:
    """Write ``files``; folders are made.

    Raises:
        PartgenError: a file of somebody else is in the way, or a folder cannot be written; nothing
            is written then, as far as that shows beforehand.
    """
    problems = [
        f"{path}: not made by partgen; move it or choose another --out"
        for path in files
        if path.is_symlink() or (path.exists() and not _is_ours(path))
    ]
    if problems:
        raise PartgenError(problems)
    for path, content in files.items():
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            _replace(path, content)
        except OSError as error:
            raise PartgenError(f"{path}: cannot be written: {error.strerror or error}") from None


def _is_ours(path: Path) -> bool:
    try:
        return path.is_file() and MARK in path.read_bytes()
    except OSError:
        return False


def _replace(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=".partgen-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(name, 0o666 & ~_umask())
        os.replace(name, path)
    except BaseException:
        os.unlink(name)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
