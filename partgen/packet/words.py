"""Texts in a drawing, the room they take, and keeping them apart; y up, 1 user unit is 1 mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import fsum

from partgen.packet.picture import INK, number

LETTER = 0.62  # width of a letter over the text's size, generous for a plain sans serif


@dataclass(frozen=True)
class Words:
    """A text in the drawing, y up.

    Attributes:
        text: what it says.
        x: of its anchor [mm].
        y: of its middle line [mm].
        size: of the letters [mm].
        anchor: "start", "middle" or "end".
        upright: turned to read from the right.
    """

    text: str
    x: float
    y: float
    size: float
    anchor: str = "middle"
    upright: bool = False

    @property
    def box(self) -> tuple[float, float, float, float]:
        """What it covers: least x, least y, greatest x, greatest y [mm]."""
        wide, half = LETTER * self.size * len(self.text), self.size / 2
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        if self.upright:
            return self.x - half, self.y - back, self.x + half, self.y - back + wide
        return self.x - back, self.y - half, self.x - back + wide, self.y + half

    @property
    def svg(self) -> str:
        """The SVG element."""
        turn = (
            f' transform="rotate(-90 {number(self.x)} {number(-self.y)})"' if self.upright else ""
        )
        return (
            f'<text x="{number(self.x)}" y="{number(-self.y)}" font-size="{number(self.size)}" '
            f'text-anchor="{self.anchor}" dy=".35em" xml:space="preserve" font-family="sans-serif" '
            f'fill="{INK}"{turn}>{escape(self.text)}</text>'
        )


def spread(wanted: Sequence[float], apart: float) -> list[float]:
    """Return places at least ``apart`` from each other, as near to the ``wanted`` ones as can be.

    Args:
        wanted: places in rising order.
        apart: least distance between two of them.

    Examples:
        >>> spread([0, 1, 10], 3)
        [-1.0, 2.0, 10.0]
    """
    groups: list[list[float]] = []
    for place in wanted:
        groups.append([place])
        while len(groups) > 1 and _first(groups[-1], apart) - _first(groups[-2], apart) < (
            len(groups[-2]) * apart
        ):
            last = groups.pop()
            groups[-1] += last
    return [_first(group, apart) + k * apart for group in groups for k in range(len(group))]


def _first(group: list[float], apart: float) -> float:
    """Return where the first of a group starts: the group's mean place is kept."""
    return fsum(group) / len(group) - apart * (len(group) - 1) / 2


def packed(entries: Sequence[str], most: int) -> list[str]:
    """Return the entries on as few lines as hold ``most`` letters each, in order.

    Examples:
        >>> packed(["A  R24", "B  4 x R10", "Lengths in mm."], 20)
        ['A  R24   B  4 x R10', 'Lengths in mm.']
    """
    lines: list[str] = []
    for entry in entries:
        if lines and len(lines[-1]) + 3 + len(entry) <= most:
            lines[-1] += f"   {entry}"
        else:
            lines.append(entry)
    return lines
