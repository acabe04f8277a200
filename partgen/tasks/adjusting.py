"""Change numbers of a job: before and after, saved if asked; two jobs against each other."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from partgen import rules
from partgen.errors import PartgenError, nearest
from partgen.file_content import file_content, why
from partgen.job.build import build
from partgen.job.job import load_job, read_job
from partgen.output.folder import MANIFEST, write_all
from partgen.output.own_file import write_over
from partgen.packet.data import as_json, digest
from partgen.packet.sweep_picture import sweep_picture
from partgen.packet.sweep_table import sweep_csv, sweep_links_csv
from partgen.sheets.cut_files import slug
from partgen.sweep import Sweep, sweep
from partgen.tasks import job_edit
from partgen.tasks.comparison import Comparison, compare


def adjust(path: Path, changes: Mapping[str, str]) -> Comparison:
    """Return what other values for its measures change in a job.

    Args:
        path: of the job file.
        changes: new values by measure, as typed.

    Raises:
        PartgenError: the job is wrong before or after, or a measure is not there.
    """
    job = load_job(path)
    _refuse_unknown(job.measures, changes)
    before = build(job)
    after = build(load_job(path, changes))
    return compare(before, after, (rules.check(before), rules.check(after)))


def compare_files(first: Path, second: Path) -> Comparison:
    """Return what differs between two job files.

    Raises:
        PartgenError: one of them is wrong.
    """
    problems: list[str] = []
    sides = []
    for path in (first, second):
        try:
            sides.append(build(load_job(path)))
        except PartgenError as error:
            problems += error.problems
    if problems:
        raise PartgenError(problems)
    before, after = sides
    return compare(before, after, (rules.check(before), rules.check(after)))


def save(path: Path, changes: Mapping[str, str]) -> None:
    """Write other values for its measures into a job file, all else as it was.

    Raises:
        PartgenError: the file cannot be edited or written; it is as it was.
        RuntimeError: the edited text does not say what was asked (a mistake in partgen).
    """
    asked = load_job(path, changes).measures
    try:
        content = file_content(path)
        text = content.decode("utf-8")
    except OSError as error:
        raise PartgenError(f"{path}: {why(error)}") from None
    after = job_edit.edited(text, changes, path.name)
    if read_job(tomllib.loads(after), path, {}).measures != asked:
        raise RuntimeError(f"{path.name}: the edited measures read otherwise; nothing was saved")
    write_over(path, content, after.encode("utf-8"))


@dataclass(frozen=True)
class Swept:
    """A sweep and its files.

    Attributes:
        sweep: the job over the range.
        files: table, curves and data by path in the output folder.
    """

    sweep: Sweep
    files: dict[str, bytes]


def sweep_files(path: Path, spec: str, changes: Mapping[str, str]) -> Swept:
    """Return a job over a range of one measure, as table and curves, not yet written.

    Raises:
        PartgenError: no such range or measure, or the job cannot be read.
    """
    found = sweep(path, spec, changes)
    name = f"{slug(path.stem)}_{slug(found.measure)}"
    files = {f"{name}.csv": sweep_csv(found), f"{name}.svg": sweep_picture(found)}
    links = sweep_links_csv(found)
    if links is not None:
        files[f"{name}_links.csv"] = links
    data = {
        "job": found.job,
        "measure": found.measure,
        "values": [point.value for point in found.points],
        "unit_of_this_file": "mm",
        "files": {file: digest(content) for file, content in files.items()},
    }
    return Swept(found, {**files, MANIFEST: as_json(data)})


def write_sweep(swept: Swept, folder: Path) -> None:
    """Write a sweep's files into ``folder``.

    Raises:
        PartgenError: the folder cannot be written, or foreign files are in the way.
    """
    write_all(folder, swept.files)


def _refuse_unknown(measures: Mapping[str, float], changes: Mapping[str, str]) -> None:
    if not changes:
        raise PartgenError("no change: write NAME=VALUE, for example joint_width='70 mm'")
    unknown = [name for name in changes if name not in measures]
    if unknown:
        raise PartgenError(
            [f"{name}: no such measure in this job; {nearest(name, measures)}" for name in unknown]
        )
