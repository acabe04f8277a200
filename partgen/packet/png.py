"""Pictures of ours as PNG, a given number of pixels wide."""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Mapping
from pathlib import Path

from partgen.errors import PartgenError

PAPER = "#ffffff"
FONT, FONT_FILE = "Bitstream Vera Sans", "Vera.ttf"  # comes with the PDF library
MADE_BY = b"Software\0partgen"
MOST_PIXELS = 40_000_000  # of one picture; ten bytes of memory each
MOST_IN_ALL = 300_000_000  # of all pictures of a run; some seconds for every 20 million
_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')


def pngs(pictures: Mapping[str, str], width: int) -> dict[str, bytes]:
    """Return SVGs of ours as PNG on white, by the same names.

    Args:
        pictures: SVG by name.
        width: of each [pixels].

    Raises:
        PartgenError: one of them, or all together, would take too many pixels.
    """
    sizes = {name: pixels(svg, width) for name, svg in pictures.items()}
    problems = [
        f"--png {width}: {name} would be {size // width} pixels high; "
        f"at most {MOST_PIXELS // 1_000_000} million pixels in all, choose a smaller width"
        for name, size in sizes.items()
        if size > MOST_PIXELS
    ]
    if not problems and sum(sizes.values()) > MOST_IN_ALL:
        problems = [
            f"--png {width}: {len(sizes)} pictures would take {sum(sizes.values()) / 1e6:.0f} "
            f"million pixels; at most {MOST_IN_ALL // 1_000_000}, choose a smaller width"
        ]
    if problems:
        raise PartgenError(problems)
    return {name: png(svg, width) for name, svg in pictures.items()}


def pixels(svg: str, width: int) -> int:
    """Return how many pixels a picture of ours takes."""
    found = _BOX.search(svg)
    across, up = (1.0, 1.0) if found is None else (float(found[1]), float(found[2]))
    return width * max(1, round(width * up / across))


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
