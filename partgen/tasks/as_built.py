"""The as-built sheet read back: measured values against the targets of the job as it is now."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from partgen.errors import PartgenError
from partgen.fields import whole_number
from partgen.file_content import file_content, why
from partgen.job.build import build
from partgen.job.job import Job, load_job
from partgen.measure import in_unit, parse_length
from partgen.packet.as_built import Target, printed, targets

SLACK = 1e-6  # mm
ANSWERS = {"yes": True, "y": True, "ok": True, "no": False, "n": False}


@dataclass(frozen=True)
class Reading:
    """One line of the sheet as filled in.

    Attributes:
        target: what was to be measured.
        value: as measured; None where nothing was typed, or a yes or no [mm].
        answer: yes or no, where the line asks for one; None where nothing was typed.
        within: whether it passes; None where nothing was typed.
    """

    target: Target
    value: float | None
    answer: bool | None
    within: bool | None

    @property
    def difference(self) -> float | None:
        """Measured less target [mm]."""
        if self.value is None or self.target.value is None:
            return None
        return self.value - self.target.value


@dataclass(frozen=True)
class AsBuilt:
    """A job's as-built sheet, filled in.

    Attributes:
        job: the job.
        readings: every line of the sheet, in its order.
    """

    job: Job
    readings: list[Reading]

    @property
    def out(self) -> list[Reading]:
        """Lines that do not pass."""
        return [r for r in self.readings if r.within is False]

    @property
    def blank(self) -> list[Reading]:
        """Lines that nothing was typed into."""
        return [r for r in self.readings if r.within is None]


def compared(job_file: Path, sheet: Path) -> AsBuilt:
    """Return a filled-in sheet against the job's targets.

    Args:
        job_file: the job.
        sheet: ``as-built.csv`` of that job, its last column filled in.

    Raises:
        PartgenError: the job or the sheet is wrong, or the sheet is of another state of the job;
            one line for each mistake.
    """
    job = load_job(job_file)
    asked = targets(build(job))
    readings: dict[int, Reading] = {}
    problems: list[str] = []
    for line, row in _rows(sheet, job.unit):
        try:
            number = _number(row, asked)
            if number in readings:
                raise PartgenError(f"number {number} is there twice; keep one of them")
            readings[number] = _reading(row, asked[number - 1], job.unit)
        except PartgenError as error:
            where = f"{sheet.name}: line {line}"
            problems += [f"{where}: {in_unit(p, job.unit)}" for p in error.problems]
    if problems:
        raise PartgenError(problems)
    empty = [Reading(t, None, None, None) for t in asked]
    return AsBuilt(job, [readings.get(k, blank) for k, blank in enumerate(empty, 1)])


def _rows(sheet: Path, unit: str) -> Iterator[tuple[int, Mapping[str, str]]]:
    """Yield number and cells of each line, or refuse what no CSV file can hold."""
    try:
        yield from _cells(sheet, unit)
    except csv.Error as error:  # a cell of 131,072 characters and more
        raise PartgenError(f"{sheet}: cannot be read as CSV: {error}") from None


def _cells(sheet: Path, unit: str) -> Iterator[tuple[int, Mapping[str, str]]]:
    """Yield number and cells of each line; also as a spreadsheet writes it, with semicolons."""
    try:
        text = file_content(sheet, kind="as-built sheet").decode("utf-8-sig")
    except OSError as error:
        raise PartgenError(f"{sheet}: cannot be read: {why(error)}") from None
    except UnicodeDecodeError:
        raise PartgenError(f"{sheet}: is no text in UTF-8; save it as CSV UTF-8") from None
    mark = ";" if ";" in text.split("\n", 1)[0] else ","
    reader = csv.DictReader(io.StringIO(text, newline=""), delimiter=mark, restval="")
    wanted = ("number", "what", f"target {unit}", "measured")
    missing = [name for name in wanted if name not in (reader.fieldnames or ())]
    if missing:
        raise PartgenError(
            f"{sheet}: no column '{missing[0]}'; fill in the as-built.csv that partgen make wrote "
            "for this job"
        )
    for row in reader:
        if any((value or "").strip() for key, value in row.items() if key is not None):
            values = {k: (v or "").strip() for k, v in row.items() if k is not None}
            if mark == ";":
                values["measured"] = values["measured"].replace(",", ".")
            yield reader.line_num, values


def _number(row: Mapping[str, str], asked: list[Target]) -> int:
    text = row["number"]
    number = whole_number(text)
    if number is None or not 1 <= number <= len(asked):
        raise PartgenError(f"number '{text[:20]}': this job's sheet goes from 1 to {len(asked)}")
    if row["what"] != asked[number - 1].what:
        raise PartgenError(
            f"number {number} is '{asked[number - 1].what}' in this job, not "
            f"'{row['what'][:60]}'; make the job again and fill in its as-built.csv"
        )
    return number


def _reading(row: Mapping[str, str], target: Target, unit: str) -> Reading:
    typed = row["measured"]
    if target.value is not None:
        _need_same_target(row, target, unit)
    if not typed:
        return Reading(target, None, None, None)
    if target.value is None:
        if typed.lower() not in ANSWERS:
            raise PartgenError(f"'{typed[:20]}': {target.what}: answer yes or no ({target.words})")
        answer = ANSWERS[typed.lower()]
        return Reading(target, None, answer, answer)
    value = parse_length(typed, unit)
    low, high = (printed(v, unit) for v in (target.low or 0.0, target.high or 0.0))
    return Reading(target, value, None, low - SLACK <= value <= high + SLACK)


def _need_same_target(row: Mapping[str, str], target: Target, unit: str) -> None:
    """Refuse a sheet that was made for other targets than the job has now."""
    planned, now = row[f"target {unit}"], printed(target.value or 0.0, unit)
    if abs(parse_length(planned.replace(",", "."), unit) - now) > SLACK:
        raise PartgenError(
            f"{target.what}: target {planned} {unit} on the sheet, {now:.6g} mm in the job as it "
            "is now; make the job again and fill in its as-built.csv"
        )
