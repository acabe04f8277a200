"""A rule's answer about one place of one plate or mount."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SLACK = 1e-6  # mm; a measure this near its limit meets it


class Status(StrEnum):
    """How a rule answers."""

    PASS = "pass"
    WARN = "warn"
    FAIL = "fail"
    NOT_COVERED = "not covered"


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One answer.

    Attributes:
        rule: name of the rule.
        plate: key of the plate, or name of the mount.
        where: which hole, window or edge.
        status: the answer.
        measured: what is there; None where nothing can be measured [``unit``].
        required: what the rule asks for; None where it asks for nothing [``unit``].
        unit: of both: "mm", "deg", "N", or "1" for a plain number.
        source: document and table, or "common practice, no source".
        note: what to do, or why the rule cannot judge.
        accepted: the shop's reason for a finding it takes on itself.
        at_most: ``required`` is an upper limit.
    """

    rule: str
    plate: str
    where: str
    status: Status
    measured: float | None = None
    required: float | None = None
    unit: str = "mm"
    source: str
    note: str = ""
    accepted: str = ""
    at_most: bool = False

    @property
    def margin(self) -> float | None:
        """What is left to the limit; negative where it is missed [``unit``]."""
        if self.measured is None or self.required is None:
            return None
        left = self.measured - self.required
        return -left if self.at_most else left

    @property
    def stops(self) -> bool:
        """Tell whether no cut file may be written because of this."""
        return self.status is Status.FAIL and not self.accepted


def at_least(measured: float, required: float, otherwise: Status = Status.FAIL) -> Status:
    """Return PASS where ``measured`` reaches ``required``, within ``SLACK``."""
    return Status.PASS if measured >= required - SLACK else otherwise


def judged(
    rule: str,
    place: tuple[str, str],
    sizes: tuple[float, float],
    source: str,
    note: str,
    otherwise: Status = Status.FAIL,
) -> Finding:
    """Return the finding on a size that must reach its limit.

    Args:
        rule: name of the rule.
        place: key of the plate or name of the mount; and where on it.
        sizes: what is there, what is asked for [mm].
        source: document and table, or "common practice, no source".
        note: what to do where it falls short.
        otherwise: the answer where it falls short.
    """
    status = at_least(*sizes, otherwise)
    return Finding(
        rule=rule,
        plate=place[0],
        where=place[1],
        status=status,
        measured=sizes[0],
        required=sizes[1],
        source=source,
        note="" if status is Status.PASS else note,
    )
