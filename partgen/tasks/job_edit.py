"""Change measures in a job file: comments, order and layout stay as they are."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from partgen.errors import PartgenError, nearest


def edited(text: str, changes: Mapping[str, str], name: str) -> str:
    """Return the text of a job file with other values for its measures.

    A bare number stays a bare number; everything else is written as text.

    Args:
        text: of the file.
        changes: new values by measure, as typed.
        name: of the file, for messages.

    Raises:
        PartgenError: a measure is not there, or the file cannot be edited.
    """
    try:
        document = tomlkit.parse(text)
        measures = document.get("measures", {})
        missing = [key for key in changes if key not in measures]
        if missing:
            raise PartgenError(
                [f"{key}: no such measure in {name}; {nearest(key, measures)}" for key in missing]
            )
        for key, typed in changes.items():
            measures[key] = _value(typed)
        return tomlkit.dumps(document)
    except TOMLKitError as error:
        raise PartgenError(f"{name}: cannot be edited: {error}") from None


def _value(typed: str) -> Any:
    """Return what is typed as TOML holds it: 63 and 2.625 as numbers, all else as text."""
    text = typed.strip()
    plain = text.replace(".", "", 1).removeprefix("-")
    if not plain.isascii() or not plain.isdigit() or text.strip("-")[:1] == ".":
        return text
    return float(text) if "." in text else int(text)
