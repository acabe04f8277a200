"""Stations of a measured edge in a CSV file: x, y and, at a bend, its radius."""

from __future__ import annotations

import csv

from partgen.errors import MeasureError, PartgenError
from partgen.fields import Reading

MOST = 1000
Station = tuple[float, ...]  # x, y [mm], and a bend radius if it has one


def read_csv(data: bytes, reading: Reading) -> tuple[Station, ...]:
    """Return the stations in a CSV file.

    A line is ``x, y`` or ``x, y, radius``: lengths as anywhere in a job, commas, semicolons or
    tabs between them. A first line of words, empty lines and lines that begin with # are
    passed over.

    Raises:
        MeasureError: a line is wrong; the first one is named.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise MeasureError("not UTF-8 text; save it as CSV") from None
    lines = [
        (number, line)
        for number, line in enumerate(text.splitlines(), 1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if len(lines) > MOST + 1:  # one may be of words
        raise MeasureError(f"has {len(lines)} stations; at most {MOST}")
    mark = next((m for m in ";\t" if any(m in line for _, line in lines)), ",")
    found: list[Station] = []
    for number, line in lines:
        cells = _cells(line, mark, number)
        while cells and not cells[-1]:
            cells.pop()
        if not found and not any(c.isdigit() for c in line):
            continue
        found.append(_station(cells, number, reading))
    if len(found) > MOST:
        raise MeasureError(f"has {len(found)} stations; at most {MOST}")
    return tuple(found)


def _cells(line: str, mark: str, number: int) -> list[str]:
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=mark))]
    except csv.Error as error:  # a cell of 131,072 characters and more
        raise MeasureError(f"line {number} cannot be read as CSV: {error}") from None


def _station(cells: list[str], number: int, reading: Reading) -> Station:
    if len(cells) not in (2, 3):
        raise MeasureError(f"line {number} has {len(cells)} values; write x, y or x, y, radius")
    try:
        return tuple(reading.length(cell) for cell in cells)
    except PartgenError as error:
        raise MeasureError(f"line {number}: {error}") from None
