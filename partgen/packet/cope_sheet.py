"""The wrap-around template of a cope as PDF, full scale, in as many pages as it needs.

1 unit on the page is 1 mm. Two lengths to check the printer by, 100 mm and 4 in, both ways. Pages
that follow each other share a strip with two crosses to lay over each other.
"""

from __future__ import annotations

from datetime import UTC, datetime
from math import ceil, pi
from typing import Literal

from fpdf import FPDF

from partgen.linkage.cope import Cope
from partgen.measure import shown

Page = Literal["a4", "letter"]
SIZES: dict[Page, tuple[float, float]] = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
MARGIN = 12.0  # mm that a printer may not reach
OVERLAP = 15.0  # mm
BELOW = 25.0  # mm of paper left on the tube beyond the deepest point
HEAD = 42.0  # mm for title and scale bars
STAMP = datetime(2000, 1, 1, tzinfo=UTC)  # the same bytes every time
Point = tuple[float, float]


def cope_pdf(cope: Cope, page: Page, unit: str) -> tuple[bytes, int]:
    """Return the PDF and its number of pages.

    Args:
        cope: the cut.
        page: paper, laid across.
        unit: of the words on it, "mm" or "in".
    """
    wide, high = SIZES[page]
    pdf = FPDF(orientation="landscape", unit="mm", format=page)
    pdf.set_creation_date(STAMP)
    pdf.set_title("partgen cope template")
    pdf.set_auto_page_break(False)
    pdf.set_compression(False)
    curve = cope.curve()
    low = min(y for _, y in curve)
    room = _room(wide, high)
    across = _starts(cope.wrap, room[0])
    along = _starts(cope.depth + BELOW, room[1])
    for row, y0 in enumerate(along):
        for column, x0 in enumerate(across):
            pdf.add_page()
            number = row * len(across) + column + 1
            _head(pdf, cope, unit, f"page {number} of {len(across) * len(along)}")
            with pdf.rect_clip(MARGIN, MARGIN + HEAD, *room):
                _draw(pdf, cope, curve, (x0, low + y0))
            _crosses(pdf, room, column > 0, column < len(across) - 1, row > 0, row < len(along) - 1)
    return bytes(pdf.output()), len(across) * len(along)


def _room(wide: float, high: float) -> Point:
    """Return what a page holds of the template, across and along [mm]."""
    return wide - 2 * MARGIN, high - 2 * MARGIN - HEAD


def _starts(length: float, room: float) -> list[float]:
    """Return where each page starts so that the pages overlap [mm]."""
    if length <= room:
        return [0.0]
    return [k * (room - OVERLAP) for k in range(ceil((length - OVERLAP) / (room - OVERLAP)))]


def _draw(pdf: FPDF, cope: Cope, curve: list[Point], start: Point) -> None:
    """Draw the cut, the seam and the quarter lines, shifted so that ``start`` is at the corner."""

    def at(x: float, y: float) -> Point:
        return MARGIN + x - start[0], MARGIN + HEAD + y - start[1]

    low = min(y for _, y in curve)
    foot = low + cope.depth + BELOW
    pdf.set_line_width(0.25)
    pdf.polyline([at(x, y) for x, y in curve])
    for x in (0.0, cope.wrap):
        pdf.line(*at(x, curve[0][1]), *at(x, foot))
    pdf.line(*at(0.0, foot), *at(cope.wrap, foot))
    pdf.set_line_width(0.1)
    pdf.set_font("Helvetica", size=8)
    names = _sides(cope.angle)
    for quarter, name in enumerate(names):
        x = cope.wrap * quarter / 4
        pdf.line(*at(x, cope.cut(quarter * pi / 2)), *at(x, foot))
        pdf.text(*at(x + 1.5, foot - 2.0), f"{90 * quarter} deg {name}")


def _sides(angle: float) -> tuple[str, str, str, str]:
    """Return what the quarter lines are: the side where the tubes lean together, and away."""
    if abs(angle - 90) < 1e-9:
        return "", "", "", ""
    near, far = ("obtuse side", "acute side") if angle < 90 else ("acute side", "obtuse side")
    return near, "", far, ""


def _head(pdf: FPDF, cope: Cope, unit: str, number: str) -> None:
    pdf.set_font("Helvetica", style="B", size=11)
    offset = f", offset {shown(cope.offset, unit)} {unit}" if cope.offset else ""
    wall = f", wall {shown(cope.wall, unit)} {unit}" if cope.wall else ""
    title = (
        f"Cope: tube {shown(cope.tube, unit)} {unit}{wall} onto {shown(cope.onto, unit)} {unit} "
        f"at {cope.angle:g} deg{offset}"
    )
    pdf.text(MARGIN, MARGIN + 4, f"{title}  ({number})")
    pdf.set_font("Helvetica", size=8)
    lines = (
        "Print at 100 %, no fit to page; measure both bars. Cut along the curve, wrap the paper "
        "round the tube, ends butted. The tube is below the curve.",
        "Template for the outside of the tube, nominal. Screening only: weld and use as licensed "
        "practice and your local vehicle code ask.",
        "Offset: seen from the seam with the other tube above, this tube passes to the "
        f"{'right' if cope.offset > 0 else 'left'}."
        if cope.offset
        else "",
    )
    for k, text in enumerate(lines):
        pdf.text(MARGIN, MARGIN + 9 + 4 * k, text)
    pdf.set_line_width(0.25)
    _bar(pdf, MARGIN, MARGIN + 26, 100.0, "100 mm")
    _bar(pdf, MARGIN + 120, MARGIN + 26, 101.6, "4 in")


def _bar(pdf: FPDF, x: float, y: float, length: float, name: str) -> None:
    pdf.line(x, y, x + length, y)
    for end in (x, x + length):
        pdf.line(end, y - 2, end, y + 2)
    pdf.text(x + length / 2 - 5, y + 4, name)


def _crosses(pdf: FPDF, room: Point, left: bool, right: bool, above: bool, below: bool) -> None:
    """Draw the crosses that pages share: two in each strip, a quarter and three along it."""
    x0, y0 = MARGIN, MARGIN + HEAD
    mid = OVERLAP / 2
    spots: list[Point] = []
    for share in (0.25, 0.75):
        spots += [(mid, share * room[1])] * left + [(room[0] - mid, share * room[1])] * right
        spots += [(share * room[0], mid)] * above + [(share * room[0], room[1] - mid)] * below
    for x, y in spots:
        pdf.line(x0 + x - 3, y0 + y, x0 + x + 3, y0 + y)
        pdf.line(x0 + x, y0 + y - 3, x0 + x, y0 + y + 3)
