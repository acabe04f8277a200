"""The content of a file that may be anybody's: a plain file of bounded size, or an error at once.

A pipe or a device would keep a run waiting for ever, or fill its memory. Files that a job names lie
beside the job file or below it, nowhere else.
"""

from __future__ import annotations

import errno
from pathlib import Path, PurePosixPath
from stat import S_ISDIR, S_ISREG

from partgen.errors import MeasureError, nearest

LARGEST = 1_000_000  # bytes of a file that is typed: a job, a profile, a form
LARGEST_DRAWN = 20_000_000  # bytes of a file that another program wrote: a drawing, an edge
ADVICE = {
    errno.EISDIR: "name a file in it",
    errno.EACCES: "make it one that you may read",
}


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


def why(error: OSError) -> str:
    """Return why a file cannot be read and what to do, the nearest name for a slip of one."""
    told = error.strerror or str(error)
    if error.errno == errno.ENOENT:
        return f"{told}; {_nearest_file(Path(str(error.filename)))}"
    advice = ADVICE.get(error.errno or 0)
    return f"{told}; {advice}" if advice else told


def _nearest_file(path: Path) -> str:
    try:
        names = [other.name for other in path.parent.glob(f"*{path.suffix}")]
    except (OSError, ValueError):
        names = []
    hint = nearest(path.name, names)
    return hint if hint.startswith("did you mean") else "check its name and folder"


def beside(
    folder: Path | None, name: str, most: int = LARGEST, kind: str = "what is read here"
) -> bytes:
    """Return the content of a file in a job's folder.

    Args:
        folder: of the job file; None where the job is no file.
        name: as typed: relative, parts joined by "/".
        most: bytes that it may have.
        kind: what it should be, for the message.

    Raises:
        MeasureError: it may not be read, cannot be read, or is too large.
    """
    path = PurePosixPath(name.replace("\\", "/"))
    if folder is None:
        raise MeasureError("a file is looked for beside the job file, but this job is no file")
    if not name or path.is_absolute() or ".." in path.parts or ":" in name or "\0" in name:
        raise MeasureError("name a file in the job's own folder, without '..', '/' first or drive")
    try:
        there = (folder / path).resolve()
        if not there.is_relative_to(folder.resolve()):
            raise MeasureError("leads out of the job's folder; copy the file there")
        return file_content(there, most, kind)
    except OSError as error:
        raise MeasureError(
            f"cannot be read: {error.strerror or error}; it is looked for beside the job"
        ) from None
