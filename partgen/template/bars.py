"""The bars a ruler is laid on: 100 mm and 4 in, across and down, on every page."""

from __future__ import annotations

from partgen.geometry.segment import Point
from partgen.template.paper import BAR, SIDE
from partgen.template.pdf import Pages

BARS = ((BAR, "100 mm"), (101.6, "4 in"))  # mm
TICK = 1.5  # mm
WIDTH = 0.2  # mm


def bars(pages: Pages, window: tuple[float, float]) -> None:
    """Draw the bars below the window and to the right of it."""
    for k, (length, text) in enumerate(BARS):
        low = SIDE - 4.5 - 5.5 * k
        _bar(pages, (2.0, low), length, text, down=False)
        _bar(pages, (window[0] + 4.5 + 5.5 * k, SIDE + 2.0), length, text, down=True)


def _bar(pages: Pages, at: Point, length: float, text: str, *, down: bool) -> None:
    def turned(along: float, across: float) -> Point:
        return (at[0] - across, at[1] + along) if down else (at[0] + along, at[1] + across)

    pages.line([turned(0.0, 0.0), turned(length, 0.0)], WIDTH)
    for end in (0.0, length):
        pages.line([turned(end, -TICK), turned(end, TICK)], WIDTH)
    spot = turned(length / 2, 0.8)
    pages.words(text, spot, 2.2, angle=90.0 if down else 0.0, middle=True)
