"""Which plates go on which sheets: by thickness and material, gap and margin by the process."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partgen.belt import rectangle
from partgen.build import Build
from partgen.errors import PartgenError
from partgen.layout import Layout, LayoutError, Piece, Sheet, lay_out, verify
from partgen.measure import in_unit, shown
from partgen.outline import Outline
from partgen.plate import Plate
from partgen.stock import SheetEntry, Stock


@dataclass(frozen=True)
class Nest:
    """The plates of one thickness and material on their sheets.

    Attributes:
        stock: what they are cut from; None where plain DXF files are laid out.
        pieces: what is placed.
        sheets: what it is placed on.
        layout: where everything goes.
    """

    stock: Stock | None
    pieces: list[Piece]
    sheets: list[Sheet]
    layout: Layout

    def placed(self, sheet: str, number: int) -> list[tuple[str, tuple[Outline, ...]]]:
        """Return name and outlines of every plate on one sheet, where it lies."""
        known = {piece.name: piece for piece in self.pieces}
        return [
            (p.piece, known[p.piece].placed(p.x, p.y, p.turn))
            for p in self.layout.placements
            if (p.sheet, p.number) == (sheet, number)
        ]

    def sheet(self, name: str) -> Sheet:
        """Return the stock sheet called ``name``."""
        return next(sheet for sheet in self.sheets if sheet.name == name)


def nest(
    stock: Stock | None,
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    gap: float,
    margin: float,
) -> Nest:
    """Return the layout of ``pieces`` on ``sheets``, verified on exact outlines.

    Raises:
        LayoutError: a plate fits no sheet, or the sheets are full.
        RuntimeError: the layout does not keep its own promises (a mistake in partgen).
    """
    layout = lay_out(pieces, sheets, gap=gap, margin=margin)
    faults = verify(layout, pieces, sheets, gap=gap, margin=margin)
    if faults:
        raise RuntimeError("layout failed its own check: " + "; ".join(faults))
    return Nest(stock, list(pieces), list(sheets), layout)


def nest_job(build: Build) -> list[Nest]:
    """Return the layouts of a job, one for each thickness and material, thickest last.

    Raises:
        PartgenError: plates without a sheet of their kind, or that do not fit; one line for each.
    """
    groups: dict[Stock, list[Plate]] = {}
    for plate in build.plates:
        groups.setdefault(Stock(plate.thickness, plate.material.name), []).append(plate)
    problems: list[str] = []
    nests: list[Nest] = []
    for stock in sorted(groups):
        sheets = _sheets(build.job.sheets, stock, build.job.unit)
        if not sheets:
            names = ", ".join(plate.label for plate in groups[stock])
            problems.append(
                f"no [[sheet]] of {stock.text(build.job.unit)} for {names}; add one to the job"
            )
            continue
        pieces = [Piece(p.label, p.outlines, p.count) for p in groups[stock]]
        process = build.shop.cutting
        try:
            nests.append(nest(stock, pieces, sheets, process.part_gap, process.sheet_margin))
        except LayoutError as error:
            problems += [f"{stock.text(build.job.unit)}: {line}" for line in error.problems]
    if problems:
        raise PartgenError(
            [f"{build.job.path.name}: {in_unit(line, build.job.unit)}" for line in problems]
        )
    return nests


def _sheets(entries: Sequence[SheetEntry], stock: Stock, unit: str) -> list[Sheet]:
    sheets: list[Sheet] = []
    for entry in entries:
        if entry.plate == stock:
            width, height = entry.size
            name = entry.name or f"{shown(width, unit)}x{shown(height, unit)}"
            taken = sum(sheet.name.split("#")[0] == name for sheet in sheets)
            sheets.append(
                Sheet(
                    f"{name}#{taken + 1}" if taken else name,
                    whole_sheet(width, height),
                    entry.count,
                )
            )
    return sheets


def whole_sheet(width: float, height: float) -> Outline:
    """Return a rectangle with its lower left corner at (0, 0) [mm]."""
    return rectangle(width, height, 0.0, (width / 2, height / 2))
