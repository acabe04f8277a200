"""What the commands ``linkage`` and ``cope`` do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from partgen.errors import GeometryError, MeasureError, PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.linkage.advice import Drop, drops
from partgen.linkage.cope import Cope
from partgen.linkage.study import Study
from partgen.measure import in_unit, parse_angle, parse_length
from partgen.output.own_file import write_own
from partgen.template.cope_sheet import Page, cope_pdf


@dataclass(frozen=True)
class Linked:
    """A job's linkage.

    Attributes:
        name: of the job.
        unit: of lengths.
        study: the linkage worked through.
        bump_angle: asked for at full bump, if any [degrees].
        drops: the frame ends it needs.
    """

    name: str
    unit: str
    study: Study
    bump_angle: float | None
    drops: list[Drop]


def link_up(path: Path, changes: Mapping[str, str], bump_angle: str | None = None) -> Linked:
    """Return the linkage of a job file worked through.

    Args:
        path: of the job file.
        changes: measures to set differently, as typed.
        bump_angle: wanted side angle of the links at full bump, as typed.

    Raises:
        PartgenError: the job is wrong or has no linkage.
    """
    angle = None if bump_angle is None else parse_angle(bump_angle)
    if angle is not None and abs(angle) > 60:
        raise PartgenError(f"--bump-angle {bump_angle}: a link's angle is at most 60 deg here")
    made = build(load_job(path, changes))
    study = made.shop.linkage
    if study is None:
        raise PartgenError(
            f"{path.name}: no [linkage] in this job; 'partgen schema linkage' prints "
            "its keys, 'partgen demo' copies jobs that have one"
        )
    lower = [] if angle is None else drops(study, angle, made.shop.rails)
    return Linked(made.job.name, made.job.unit, study, angle, lower)


def read_cope(typed: Mapping[str, str | None], unit: str) -> Cope:
    """Return the cope that was asked for.

    Args:
        typed: what was typed for tube, onto, angle, offset and wall; None where nothing was.
        unit: of bare numbers, "mm" or "in".

    Raises:
        PartgenError: values that cannot be read, or a tube that misses the other one.
    """
    problems: list[str] = []
    values: dict[str, float] = {}
    for name, text in typed.items():
        if text is None:
            continue
        try:
            values[name] = parse_angle(text) if name == "angle" else parse_length(text, unit)
        except MeasureError as error:
            problems += [f"--{name}: {line}" for line in error.problems]
    if problems:
        raise PartgenError(problems)
    try:
        return Cope(**values)
    except GeometryError as error:
        raise PartgenError([in_unit(line, unit) for line in error.problems]) from None


def write_cope(cope: Cope, path: Path, page: Page, unit: str) -> int:
    """Write the wrap-around template of a cope; return its number of pages.

    Raises:
        PartgenError: the file cannot be written, or is there and was not made by partgen.
    """
    content, pages = cope_pdf(cope, page, unit)
    write_own(path.parent, {path.name: content})
    return pages
