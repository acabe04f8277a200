"""Sheets of paper and what of them carries the drawing.

Sizes: ISO 216 (A4, A3) and ANSI/ASME Y14.1 size A (Letter), from memory. The strip at the top is
for words, the ones at the right and at the bottom for the bars.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.errors import PartgenError, nearest
from partgen.measure import parse_length

SIZES = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}  # mm
EDGE = 8.0  # mm that printers may leave bare; common practice, no source
TOP, SIDE = 18.0, 13.0  # mm, strip of words above, strips of bars at the right and below
BAR = 100.0  # mm, the bar whose printed length is measured
LEAST, MOST = 90.0, 110.0  # mm; a printer is never further off than that


@dataclass(frozen=True)
class Paper:
    """A sheet of paper in a printer that may stretch.

    Attributes:
        name: as asked for.
        width: of the sheet [mm].
        height: of the sheet [mm].
        stretch: printed length over length in the file, across and down the page [-].
    """

    name: str
    width: float
    height: float
    stretch: tuple[float, float] = (1.0, 1.0)

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of the drawing on one page, as printed [mm]."""
        return (
            (self.width - 2 * EDGE) * self.stretch[0] - SIDE,
            (self.height - 2 * EDGE) * self.stretch[1] - TOP - SIDE,
        )

    @property
    def lying(self) -> Paper:
        """The same sheet with its long side across; the printer turns the picture with it."""
        return Paper(self.name, self.height, self.width, (self.stretch[1], self.stretch[0]))


def paper(name: str, measured: str = "") -> Paper:
    """Return a sheet of paper.

    Args:
        name: a4, a3 or letter.
        measured: printed length of the 100 mm bar as typed, or two, along the short and the
            long side: ``99.1x99.4``.

    Raises:
        PartgenError: no such paper, or a length no printer gives.
    """
    problems: list[str] = []
    if name.lower() not in SIZES:
        problems.append(f"--paper {name}: no such paper; {nearest(name, SIZES)}")
    try:
        found = stretch(measured)
    except PartgenError as error:
        problems += error.problems
    if problems:
        raise PartgenError(problems)
    return Paper(name.lower(), *SIZES[name.lower()], found)


def stretch(measured: str) -> tuple[float, float]:
    """Return printed length over true length, along short and long side, from what bars measure.

    Raises:
        PartgenError: not a length, or not near 100 mm.

    Examples:
        >>> stretch("99.1"), stretch("100x3.9 in"), stretch("")
        ((0.991, 0.991), (1.0, 0.9906), (1.0, 1.0))
    """
    if not measured.strip():
        return 1.0, 1.0
    texts = measured.lower().split("x")
    if len(texts) > 2:
        raise PartgenError(f"--measured {measured}: one length, or short and long side: 99.1x99.4")
    lengths = [_bar(text, measured) for text in texts]
    return lengths[0] / BAR, lengths[-1] / BAR


def _bar(text: str, measured: str) -> float:
    try:
        length = parse_length(text, "mm")
    except PartgenError as error:
        raise PartgenError(f"--measured {measured}: {error}") from None
    if not LEAST <= length <= MOST:
        raise PartgenError(
            f"--measured {measured}: {length:g} mm for the bar of {BAR:g} mm is not within "
            f"{LEAST:g} to {MOST:g} mm; measure the bar marked 100 mm, print without "
            "'fit to page'"
        )
    return length
