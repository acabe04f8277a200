"""A text in a drawing and the room it takes; y up, 1 user unit is 1 mm."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

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
