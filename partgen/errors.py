"""Errors a person can act on: one line a problem, all problems of an input at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from difflib import get_close_matches

LONGEST_LINE = 1000  # characters
ALIKE = 0.7  # of 1, from which on a word may be a slip of another
LEAST_PART = 3  # letters of a part of a name that is taken for the whole


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


@contextmanager
def under(where: str) -> Iterator[None]:
    """Say of each mistake made in here where it is: an option or a file.

    Raises:
        PartgenError: as it was, with ``where`` before each line.
    """
    try:
        yield
    except PartgenError as error:
        raise type(error)([f"{where}: {line}" for line in error.problems]) from None


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
        >>> nearest("radius", ["corner_radius", "depth"])
        "did you mean 'corner_radius'?"
        >>> nearest("q", ["width", "depth"])
        'known: depth, width'
    """
    names = sorted(known)
    small = {name.lower(): name for name in names}
    close = get_close_matches(word[:60].lower(), small, n=1, cutoff=ALIKE)
    close += [name for name in small if sorted(name) == sorted(word.lower())]
    close += [name for name in small if len(word) >= LEAST_PART and word in re.split("[-_]", name)]
    if close:
        return f"did you mean '{small[close[0]]}'?"
    return "known: " + ", ".join(names) if names else "none is defined"
