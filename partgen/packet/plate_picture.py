"""One plate's drawing as a file of its own: SVG with its title block."""

from __future__ import annotations

from textwrap import wrap

from partgen.cautions import ON_PAPER
from partgen.job.build import Build
from partgen.packet.plates_section import plate_drawing, plate_facts, view_text
from partgen.packet.words import LETTER, Words
from partgen.plates.plate import Plate


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
    lines = [build.job.name, plate.label, facts, view_text(plate, build), note, ON_PAPER]
    rows = [row for line in lines if line for row in wrap(line, most)]
    top = made.highest + (1.4 * len(rows) + 0.6) * made.size
    for k, row in enumerate(rows):
        y = top - (1.4 * k + 0.4) * made.size
        made.words.append(Words(row, made.left, y, made.size, "start"))
        made.right = max(made.right, made.words[-1].box[2])
    made.top = top
    return made.svg(f"{plate.label}: {facts}").replace("</svg>", "<!-- partgen --></svg>")
