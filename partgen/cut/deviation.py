"""How far off a thermally cut size may come out: limit deviations of ISO 9013."""

from __future__ import annotations

from partgen.reference import tables


def deviation(size: float, thickness: float, grade: int) -> tuple[float | None, str]:
    """Return the limit deviation of a nominal size [mm], and its source.

    Args:
        size: nominal [mm].
        thickness: of the plate [mm].
        grade: tolerance class, 1 or 2.
    """
    table = tables.load(f"iso_9013_class_{grade}")
    row = table.band(thickness)
    columns = [c for c in table.columns if c.startswith("from_")]
    below = [c for c in columns if float(c.removeprefix("from_")) <= size]
    if row is None or not below or size >= 4000 or row[below[-1]] is None:
        return None, f"{table.source.cite}: not covered"
    return table.mm(row, below[-1]), table.cite(row)
