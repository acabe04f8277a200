"""A job built over a range of one measure: fit, bolt and least margin at each value."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import floor
from pathlib import Path

from partgen import rules
from partgen.errors import MeasureError, PartgenError, nearest
from partgen.job.build import Build, build
from partgen.job.job import load_job
from partgen.measure import length_text, parse_length
from partgen.rules.finding import Finding

MOST_VALUES = 500
_SPEC = re.compile(r"(?P<name>[^=]+)=(?P<first>.+?)\.\.(?P<last>.+):(?P<step>.+)")
_UNIT = re.compile(r"([A-Za-z\"]+)\s*$")


@dataclass(frozen=True)
class Point:
    """The job at one value of the measure.

    Attributes:
        value: of the measure [mm].
        build: the job, or none if it cannot be built.
        findings: what the rules say.
        problem: why it cannot be built.
    """

    value: float
    build: Build | None
    findings: list[Finding]
    problem: str = ""

    @property
    def least(self) -> Finding | None:
        """The finding with the least margin among lengths."""
        judged = [f for f in self.findings if f.margin is not None and f.unit == "mm"]
        return min(judged, key=lambda f: f.margin or 0.0, default=None)

    @property
    def fails(self) -> int:
        """How many findings stop the job."""
        return sum(f.stops for f in self.findings)


@dataclass(frozen=True)
class Sweep:
    """A job over a range.

    Attributes:
        measure: its name.
        unit: of the job.
        after: what follows a value of the measure: a space and the unit, or nothing.
        job: name of the job.
        points: in rising order of the measure.
    """

    measure: str
    unit: str
    after: str
    job: str
    points: list[Point]


def sweep(path: Path, spec: str, changes: Mapping[str, str] | None = None) -> Sweep:
    """Return a job over ``NAME=FROM..TO:STEP``.

    Args:
        path: of the job file.
        spec: the range; a unit typed once counts for all three.
        changes: other measures to set differently, as typed.

    Raises:
        PartgenError: no such range or measure, or the job cannot be read.
    """
    others = changes or {}
    job = load_job(path, others)
    name, values = read_range(spec, job.unit)
    if name not in job.measures:
        raise PartgenError(f"--sweep {name}: no such measure; {nearest(name, job.measures)}")
    points = [_point(path, {**others, name: length_text(v, "mm")}, v) for v in values]
    return Sweep(name, job.unit, job.unit_of(name), job.name, points)


def read_range(spec: str, unit: str) -> tuple[str, list[float]]:
    """Return the measure and its values [mm].

    Raises:
        PartgenError: it is no range, or has more than ``MOST_VALUES`` values.

    Examples:
        >>> read_range("w=57..60mm:1.5", "in")
        ('w', [57.0, 58.5, 60.0])
        >>> read_range("w=2-1/2..2-5/8in:1/16", "mm")[1]
        [63.5, 65.0875, 66.675]
    """
    match = _SPEC.fullmatch(spec.strip())
    if match is None:
        raise PartgenError(f"--sweep {spec}: write NAME=FROM..TO:STEP, joint_width=57..75mm:1.5")
    texts = [match[part].strip() for part in ("first", "last", "step")]
    named = [found[1] for text in texts if (found := _UNIT.search(text))]
    try:
        first, last, step = (
            parse_length(text if not named or _UNIT.search(text) else f"{text} {named[0]}", unit)
            for text in texts
        )
    except MeasureError as error:
        raise PartgenError([f"--sweep {spec}: {line}" for line in error.problems]) from None
    if step <= 0 or last < first:
        raise PartgenError(f"--sweep {spec}: TO must not be below FROM, STEP must be more than 0")
    count = floor((last - first) / step + 1e-9) + 1
    if count > MOST_VALUES:
        raise PartgenError(f"--sweep {spec}: {count} values; at most {MOST_VALUES}, widen the step")
    return match["name"].strip(), [round(first + k * step, 9) for k in range(count)]


def _point(path: Path, changes: Mapping[str, str], value: float) -> Point:
    try:
        made = build(load_job(path, changes))
    except PartgenError as error:
        return Point(value, None, [], "; ".join(error.problems))
    return Point(value, made, rules.check(made))
