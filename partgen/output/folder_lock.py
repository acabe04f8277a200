"""One run at a time in an output folder; the lock goes with the process that holds it.

The lock is a file in the system's temporary folder, named by the folder's path, so that nothing is
left in the folder itself.
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the folder's lock; wait for another run to end first.

    Raises:
        OSError: the temporary folder cannot be written.
    """
    name = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:24]
    path = Path(tempfile.gettempdir()) / f"partgen-{name}.lock"
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        _take(handle)
        yield
    finally:
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
