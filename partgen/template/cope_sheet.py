"""The wrap-around template of a cope as PDF, full scale, in as many pages as it needs.

Two lengths to check the printer by, 100 mm and 4 in. Pages that follow each other share a strip
with crosses to lay over each other.
"""

from __future__ import annotations

from math import ceil, pi
from typing import Literal

from partgen.cautions import ON_PAPER
from partgen.linkage.cope import Cope
from partgen.measure import shown
from partgen.template.paper import EDGE, Paper, paper
from partgen.template.pdf import Pages

Page = Literal["a4", "letter"]
OVERLAP = 15.0  # mm
BELOW = 25.0  # mm of paper left on the tube beyond the deepest point
HEAD = 42.0  # mm for title and bars
LINE, THIN = 0.25, 0.1  # mm
WORDS = 2.2  # mm, capitals
Point = tuple[float, float]


def cope_pdf(cope: Cope, page: Page, unit: str) -> tuple[bytes, int]:
    """Return the PDF and its number of pages.

    Args:
        cope: the cut.
        page: paper, laid across.
        unit: of the words on it, "mm" or "in".
    """
    sheet = paper(page).lying
    wide, high = room(sheet)
    pages = Pages("partgen cope template")
    across, down = _starts(cope.wrap, wide), _starts(cope.depth + BELOW, high)
    low = min(y for _, y in cope.curve())
    count = len(across) * len(down)
    for row, y0 in enumerate(down):
        for column, x0 in enumerate(across):
            pages.start(sheet)
            number = row * len(across) + column + 1
            _head(pages, cope, unit, high, f"page {number} of {count}")
            top = -(low + y0)
            pages.view((x0, top - high, x0 + wide, top), (0.0, 0.0))
            _draw(pages, cope, low)
            pages.whole()
            sides = (column > 0, column < len(across) - 1, row > 0, row < len(down) - 1)
            _crosses(pages, (wide, high), sides)
            pages.end()
    return pages.save(), count


def room(sheet: Paper) -> Point:
    """Return what a page holds of the template, across and down [mm]."""
    return sheet.width - 2 * EDGE, sheet.height - 2 * EDGE - HEAD


def _starts(length: float, room: float) -> list[float]:
    """Return where each page starts so that the pages overlap [mm]."""
    if length <= room:
        return [0.0]
    return [k * (room - OVERLAP) for k in range(ceil((length - OVERLAP) / (room - OVERLAP)))]


def _draw(pages: Pages, cope: Cope, low: float) -> None:
    """Draw the cut, the seam and the quarter lines; the tube hangs down from the cut."""
    foot = -(low + cope.depth + BELOW)
    pages.line([(x, -y) for x, y in cope.curve()], LINE)
    for x in (0.0, cope.wrap):
        pages.line([(x, -cope.cut(0.0)), (x, foot)], LINE)
    pages.line([(0.0, foot), (cope.wrap, foot)], LINE)
    for quarter, name in enumerate(_sides(cope.angle)):
        x = cope.wrap * quarter / 4
        pages.line([(x, -cope.cut(quarter * pi / 2)), (x, foot)], THIN)
        pages.words(f"{90 * quarter} deg {name}", (x + 1.5, foot + 2.0), WORDS)


def _sides(angle: float) -> tuple[str, str, str, str]:
    """Return what the quarter lines are: the side where the tubes lean together, and away."""
    if abs(angle - 90) < 1e-9:
        return "", "", "", ""
    near, far = ("obtuse side", "acute side") if angle < 90 else ("acute side", "obtuse side")
    return near, "", far, ""


def _head(pages: Pages, cope: Cope, unit: str, base: float, number: str) -> None:
    """Write title, advice and bars above ``base`` [mm]."""
    offset = f", offset {shown(cope.offset, unit)} {unit}" if cope.offset else ""
    wall = f", wall {shown(cope.wall, unit)} {unit}" if cope.wall else ""
    title = (
        f"Cope: tube {shown(cope.tube, unit)} {unit}{wall} onto {shown(cope.onto, unit)} {unit} "
        f"at {cope.angle:g} deg{offset}"
    )
    top = base + HEAD
    pages.words(f"{title}  ({number})", (0.0, top - 4), 3.0, bold=True)
    side = "right" if cope.offset > 0 else "left"
    lines = [
        "Print at 100 %, no fit to page; measure both bars. Cut along the curve, wrap the paper "
        "round the tube, ends butted. The tube is below the curve.",
        f"Template for the outside of the tube, nominal. {ON_PAPER}",
    ]
    if cope.offset:
        lines.append(
            f"Seen from the seam with the other tube above, this one passes to the {side}."
        )
    for k, text in enumerate(lines):
        pages.words(text, (0.0, top - 10 - 4 * k), WORDS)
    _bar(pages, (0.0, top - 28), 100.0, "100 mm")
    _bar(pages, (120.0, top - 28), 101.6, "4 in")


def _bar(pages: Pages, at: Point, length: float, name: str) -> None:
    x, y = at
    pages.line([(x, y), (x + length, y)], LINE)
    for end in (x, x + length):
        pages.line([(end, y - 2), (end, y + 2)], LINE)
    pages.words(name, (x + length / 2, y - 4), WORDS, middle=True)


def _crosses(pages: Pages, room: Point, sides: tuple[bool, bool, bool, bool]) -> None:
    """Draw the crosses that pages share: two in each strip, at a quarter and at three."""
    left, right, above, below = sides
    middle = OVERLAP / 2
    spots: list[Point] = []
    for share in (0.25, 0.75):
        x, y = share * room[0], share * room[1]
        spots += [(middle, y)] * left + [(room[0] - middle, y)] * right
        spots += [(x, room[1] - middle)] * above + [(x, middle)] * below
    for x, y in spots:
        pages.line([(x - 3, y), (x + 3, y)], LINE)
        pages.line([(x, y - 3), (x, y + 3)], LINE)
