"""The demo jobs that come with partgen."""

from __future__ import annotations

from pathlib import Path

from partgen.errors import PartgenError
from partgen.output.own_file import write_new


def demo_files() -> list[Path]:
    """Return the demo job files, beside the modules in a wheel, else beside the package.

    Raises:
        PartgenError: they are not there.
    """
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "demo_parts", package.parent / "demo_parts"):
        found = sorted(folder.glob("*.toml"))
        if found:
            return found
    raise PartgenError("the demo jobs are not there; reinstall partgen")


def _with_their_data(jobs: list[Path]) -> list[Path]:
    """Return the jobs and the measured edges that lie beside them."""
    folder = jobs[0].parent
    return sorted([*jobs, *folder.glob("*.csv"), *folder.glob("*.dxf")])


def copy(folder: Path) -> list[Path]:
    """Copy the demo jobs and their measured data into ``folder``; return the files written.

    Raises:
        PartgenError: the folder cannot be written, or a file of that name is there already.
    """
    files = _with_their_data(demo_files())
    write_new(folder, {file.name: file.read_bytes() for file in files}, "folder")
    return [folder / file.name for file in files]
