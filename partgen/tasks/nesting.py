"""``partgen nest``: plates of jobs and of plain DXF files on sheets of a given size."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from partgen.cautions import CAUTIONS
from partgen.dxf.write import Unit, Version
from partgen.entries.cutting import Cutting
from partgen.entries.stock import Stock
from partgen.errors import PartgenError, under
from partgen.layout import LayoutError, Sheet
from partgen.measure import in_unit, parse_length
from partgen.output.folder import MANIFEST, write_all
from partgen.output.metal_proof import Room
from partgen.output.proof import sheets_faults
from partgen.packet.cut_sheets import sheets_data
from partgen.packet.data import as_json, digest, nest_data
from partgen.packet.sheet_picture import sheet_pictures
from partgen.sheets.cut_files import sheet_files, slug
from partgen.sheets.cut_plans import Asked, SheetPlan, Work, sheet_plan, work
from partgen.sheets.known_layout import KEPT, kept, known_layouts
from partgen.sheets.nest import Nest, nest, refuse_too_many, whole_sheet
from partgen.sheets.offcut_files import offcut_files
from partgen.sheets.searching import Searching
from partgen.tasks.nest_input import MOST_COPIES, Input, Laid, Wish, read_input

NAME = "nested"  # start of the files' names
_SIZE = re.compile(r"\s*(?P<w>.+?)\s*[xX\u00d7]\s*(?P<h>.+?)\s*")
_UNIT = re.compile(r"(mm|cm|m|in|inch|ft|\")\s*$", re.IGNORECASE)


@dataclass(frozen=True)
class Request:
    """What to lay out, as typed.

    Attributes:
        files: jobs and DXF files.
        sizes: sheet sizes.
        sheet_count: sheets of each size, for every thickness and material.
        counts: copies by file name.
        unit: of bare sizes and of the DXF written; the first size's if None.
        file_unit: of DXF files that name none.
        gap: between plates.
        margin: from the sheet's edge.
        version: of the DXF to write.
        plate: what DXF files that do not say it are cut from.
        cutting: a cutting profile; the jobs' own if None.
    """

    files: Sequence[Path]
    sizes: Sequence[str]
    sheet_count: int
    counts: Mapping[str, str]
    unit: Unit | None
    file_unit: Unit | None
    gap: str | None
    margin: str | None
    version: Version
    plate: str | None = None
    cutting: str | None = None


@dataclass(frozen=True)
class Nested:
    """A layout of files.

    Attributes:
        nests: one layout for each thickness and material.
        plans: how each sheet is cut.
        unit: of the DXF written.
        room: what the layout keeps free.
        process: the cutting profile.
        work: what was asked of the cut files.
        notes: what to heed, by plate.
        files: content by path in the output folder.
        data: what ``job.json`` holds.
    """

    nests: list[Nest]
    plans: list[SheetPlan]
    unit: Unit
    room: Room
    process: Cutting
    work: Work
    notes: tuple[str, ...]
    files: dict[str, bytes]
    data: dict[str, Any]


def nest_files(
    request: Request,
    searching: Searching | None = None,
    asked: Asked | None = None,
    folder: Path | None = None,
) -> Nested:
    """Return the layout of the request's files, the sheets' cut files and what is left of them.

    Args:
        request: what to lay out.
        searching: how long; steps if None.
        asked: how they are cut; plain and nominal if None.
        folder: where they will go; layouts of what has not changed since are used again.

    Raises:
        PartgenError: a file cannot be read, a plate fits no sheet, the sheets are full, or they
            cannot be cut the way that is ``asked``.
    """
    asked = asked or Asked()
    unit = request.unit or _unit_of(request.sizes[0])
    sheets = [_sheet(text, unit, request.sheet_count) for text in dict.fromkeys(request.sizes)]
    wish = Wish(request.counts, request.file_unit, request.plate, request.cutting, asked.text)
    given = read_input(request.files, wish, unit)
    process = given.process
    gap = _length("--gap", request.gap, unit, process.part_gap)
    margin = _length("--margin", request.margin, unit, process.sheet_margin)
    done = work(asked, process, unit, gap)
    if done.post is not None and any(laid.stock is None for laid in given.plates):
        raise PartgenError(
            "--motion: the feed hangs on the thickness; say what the DXF files are cut from, as "
            '--plate "6 mm S355"'
        )
    room = Room(gap, margin)
    known = known_layouts(folder / MANIFEST) if folder else {}
    own = replace(searching or Searching(), unit=unit, known=known)
    nests = _nests(given.plates, sheets, room, own)
    plans = _plans(nests, given, done, unit)
    files = sheet_files(plans, NAME, "", unit, request.version, done, process)
    files |= offcut_files(nests, gap, NAME, unit, request.version, title="partgen nest")
    files |= sheet_pictures(plans, NAME, unit, asked)
    notes = tuple(dict.fromkeys([*given.notes, *(n for p in plans for n in p.notes)]))
    data = {
        **sheets_data(plans, done, process),
        "sheets": [nest_data(found) for found in nests],
        KEPT: kept(known, [found.digest for found in nests]),
        "notes": list(notes),
        "cautions": list(CAUTIONS),
        "gap": gap,
        "margin": margin,
        "cutting": process.model_dump(),
        "unit_of_this_file": "mm",
        "files": {name: digest(content) for name, content in sorted(files.items())},
    }
    files[MANIFEST] = as_json(data)
    return Nested(nests, plans, unit, room, process, done, notes, files, data)


def write(nested: Nested, folder: Path) -> None:
    """Write the sheets into ``folder``, after each was read back and held to its layout.

    Raises:
        PartgenError: the folder cannot be written, or foreign files are in the way.
        RuntimeError: a file is not what it should be (a mistake in partgen); nothing is written.
    """

    def proof(staged: Path) -> list[str]:
        return sheets_faults(staged, "", nested.plans, nested.room, nested.work, NAME, nested.unit)

    write_all(folder, nested.files, proof)


def _nests(
    plates: Sequence[Laid], sheets: Sequence[Sheet], room: Room, searching: Searching
) -> list[Nest]:
    """Return one layout for each thickness and material, what nobody knows of last."""
    groups: dict[Stock | None, list[Laid]] = {}
    for laid in plates:
        groups.setdefault(laid.stock, []).append(laid)
    count, searching = sum(laid.piece.count for laid in plates), searching.begin()
    refuse_too_many([laid.piece for laid in plates])
    found: list[Nest] = []
    problems: list[str] = []
    for stock in sorted((s for s in groups if s), key=lambda s: s) + [None] * (None in groups):
        pieces = [laid.piece for laid in groups[stock]]
        here = sum(p.count for p in pieces)
        own, count = searching.share(here / max(count, 1)), count - here
        try:
            found.append(nest(stock, pieces, sheets, room.gap, room.margin, own))
            searching = searching.ended() if found[-1].layout.interrupted else searching
        except LayoutError as error:
            kind = "" if stock is None else f"{stock.text(searching.unit)}: "
            problems += [f"{kind}{in_unit(line, searching.unit)}" for line in error.problems]
    if problems:
        raise PartgenError(problems)
    return found


def _plans(nests: Sequence[Nest], given: Input, done: Work, unit: str) -> list[SheetPlan]:
    """Return how every sheet is cut.

    Raises:
        PartgenError: features lost to the kerf, or no room for a lead; one line for each.
    """
    lying = {laid.piece.name: laid.lying for laid in given.plates}
    process, found, problems = given.process, list[SheetPlan](), list[str]()
    for one in nests:
        for used in one.layout.used:
            place = (one, used.sheet, used.number)
            try:
                found.append(sheet_plan(*place, lying, process, done, process.prices))
            except PartgenError as error:
                problems += error.problems
    if problems:
        raise PartgenError([in_unit(line, unit) for line in dict.fromkeys(problems)])
    return found


def _unit_of(size: str) -> Unit:
    named = _UNIT.search(size.strip())
    return "in" if named and named[1].lower() in ("in", "inch", "ft", '"') else "mm"


def _length(option: str, text: str | None, unit: Unit, usual: float) -> float:
    with under(option):
        return parse_length(text, unit) if text else usual


def _sheet(text: str, unit: Unit, count: int) -> Sheet:
    match = _SIZE.fullmatch(text)
    if match is None:
        raise PartgenError(f"--sheet {text}: write width x height, 1250x2500 or 48x96in")
    if not 1 <= count <= MOST_COPIES:
        raise PartgenError(f"--sheets {count}: write 1 to {MOST_COPIES}")
    width, height = match["w"], match["h"]
    named = _UNIT.search(height)
    if named and not _UNIT.search(width):
        width += named[0]
    with under(f"--sheet {text}"):
        w, h = parse_length(width, unit), parse_length(height, unit)
    if min(w, h) <= 0:
        raise PartgenError(f"--sheet {text}: both sides must be more than 0")
    return Sheet(slug(text), whole_sheet(w, h), count)
