"""One plate's drawing as a file of its own: SVG with its title block, or PNG."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path
from textwrap import wrap

from partgen.job.build import Build
from partgen.packet.plates_section import plate_drawing, plate_facts, view_text
from partgen.packet.words import LETTER, Words
from partgen.plates.plate import Plate

PAPER = "#ffffff"
FONT, FONT_FILE = "Bitstream Vera Sans", "Vera.ttf"  # comes with the PDF library
MADE_BY = b"Software\0partgen"


def plate_svg(plate: Plate, build: Build, note: str = "") -> str:
    """Return a plate's drawing with job, name, stock, hand and face above it.

    Args:
        plate: to draw.
        build: its job.
        note: printed last, as that a rule stops the job.
    """
    made = plate_drawing(plate, build)
    facts = plate_facts(plate, build.job.unit)
    most = max(24, int((made.right - made.left) / (LETTER * made.size)))
    lines = [build.job.name, plate.label, facts, view_text(plate, build), note]
    rows = [row for line in lines if line for row in wrap(line, most)]
    top = made.highest + (1.4 * len(rows) + 0.6) * made.size
    for k, row in enumerate(rows):
        y = top - (1.4 * k + 0.4) * made.size
        made.words.append(Words(row, made.left, y, made.size, "start"))
        made.right = max(made.right, made.words[-1].box[2])
    made.top = top
    return made.svg(f"{plate.label}: {facts}").replace("</svg>", "<!-- partgen --></svg>")


def png(svg: str, width: int) -> bytes:
    """Return an SVG of ours as PNG on white, ``width`` pixels wide."""
    import reportlab
    import resvg_py

    fonts = Path(reportlab.__file__).parent / "fonts"
    content = resvg_py.svg_to_bytes(
        svg_string=svg,
        width=width,
        background=PAPER,
        font_files=[str(fonts / FONT_FILE)],
        sans_serif_family=FONT,
    )
    return _signed(bytes(content))


def _signed(content: bytes) -> bytes:
    """Return a PNG that says who made it, in a text chunk after its header."""
    head = 8 + 25  # signature; length, type, 13 bytes and checksum of the header chunk
    body = b"tEXt" + MADE_BY
    chunk = struct.pack(">I", len(MADE_BY)) + body + struct.pack(">I", zlib.crc32(body))
    return content[:head] + chunk + content[head:]
