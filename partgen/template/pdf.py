"""Pages of exact lines in a PDF file; the only module that knows the PDF library.

Drawn in millimetres as they shall be printed; a printer that stretches is countered here. Same
input, same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.template.bezier import beziers
from partgen.template.paper import EDGE, Paper
from partgen.template.tiles import Box

POINTS = 72 / 25.4  # PDF points in a millimetre
FONT, BOLD = "Helvetica", "Helvetica-Bold"
CAP = 0.72  # height of a capital over the font's size


class Pages:
    """A PDF file page by page."""

    def __init__(self, title: str) -> None:
        """Start a file with ``title``."""
        self._buffer = io.BytesIO()
        self._canvas = Canvas(self._buffer, invariant=1, pageCompression=1)
        self._canvas.setTitle(title)
        self._canvas.setCreator("partgen")
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._origin: Point = (0.0, 0.0)
        self._scale: Point = (POINTS, POINTS)
        self._corner: Point = (0.0, 0.0)

    def start(self, sheet: Paper) -> None:
        """Start a page; (0, 0) is then the lower left corner of what can be printed."""
        self._canvas.setPageSize((sheet.width * POINTS, sheet.height * POINTS))
        self._scale = POINTS / sheet.stretch[0], POINTS / sheet.stretch[1]
        self._origin = 0.0, 0.0
        self._corner = EDGE * POINTS, EDGE * POINTS

    def end(self) -> None:
        """Finish the page."""
        self._canvas.showPage()

    def save(self) -> bytes:
        """Return the file."""
        self._canvas.save()
        return self._buffer.getvalue()

    def view(self, box: Box, at: Point) -> None:
        """Show only ``box`` of the drawing, its lower left corner at ``at`` on the page [mm]."""
        self._canvas.saveState()
        self._origin = box[0] - at[0], box[1] - at[1]
        x, y = self._at((box[0], box[1]))
        path = self._canvas.beginPath()
        path.rect(x, y, (box[2] - box[0]) * self._scale[0], (box[3] - box[1]) * self._scale[1])
        self._canvas.clipPath(path, stroke=0, fill=0)

    def whole(self) -> None:
        """Show the whole page again."""
        self._canvas.restoreState()
        self._origin = 0.0, 0.0

    def outline(self, outline: Outline, width: float) -> None:
        """Draw a closed outline with a line ``width`` mm wide."""
        self._pen(width, ())
        path = self._canvas.beginPath()
        path.moveTo(*self._at(outline.segments[0].start))
        for s in outline.segments:
            if s.bulge:
                for first, second, end in beziers(s):
                    path.curveTo(*self._at(first), *self._at(second), *self._at(end))
            else:
                path.lineTo(*self._at(s.end))
        path.close()
        self._canvas.drawPath(path, stroke=1, fill=0)

    def line(self, points: Sequence[Point], width: float, dash: Sequence[float] = ()) -> None:
        """Draw a chain of straight lines [mm]."""
        self._pen(width, dash)
        path = self._canvas.beginPath()
        path.moveTo(*self._at(points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(point))
        self._canvas.drawPath(path, stroke=1, fill=0)

    def words(
        self, text: str, at: Point, height: float, *, angle: float = 0.0, middle: bool = False,
        most: float = 0.0, bold: bool = False,
    ) -> None:  # fmt: skip
        """Write ``text``.

        Args:
            text: letters beyond western European ones are shown as "?".
            at: start, or the middle, of its base line [mm].
            height: of capitals [mm].
            angle: turned anticlockwise [degrees].
            middle: whether ``at`` is the middle.
            most: width it is cut to; 0 for any [mm].
            bold: whether the letters are heavy.
        """
        canvas, font = self._canvas, BOLD if bold else FONT
        plain = text.encode("cp1252", "replace").decode("cp1252")
        size = height * POINTS / CAP
        while most and plain and canvas.stringWidth(plain, font, size) > most * POINTS:
            plain = plain[:-4] + "..." if len(plain) > 4 else ""
        canvas.saveState()
        canvas.translate(*self._at(at))
        canvas.rotate(angle)
        canvas.setFont(font, size)
        (canvas.drawCentredString if middle else canvas.drawString)(0, 0, plain)
        canvas.restoreState()

    def _pen(self, width: float, dash: Sequence[float]) -> None:
        self._canvas.setLineWidth(width * POINTS)
        self._canvas.setDash([d * POINTS for d in dash])

    def _at(self, point: Point) -> Point:
        return (
            self._corner[0] + (point[0] - self._origin[0]) * self._scale[0],
            self._corner[1] + (point[1] - self._origin[1]) * self._scale[1],
        )
