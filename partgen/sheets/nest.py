"""Which plates go on which sheets: by thickness and material, gap and margin by the process."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from partgen.entries.stock import SheetEntry, Stock
from partgen.errors import PartgenError
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.job.build import MOST_EDGES, Build
from partgen.layout import STEPS, Layout, LayoutError, Piece, Placement, Sheet, lay_out, verify
from partgen.measure import in_unit, shown
from partgen.plates.plate import Plate
from partgen.sheets.fixed import fixed_places, settled
from partgen.sheets.known_layout import Known, digest_of, holds
from partgen.sheets.searching import Searching
from partgen.sheets.stock_choice import chosen, cost_of

MOST_PIECES, MOST_SHAPES = 2_000, 300  # of one run: half a minute and half a gigabyte


def refuse_too_many(plates: Sequence[Plate] | Sequence[Piece]) -> None:
    """Refuse more plates than can be laid out, drawn and read back in good time.

    Raises:
        LayoutError: there are too many, or too many lines and arcs in them.
    """
    pieces, shapes = sum(p.count for p in plates), len(plates)
    if pieces > MOST_PIECES or shapes > MOST_SHAPES:
        raise LayoutError(
            f"{pieces} plates of {shapes} shapes to lay out; at most {MOST_PIECES} of "
            f"{MOST_SHAPES} in one run: set a lower count, or make the parts in several runs"
        )
    edges = sum(len(outline.segments) for p in plates for outline in p.outlines)
    if edges > MOST_EDGES:
        raise LayoutError(
            f"{shapes} shapes of {edges} lines and arcs to lay out; at most {MOST_EDGES} "
            "in one run: make the parts in several runs"
        )


@dataclass(frozen=True)
class Nest:
    """The plates of one thickness and material on their sheets.

    Attributes:
        stock: what they are cut from; None where plain DXF files are laid out.
        pieces: what is placed.
        sheets: what it is placed on.
        layout: where everything goes.
        costs: of one sheet, by name, where the job gives any [the shop's own money].
        digest: of everything the layout follows from.
        again: whether it is the layout accepted in an earlier run.
        searched: how often time has been given to search for it.
        tried: whether it has been searched for in this run.
    """

    stock: Stock | None
    pieces: list[Piece]
    sheets: list[Sheet]
    layout: Layout
    costs: dict[str, float] = field(default_factory=dict)
    digest: str = ""
    again: bool = False
    searched: int = 0
    tried: bool = False

    @property
    def known(self) -> Known:
        """The layout as a later run may take it again."""
        pieces, sheets = (tuple(x.name for x in row) for row in (self.pieces, self.sheets))
        return Known(self.layout, pieces, sheets, self.searched)

    @property
    def cost(self) -> float | None:
        """What its sheets cost [the shop's own money]; None if the job gives no cost."""
        return cost_of(self.layout, self.costs) if self.costs else None

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
    searching: Searching | None = None,
    costs: Mapping[str, float] | None = None,
    fixed: Sequence[Placement] = (),
) -> Nest:
    """Return the layout of ``pieces`` on ``sheets``, verified on exact outlines.

    A layout accepted before is taken again if it still holds. Where there is time to search, the
    search goes on from it, another way each time, and the better of the two is taken.

    Args:
        stock: what the pieces are cut from; None if that is not known.
        pieces: what to place.
        sheets: what there is.
        gap: between plates [mm].
        margin: at the sheet's edge [mm].
        searching: how long, and what is known; steps if None.
        costs: of one sheet, by name.
        fixed: what has to lie just there.

    Raises:
        LayoutError: a plate fits no sheet, the sheets are full, or what is fixed cannot lie there.
        RuntimeError: the layout does not keep its own promises (a mistake in partgen).
    """
    searching, costs = (searching or Searching()).begin(), dict(costs or {})
    digest = digest_of(pieces, sheets, costs, fixed, gap=gap, margin=margin)
    known = None if searching.fresh else searching.known.get(digest)
    before = None if known is None else known.under(pieces, sheets)
    if before is not None and not holds(before, pieces, sheets, fixed, gap=gap, margin=margin):
        before = None
    searched = 0 if known is None or before is None else known.searched
    found = Nest(stock, list(pieces), list(sheets), Layout((), ()), costs, digest, False, searched)
    if before is not None and searching.seconds is None:
        return replace(found, layout=before, again=True)
    layout = _searched(found, before, gap, margin, searching, fixed)
    faults = verify(layout, pieces, sheets, gap=gap, margin=margin, fixed=fixed)
    if faults:
        raise RuntimeError("layout failed its own check: " + "; ".join(faults))
    found = replace(found, searched=searched + (searching.seconds is not None), tried=True)
    if before is not None and _price(before, costs) <= _price(layout, costs):
        return replace(found, layout=before, again=True)
    return replace(found, layout=layout)


def _searched(
    wanted: Nest,
    before: Layout | None,
    gap: float,
    margin: float,
    searching: Searching,
    fixed: Sequence[Placement],
) -> Layout:
    """Return a layout searched for, from the one accepted ``before`` on, if any.

    Raises:
        LayoutError: a plate fits no sheet, the sheets are full, or what is fixed cannot lie there.
    """
    stock, pieces, sheets, costs = wanted.stock, wanted.pieces, wanted.sheets, wanted.costs
    kind = "" if stock is None else stock.text(searching.unit)
    placing = searching.placing(kind)
    if before is None:
        room = {"gap": gap, "margin": margin}
        late = searching.choice()
        choice = chosen(pieces, sheets, costs, fixed, placing=placing, is_late=late, **room)
    else:
        choice = _opened(before, sheets, fixed)
    search = partial(
        lay_out,
        pieces,
        gap=gap,
        margin=margin,
        steps=0 if searching.once else STEPS,
        progress=searching.progress(kind),
        fixed=fixed,
        placing=placing,
        start=before,
        seed=wanted.searched,
    )
    try:
        layout = search(choice, seconds=searching.left)
    except LayoutError:
        if choice == list(sheets):
            raise
        layout = search(sheets, seconds=searching.left)  # in its time the choice did not do
    return _settled(layout)


def _opened(layout: Layout, sheets: Sequence[Sheet], fixed: Sequence[Placement]) -> list[Sheet]:
    """Return the sheets a layout lies on, so many of each that its numbers are among them."""
    used = [(u.sheet, u.number) for u in layout.used] + [(p.sheet, p.number) for p in fixed]
    most = {sheet: max(n for s, n in used if s == sheet) for sheet, _ in used}
    return [replace(s, count=min(s.count, most[s.name])) for s in sheets if s.name in most]


def _settled(layout: Layout) -> Layout:
    """Return a layout as ``job.json`` will hold it, so that read back it is the very same."""
    return replace(layout, placements=tuple(settled(p) for p in layout.placements))


def _price(layout: Layout, costs: Mapping[str, float]) -> tuple[float, int, float]:
    return cost_of(layout, costs), len(layout.used), layout.used_length


def nest_job(build: Build, searching: Searching | None = None) -> list[Nest]:
    """Return the layouts of a job, one for each thickness and material, thickest last.

    Args:
        build: the job built.
        searching: how long in all, shared out by the number of plates; steps if None.

    Raises:
        PartgenError: plates without a sheet of their kind, or that do not fit; one line for each.
    """
    groups: dict[Stock, list[Plate]] = {}
    for plate in build.plates:
        groups.setdefault(Stock(plate.thickness, plate.material.name), []).append(plate)
    problems: list[str] = []
    nests: list[Nest] = []
    unit, process, whole = build.job.unit, build.shop.cutting, (searching or Searching()).begin()
    count = sum(plate.count for plate in build.plates)
    try:
        refuse_too_many(build.plates)
    except LayoutError as error:
        raise PartgenError(f"{build.job.path.name}: {error}") from None
    for stock in sorted(groups):
        sheets, costs = _sheets(build.job.sheets, stock, unit)
        if not sheets:
            names = ", ".join(plate.label for plate in groups[stock])
            problems.append(f"no [[sheet]] of {stock.text(unit)} for {names}; add one to the job")
            continue
        here = sum(p.count for p in groups[stock])
        own, count = replace(whole, unit=unit).share(here / max(count, 1)), count - here
        pieces = pieces_of(build, groups[stock])
        gap, margin = process.part_gap, process.sheet_margin
        try:
            fixed = fixed_places(build, groups[stock], pieces, sheets)
            nests.append(nest(stock, pieces, sheets, gap, margin, own, costs, fixed))
            whole = whole.ended() if nests[-1].layout.interrupted else whole
        except LayoutError as error:
            problems += [f"{stock.text(unit)}: {line}" for line in error.problems]
    if problems:
        raise PartgenError([f"{build.job.path.name}: {in_unit(line, unit)}" for line in problems])
    return nests


def pieces_of(build: Build, plates: Sequence[Plate]) -> list[Piece]:
    """Return plates of a job as the layout sees them, turned and grouped as their parts say."""
    parts = {part.name: part for part in build.job.parts}
    found = []
    for plate in plates:
        part = parts[plate.part]
        word = part.together or ""
        found.append(
            Piece(plate.label, plate.outlines, plate.count, part.turn, part.priority, word)
        )
    return found


def _sheets(
    entries: Sequence[SheetEntry], stock: Stock, unit: str
) -> tuple[list[Sheet], dict[str, float]]:
    """Return the sheets of one kind, and what those cost that have a price."""
    sheets: list[Sheet] = []
    costs: dict[str, float] = {}
    for entry in entries:
        if entry.plate == stock:
            x0, y0, x1, y1 = entry.shape.outline.box
            name = entry.name or f"{shown(x1 - x0, unit)}x{shown(y1 - y0, unit)}"
            taken = sum(sheet.name.split("#")[0] == name for sheet in sheets)
            name = f"{name}#{taken + 1}" if taken else name
            sheets.append(Sheet(name, entry.shape.outline, entry.count, entry.openings))
            if entry.cost is not None:
                costs[name] = entry.cost
    return sheets, costs


def whole_sheet(width: float, height: float) -> Outline:
    """Return a rectangle with its lower left corner at (0, 0) [mm]."""
    return rectangle(width, height, 0.0, (width / 2, height / 2))
