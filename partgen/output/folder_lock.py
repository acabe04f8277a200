"""One run at a time in an output folder; the lock goes with the process that holds it.

The lock is a file in the system's temporary folder, named by the folder's path, so that nothing is
ever left in the folder itself; it is taken away again by the run that held it.
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from partgen.errors import PartgenError

NO_LINKS = getattr(os, "O_NOFOLLOW", 0)  # where the platform has it


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the folder's lock; wait for another run to end first.

    Raises:
        PartgenError: the lock cannot be taken: somebody else's file or link is in its place.
    """
    path = lock_file(folder)
    try:
        handle = _held(path)
    except OSError as error:
        raise PartgenError(
            f"{path}: cannot be locked: {error.strerror or error}; if no partgen is at work, "
            "remove it"
        ) from None
    try:
        yield
    finally:
        with suppress(OSError):  # where an open file cannot be taken away, it stays
            path.unlink()
        os.close(handle)


def lock_file(folder: Path) -> Path:
    """Return where the lock of a folder lies while it is held."""
    name = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:24]
    return Path(tempfile.gettempdir()) / f"partgen-{name}.lock"


def _held(path: Path) -> int:
    """Return the open lock file; one that its holder took away meanwhile does not count."""
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | NO_LINKS, 0o600)
        try:
            _take(handle)
            if os.path.samestat(os.fstat(handle), path.stat()):
                return handle
        except FileNotFoundError:
            pass
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    def _take(handle: int) -> None:
        while True:
            try:
                msvcrt.locking(handle, msvcrt.LK_LOCK, 1)
                return
            except OSError:  # after ten seconds; wait on
                continue

else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX)
