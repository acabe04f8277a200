"""Source: the document behind the numbers of a profile, and how well it was verified."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from partgen.errors import ProfileError, nearest

FIELDS = ("body", "document", "edition", "locator", "clause", "status", "note", "cite")
MAY_BE_EMPTY = ("clause", "note")
STATUSES = ("primary", "secondary", "memory")


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where numbers come from.

    Attributes:
        body: who publishes the document.
        document: full title.
        edition: edition or year.
        locator: table or page.
        clause: clause the table belongs to, may be empty.
        status: ``primary`` read in the document, ``secondary`` from a copy, ``memory`` recalled.
        note: anything a reader must know, may be empty.
        cite: short form for findings, for example "AISC 360-16 Table J3.4M".
    """

    body: str
    document: str
    edition: str
    locator: str
    clause: str
    status: str
    note: str
    cite: str


def read_source(where: str, block: Mapping[str, Any]) -> Source:
    """Return the source block of a file, complete or not at all.

    Args:
        where: file name for the message.
        block: the file's ``[source]``.

    Raises:
        ProfileError: a field is missing, empty, unknown or no text.
    """
    for field in block:
        if field not in FIELDS:
            hint = nearest(field, FIELDS)
            raise ProfileError(f"{where}: [source] field '{field}' is unknown; {hint}")
    for field in FIELDS:
        value = block.get(field)
        if not isinstance(value, str) or not (value.strip() or field in MAY_BE_EMPTY):
            raise ProfileError(f"{where}: [source] field '{field}' is missing or empty")
    if block["status"] not in STATUSES:
        raise ProfileError(
            f"{where}: [source] status is '{block['status']}', needs one of {', '.join(STATUSES)}"
        )
    return Source(**block)
