"""``[[accept]]`` of the job file: a finding that the shop takes on itself."""

from __future__ import annotations

from partgen.fields import Entry, Text


class Accept(Entry):
    """``[[accept]]``: a finding that the shop takes on itself.

    Attributes:
        rule: name of the rule.
        plate: key of the plate, or name of the mount, that the finding is of.
        reason: of the shop; shown wherever the finding is.
    """

    rule: Text
    plate: Text
    reason: Text
