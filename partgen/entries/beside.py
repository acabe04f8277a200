"""Files that a job names: they lie beside the job file or below it, nowhere else."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from partgen.errors import MeasureError
from partgen.file_content import file_content

LARGEST = 20_000_000  # bytes


def beside(folder: Path | None, name: str) -> bytes:
    """Return the content of a file in the job's folder.

    Args:
        folder: of the job file; None where the job is no file.
        name: as typed: relative, parts joined by "/".

    Raises:
        MeasureError: it may not be read, cannot be read, or is larger than 20 MB.
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
        return file_content(there, LARGEST, "drawing or measured edge")
    except OSError as error:
        raise MeasureError(f"cannot be read: {error.strerror or error}") from None
