"""TOML as people type it: read, or refused in one line that shows the line and what to do."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from partgen.errors import PartgenError, one_line

_PLACE = re.compile(r" ?\(at (?:line (\d+), column \d+|end of document)\)")
_COMMA = re.compile(r"=\s*-?\d+,\d+\s*(#.*)?$")
_BARE_POINT = re.compile(r"[=\[,\s]-?\.\d")
_TWICE = ("Cannot overwrite a value", "Cannot declare", "Cannot mutate")
_DEEPEST = 50  # names in a row, a.b.c; the reader's time grows with their square
_KEY = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP = re.compile(rf"(?<![A-Za-z0-9_-]){_KEY}(?:[ \t]*+\.[ \t]*+{_KEY}){{{_DEEPEST}}}")
_LONGEST = 60  # characters of the line that are shown


def toml_data(content: bytes, name: str) -> dict[str, Any]:
    """Return the tables of a TOML file.

    Args:
        content: of the file.
        name: as messages call it.

    Raises:
        PartgenError: it is no UTF-8 text, or no TOML; with the line and what to do.

    Examples:
        >>> toml_data(b"width = 52,5", "a.toml")
        Traceback (most recent call last):
        ...
        partgen.errors.PartgenError: a.toml: line 1, 'width = 52,5': write a decimal point, no comma
    """
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        raise PartgenError(f"{name}: not UTF-8 text; save it as plain text, UTF-8") from None
    deep = _DEEP.search(text)
    if deep is not None:
        line = text.count("\n", 0, deep.start()) + 1
        raise PartgenError(
            f"{name}: line {line}, '{one_line(deep[0])[:_LONGEST]}': more than {_DEEPEST} names "
            "with points between them; write a key below the head of its table"
        )
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise PartgenError(f"{name}: {_problem(str(error), text)}") from None


def _problem(message: str, text: str) -> str:
    """Return what the reader of TOML found, with the line and a way out."""
    place = _PLACE.search(message)
    reason = _PLACE.sub("", message)
    if place is None or place[1] is None:
        return f"not readable as TOML: {reason}; is a bracket or a quote left open?"
    number = int(place[1])
    line = one_line(text.split("\n")[number - 1])[:_LONGEST]
    return f"line {number}, '{line}': {_advice(reason, line)}"


def _advice(reason: str, line: str) -> str:
    if _COMMA.search(line):
        return "write a decimal point, no comma"
    if reason.startswith("Invalid value") and _BARE_POINT.search(line):
        return 'a number begins with a digit: 0.5, not .5; in quotes with a unit, ".5 in", it may'
    if reason.startswith(_TWICE):
        if line.lstrip().startswith("["):
            return "a table of this name is there already; one of several is [[part]], [[sheet]]"
        return "this key is there already; remove one of the two"
    if reason.startswith(("Invalid value", "Expected newline")) and "=" in line:
        return 'text and lengths with a unit stand in quotes, "66.7 mm"; plain numbers do not'
    if reason.startswith("Illegal character '\\n'"):
        return "a quote is left open on this line"
    if reason.startswith("Unclosed"):
        return "a bracket before this line is left open"
    return f"not readable as TOML: {reason}"
