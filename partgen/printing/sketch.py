"""A plate as a line drawing in text, made from its outlines."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, hypot

from partgen.geometry.segment import Point, Segment
from partgen.plates.plate import Plate

TALL = 2.0  # how many times a character is higher than wide
Box = tuple[float, float, float, float]


def sketch(plate: Plate, columns: int = 60, rows: int = 22) -> list[str]:
    """Return the plate's outlines and marks as lines of text, y up.

    Args:
        plate: what is drawn.
        columns: widest drawing.
        rows: highest drawing.
    """
    x0, y0, x1, y1 = plate.outline.box
    step = max((x1 - x0) / (columns - 1), (y1 - y0) / (rows - 1) / TALL)
    wide, high = ceil((x1 - x0) / step) + 1, ceil((y1 - y0) / step / TALL) + 1
    grid = [[" "] * wide for _ in range(high)]
    for mark in plate.marks:
        for a, b in pairwise(mark.path):
            _draw(grid, [Segment(*a, *b)], (x0, y1), step, ":" if mark.kind == "bend" else ".")
    for outline in plate.outlines:
        _draw(grid, outline.segments, (x0, y1), step)
    return ["".join(row).rstrip() for row in grid]


def _draw(
    grid: list[list[str]],
    segments: Sequence[Segment],
    corner: Point,
    step: float,
    sign: str = "",
) -> None:
    for s in segments:
        count = max(2, ceil(4 * s.length / step))
        for k in range(count):
            part = (k + 0.5) / count
            x, y = s.at(part)
            column, row = round((x - corner[0]) / step), round((corner[1] - y) / step / TALL)
            row, column = min(row, len(grid) - 1), min(column, len(grid[0]) - 1)
            grid[row][column] = sign or _sign(s.direction(part))


def _sign(way: Point) -> str:
    """Return the character nearest to a direction."""
    x, y = way[0], way[1] / TALL
    if hypot(x, y) == 0 or abs(y) <= 0.25 * abs(x):
        return "-"
    if abs(x) <= 0.35 * abs(y):
        return "|"
    return "/" if x * y > 0 else "\\"


def title(plate: Plate) -> str:
    """Return a line on what the drawing shows: size, openings, marks."""
    x0, y0, x1, y1 = plate.outline.box
    counts = {"bolt hole": plate.holes, "opening": plate.windows, "mark": plate.marks}
    parts = [f"{len(n)} {what}{'s' if len(n) > 1 else ''}" for what, n in counts.items() if n]
    return ", ".join([f"{plate.name}: {x1 - x0:.4g} x {y1 - y0:.4g} mm", *parts])
