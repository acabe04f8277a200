"""Errors a person can act on: one line a problem, all problems of an input at once."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

LONGEST_LINE = 1000  # characters


class PartgenError(Exception):
    """The input is wrong; ``problems`` holds one line for each thing to mend.

    Args:
        problems: the lines, or a single line.
    """

    def __init__(self, problems: str | Iterable[str]) -> None:
        lines = [problems] if isinstance(problems, str) else list(problems)
        self.problems = [one_line(line) for line in lines]
        super().__init__("\n".join(self.problems))


class MeasureError(PartgenError):
    """A length, an angle or an expression cannot be read."""


class GeometryError(PartgenError):
    """A shape cannot exist with these numbers."""


class ProfileError(PartgenError):
    """A file under ``profiles/`` is unknown, incomplete or wrong."""


def one_line(text: str) -> str:
    r"""Return ``text`` as one printable line of at most ``LONGEST_LINE`` characters.

    Examples:
        >>> one_line("a\nb")
        'a b'
    """
    line = "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))
    return line if len(line) <= LONGEST_LINE else line[: LONGEST_LINE - 3] + "..."


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a hint naming the nearest known word, or the known words if none is near.

    Examples:
        >>> nearest("widht", ["width", "depth"])
        "did you mean 'width'?"
        >>> nearest("q", ["width", "depth"])
        'known: depth, width'
    """
    names = sorted(known)
    close = get_close_matches(word[:60], names, n=1, cutoff=0.6)
    if close:
        return f"did you mean '{close[0]}'?"
    return "known: " + ", ".join(names) if names else "none is defined"
