"""The content of a file that may be anybody's: a plain file of bounded size, or an error at once.

A pipe or a device would keep a run waiting for ever, or fill its memory.
"""

from __future__ import annotations

import errno
from pathlib import Path
from stat import S_ISDIR, S_ISREG

LARGEST = 1_000_000  # bytes of a file that is typed: a job, a profile, a form


def file_content(path: Path, most: int = LARGEST, kind: str = "what is read here") -> bytes:
    """Return the content of a file.

    Args:
        path: of the file.
        most: bytes that it may have.
        kind: what it should be, for the message.

    Raises:
        OSError: it cannot be read, is no plain file, or larger than ``most``; ``strerror`` says so.

    Examples:
        >>> file_content(Path("."))
        Traceback (most recent call last):
        ...
        IsADirectoryError: [Errno 21] is a directory: '.'
    """
    try:
        mode = path.stat().st_mode
    except ValueError:  # a NUL in its name
        raise FileNotFoundError(errno.ENOENT, "No such file or directory", str(path)) from None
    if S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "is a directory", str(path))
    if not S_ISREG(mode):
        raise OSError(errno.EINVAL, "is no plain file", str(path))
    with path.open("rb") as file:
        content = file.read(most + 1)
    if len(content) > most:
        size = f"{most / 1e6:g} MB"
        raise OSError(errno.EFBIG, f"larger than {size}; this is no {kind}", str(path))
    return content
