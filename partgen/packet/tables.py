"""Lists a shop opens in a spreadsheet: the cut list and the hardware list, as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from partgen.cut.ready import Ready
from partgen.entries.prices import Prices
from partgen.entries.stock import Stock
from partgen.measure import per_unit
from partgen.packet.hardware import Item
from partgen.plates.plate import Plate

Row = Sequence[object]


def csv_bytes(head: Row, rows: Iterable[Row]) -> bytes:
    """Return a CSV file: UTF-8, commas, CRLF; a cell that would start a formula is quoted off."""
    stream = io.StringIO()
    writer = csv.writer(stream)
    writer.writerow(head)
    writer.writerows([[_cell(value) for value in row] for row in rows])
    return stream.getvalue().encode("utf-8")


def cut_list(ready: Ready) -> bytes:
    """Return the cut list: one line for each plate and hand, sizes in the job's unit.

    What is done at each hole stands in its line. With prices, what each line costs; without, no
    such column.
    """
    build = ready.build
    unit, prices = build.job.unit, build.job.prices
    head = (
        "part", "plate", "hand", "count", "stock", f"length {unit}", f"height {unit}",
        f"area {unit}2", f"cut {unit}", "pierces", "mass kg", "total kg", "revision", "holes",
        *([f"each {prices.currency}", f"total {prices.currency}"] if prices.given else []),
    )  # fmt: skip
    rows = (
        (*_plate_row(p, unit), p.revision, ready.holes_of(p.label, unit), *_costs(p, prices))
        for p in build.plates
    )
    return csv_bytes(head, rows)


def _costs(plate: Plate, prices: Prices) -> Row:
    each = prices.of(plate)
    return () if each is None else (f"{each:.2f}", f"{each * plate.count:.2f}")


def hardware_list(items: Iterable[Item]) -> bytes:
    """Return the hardware list."""
    head = ("count", "item", "size", "mount", "note")
    return csv_bytes(head, ((i.count, i.item, i.size, i.mount, i.note) for i in items))


def _plate_row(plate: Plate, unit: str) -> Row:
    factor = per_unit(unit)
    x0, y0, x1, y1 = plate.outline.box
    digits = 2 if unit == "mm" else 4
    return (
        plate.part,
        plate.name,
        plate.hand,
        plate.count,
        Stock(plate.thickness, plate.material.name).text(unit),
        f"{(x1 - x0) / factor:.{digits}f}",
        f"{(y1 - y0) / factor:.{digits}f}",
        f"{plate.area / factor**2:.{digits}f}",
        f"{plate.cut_length / factor:.{digits}f}",
        len(plate.outlines),
        f"{plate.mass:.3f}",
        f"{plate.mass * plate.count:.3f}",
    )


def _cell(value: object) -> object:
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t"):
        return "'" + value
    return value
