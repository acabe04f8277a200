"""Tables and JSON on the screen."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from typing import Any


def table(rows: Sequence[tuple[str, ...]], numbers: range = range(0), indent: str = "") -> None:
    """Print rows in columns; the columns in ``numbers`` to the right."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    for row in rows:
        cells = [
            text.rjust(width) if k in numbers else text.ljust(width)
            for k, (text, width) in enumerate(zip(row, widths, strict=True))
        ]
        print(indent + "  ".join(cells).rstrip())


def plain(text: str) -> str:
    """Return a docstring's line as it is read: no marks of code, no full stop.

    Examples:
        >>> plain("the bolt, where no ``joint`` gives it.")
        'the bolt, where no joint gives it'
    """
    return text.replace("``", "").rstrip(".")


def print_json(data: Any) -> None:
    """Print ``data`` as JSON; all of it in ASCII where the console may lack a letter."""
    plain_only = (sys.stdout.encoding or "").lower() not in ("utf-8", "utf8")
    print(json.dumps(data, indent=1, ensure_ascii=plain_only, allow_nan=False))
