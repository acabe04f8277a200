"""Published tables: one file under ``profiles/tables`` is one table of one document.

Numbers stay in the unit the document prints; :meth:`Table.mm` converts. A size the table
does not print is not covered (None), unless the document says how to go on
(``above_rows`` in the file's ``[meaning]``).

File layout: ``[source]`` document and how it was verified, ``[meaning]`` what the numbers
are, ``[units]`` one unit for each column (``label`` for text), ``[table]`` with ``columns``,
``rows``, ``mark`` (``found`` in a printed text or a copy, ``memory``, ``computed``; a row
may end in its own) and ``blanks``, the columns where "-" (not printed) may stand.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import isclose, isfinite
from types import MappingProxyType
from typing import Any

from partgen.errors import ProfileError, nearest
from partgen.reference import profile_files
from partgen.reference.source import Source, read_source

Cell = str | float | None
Row = Mapping[str, Cell]

BLOCKS = ("source", "meaning", "units", "table")
MARKS = ("found", "memory", "computed")
UNITS = ("label", "1", "mm", "in", "mm2", "in2", "1/in", "N", "MPa", "ksi", "lb/ft2", "d0", "t")
MM_PER = {"mm": 1.0, "in": 25.4}
FRACTION = re.compile(r"(?:(\d+)-)?(\d+)/([1-9]\d*)")


@dataclass(frozen=True, kw_only=True)
class Table:
    """One published table.

    Attributes:
        name: file name without ending.
        source: the document.
        units: unit of each column.
        meaning: what the numbers are, and what holds outside the printed rows.
        rows: printed rows in order, each also with its ``mark``; None is a printed dash.
    """

    name: str
    source: Source
    units: Mapping[str, str]
    meaning: Mapping[str, Any]
    rows: tuple[Row, ...]

    @staticmethod
    def names() -> list[str]:
        """Return the names of all tables."""
        return profile_files.names("tables")

    @property
    def columns(self) -> tuple[str, ...]:
        """Column names in printed order, the key first."""
        return tuple(self.units)

    def cells(self) -> list[tuple[Cell, ...]]:
        """Return the printed cells, row by row, without the marks."""
        return [tuple(row[column] for column in self.columns) for row in self.rows]

    def find(self, **keys: str | float) -> Row | None:
        """Return the first row with these values, or None where the table prints none.

        Raises:
            ProfileError: a key is no column of the table.

        Examples:
            >>> table = load("iso_273")
            >>> table.find(bolt="M16")["medium"], table.find(bolt="M15")
            (17.5, None)
        """
        for key in keys:
            self._check_column(key)
        for row in self.rows:
            if all(_same(row[key], value) for key, value in keys.items()):
                return row
        return None

    def band(self, value: float) -> Row | None:
        """Return the row with over < value <= to (printed unit), or None outside the table."""
        for row in self.rows:
            top = row["to"]
            if self.number(row, "over") < value and (top is None or value <= float(top)):
                return row
        return None

    def lookup(self, key: str | float, field: str) -> float | None:
        """Return a printed number by the row's first column, None where not covered.

        Beyond the last row only what the document says: ``above_rows`` times the key.

        Args:
            key: value of the first column, in the printed unit.
            field: column wanted.

        Returns:
            The number in the printed unit.

        Raises:
            ProfileError: the column is unknown or the cell is a dash.

        Examples:
            >>> table = load("aisc_360_16_j3_4m")
            >>> [table.lookup(bolt, "edge") for bolt in (16, 18, 40)]
            [22.0, None, 50.0]
        """
        self._check_column(field)
        row = self.find(**{self.columns[0]: key})
        if row is not None:
            return self.number(row, field)
        above = self.meaning.get("above_rows")
        if isinstance(above, dict) and isinstance(key, int | float) and key > above["over"]:
            return float(above[field]) * key
        return None

    def number(self, row: Row, field: str) -> float:
        """Return a cell as a number in its printed unit.

        Raises:
            ProfileError: no such column, or the cell is a dash or text.
        """
        self._check_column(field)
        value = row[field]
        if not isinstance(value, int | float):
            raise ProfileError(
                f"{self.source.cite}: row {row[self.columns[0]]} prints no number for '{field}'"
            )
        return float(value)

    def mm(self, row: Row, field: str) -> float:
        """Return a cell in mm.

        Raises:
            ProfileError: the column is no length, or the cell is a dash.

        Examples:
            >>> table = load("asme_b18_2_8")
            >>> round(table.mm(table.find(bolt="3/4"), "close"), 4)
            19.8374
        """
        value = self.number(row, field)
        unit = self.units[field]
        if unit not in MM_PER:
            raise ProfileError(f"{self.source.cite}: '{field}' is in {unit}, not a length")
        return value * MM_PER[unit]

    def cite(self, row: Row) -> str:
        """Return the short citation of a row; a recalled row says so.

        Examples:
            >>> load("iso_273").cite(load("iso_273").find(bolt="M18"))
            'ISO 273 (from memory)'
        """
        return self.source.cite + (" (from memory)" if row["mark"] == "memory" else "")

    def _check_column(self, field: str) -> None:
        if field not in self.units:
            raise ProfileError(
                f"{self.source.cite}: no column '{field}'; {nearest(field, self.units)}"
            )


@cache
def load(name: str) -> Table:
    """Return a published table by its file name.

    Raises:
        ProfileError: the table is unknown, or its file is incomplete.
    """
    return parse(name, profile_files.read("tables", name))


def parse(name: str, data: Mapping[str, Any]) -> Table:
    """Check the contents of a table file and return the table.

    Raises:
        ProfileError: a block, field, column or number is missing, unknown or wrong.
    """
    where = f"profiles/tables/{name}.toml"
    for block in (*BLOCKS, *(key for key in data if key not in BLOCKS)):
        if not isinstance(data.get(block), dict) or block not in BLOCKS:
            state = "is unknown" if block in data else "is missing"
            raise ProfileError(f"{where}: block [{block}] {state}; needs {', '.join(BLOCKS)}")
    source = read_source(where, data["source"])
    units = _read_units(where, data)
    rows = _read_rows(where, data["table"], units)
    return Table(
        name=name,
        source=source,
        units=MappingProxyType(units),
        meaning=MappingProxyType(data["meaning"]),
        rows=rows,
    )


def _read_units(where: str, data: Mapping[str, Any]) -> dict[str, str]:
    """Return the unit of each column, in the order of the columns."""
    columns = data["table"].get("columns")
    if not isinstance(columns, list) or not columns:
        raise ProfileError(f"{where}: [table] field 'columns' is missing or empty")
    if len(set(columns)) < len(columns) or "mark" in columns:
        raise ProfileError(f"{where}: [table] columns must differ, none is 'mark'")
    units: dict[str, str] = {column: data["units"].get(column, "") for column in columns}
    for column in (*columns, *data["units"]):
        if column not in columns:
            raise ProfileError(f"{where}: [units] names '{column}', which is no column")
        if units[column] not in UNITS:
            raise ProfileError(
                f"{where}: [units] column '{column}' has unit '{units[column]}'; "
                f"needs one of {', '.join(UNITS)}"
            )
    return units


def _read_rows(where: str, block: Mapping[str, Any], units: Mapping[str, str]) -> tuple[Row, ...]:
    """Return the rows with numbers as floats and each row's mark."""
    marked = block.get("mark", "found")
    for field in block:
        if field not in ("columns", "rows", "mark", "blanks"):
            raise ProfileError(f"{where}: [table] field '{field}' is unknown")
    if not isinstance(block.get("rows"), list) or not block["rows"]:
        raise ProfileError(f"{where}: [table] field 'rows' is missing or empty")
    for column in block.get("blanks", []):
        if column not in units:
            raise ProfileError(f"{where}: [table] blanks names '{column}', which is no column")
    rows: list[Row] = []
    for number, printed in enumerate(block["rows"], start=1):
        at = f"{where}: row {number}"
        if not isinstance(printed, list):
            raise ProfileError(f"{at} is {printed!r}, needs a list of cells")
        cells = list(printed)
        mark = cells.pop() if len(cells) == len(units) + 1 else marked
        if mark not in MARKS:
            raise ProfileError(f"{at}: mark is {mark!r}, needs one of {', '.join(MARKS)}")
        if len(cells) != len(units):
            raise ProfileError(f"{at} has {len(cells)} cells, needs {len(units)}: {list(units)}")
        row: dict[str, Cell] = {
            column: _read_cell(f"{at}, column '{column}'", cell, unit, column, block)
            for (column, unit), cell in zip(units.items(), cells, strict=True)
        }
        row["mark"] = mark
        rows.append(MappingProxyType(row))
    return tuple(rows)


def _read_cell(at: str, cell: object, unit: str, column: str, block: Mapping[str, Any]) -> Cell:
    """Return one cell: text for labels, else a number; a dash where the table may have one."""
    if unit == "label":
        if not isinstance(cell, str) or not cell:
            raise ProfileError(f"{at}: {cell!r} is no text")
        return cell
    if cell == "-" and column in block.get("blanks", []):
        return None
    if isinstance(cell, str) and (match := FRACTION.fullmatch(cell)):
        whole, top, bottom = match.groups(default="0")
        return int(whole) + int(top) / int(bottom)
    if isinstance(cell, bool) or not isinstance(cell, int | float) or not isfinite(cell):
        raise ProfileError(f"{at}: {cell!r} is no number; write 0.266, 16 or '1-1/8'")
    if cell < 0:
        raise ProfileError(f"{at}: {cell!r} is below 0")
    return float(cell)


def _same(cell: Cell, value: str | float) -> bool:
    """Return whether a cell equals a wanted value; numbers within rounding of a conversion."""
    if isinstance(cell, float) and isinstance(value, int | float):
        return isclose(cell, value, rel_tol=1e-9)
    return cell == value
