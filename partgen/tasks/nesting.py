"""``partgen nest``: plates of jobs and of plain DXF files on sheets of a given size."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from partgen import rules
from partgen.dxf.write import Unit, Version, read_pieces
from partgen.entries import cutting
from partgen.errors import PartgenError, nearest
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.layout import Piece, Sheet
from partgen.measure import parse_length
from partgen.output.folder import MANIFEST, write_all
from partgen.output.proof import Room, file_faults, of_plate
from partgen.packet.data import as_json, digest, nest_data
from partgen.sheets.cut_files import sheet_dxf, sheet_file, slug
from partgen.sheets.cut_plans import Work, sheet_plan
from partgen.sheets.nest import Nest, nest, pieces_of, whole_sheet
from partgen.sheets.searching import Searching

LARGEST_FILE = 50_000_000  # bytes
MOST_COPIES = 10_000
_SIZE = re.compile(r"\s*(?P<w>.+?)\s*[xX\u00d7]\s*(?P<h>.+?)\s*")
_UNIT = re.compile(r"(mm|cm|m|in|inch|ft|\")\s*$", re.IGNORECASE)


@dataclass(frozen=True)
class Request:
    """What to lay out, as typed.

    Attributes:
        files: jobs and DXF files.
        sizes: sheet sizes.
        sheet_count: sheets of each size.
        counts: copies by file name.
        unit: of bare sizes and of the DXF written; the first size's if None.
        file_unit: of DXF files that name none.
        gap: between plates.
        margin: from the sheet's edge.
        version: of the DXF to write.
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


@dataclass(frozen=True)
class Nested:
    """A layout of files.

    Attributes:
        nest: the layout.
        unit: of the DXF written.
        room: what the layout keeps free.
        files: content by path in the output folder.
    """

    nest: Nest
    unit: Unit
    room: Room
    files: dict[str, bytes]


def nest_files(request: Request, searching: Searching | None = None) -> Nested:
    """Return the layout of the request's files and the sheets' DXF.

    Args:
        request: what to lay out.
        searching: how long; steps if None.

    Raises:
        PartgenError: a file cannot be read, a plate fits no sheet, or the sheets are full.
    """
    process = cutting.cutting("plasma-65a")
    unit = request.unit or _unit_of(request.sizes[0])
    gap = parse_length(request.gap, unit) if request.gap else process.part_gap
    margin = parse_length(request.margin, unit) if request.margin else process.sheet_margin
    sheets = [_sheet(text, unit, request.sheet_count) for text in dict.fromkeys(request.sizes)]
    pieces = _pieces(request)
    found = nest(None, pieces, sheets, gap, margin, replace(searching or Searching(), unit=unit))
    files = {
        sheet_file(found, used.sheet, used.number, "nested", unit): sheet_dxf(
            sheet_plan(found, used.sheet, used.number, {}, process, Work()), unit, request.version
        )
        for used in found.layout.used
    }
    data = {**nest_data(found), "gap": gap, "margin": margin, "unit_of_this_file": "mm"}
    data["files"] = {name: digest(content) for name, content in sorted(files.items())}
    files[MANIFEST] = as_json(data)
    return Nested(found, unit, Room(gap, margin), files)


def write(nested: Nested, folder: Path) -> None:
    """Write the sheets into ``folder``.

    Raises:
        PartgenError: the folder cannot be written, or foreign files are in the way.
    """
    write_all(folder, nested.files, lambda staged: _faults(nested, staged))


def _faults(nested: Nested, folder: Path) -> list[str]:
    """Return what is wrong with the sheets written, read back."""
    found, faults = nested.nest, list[str]()
    for used in found.layout.used:
        path = folder / sheet_file(found, used.sheet, used.number, "nested", nested.unit)
        placed = found.placed(used.sheet, used.number)
        faults += file_faults(path, [w for name, o in placed for w in of_plate(name, o)])
    return faults


def _unit_of(size: str) -> Unit:
    named = _UNIT.search(size.strip())
    return "in" if named and named[1].lower() in ("in", "inch", "ft", '"') else "mm"


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
    w, h = parse_length(width, unit), parse_length(height, unit)
    if min(w, h) <= 0:
        raise PartgenError(f"--sheet {text}: both sides must be more than 0")
    return Sheet(slug(text), whole_sheet(w, h), count)


def _pieces(request: Request) -> list[Piece]:
    pieces: list[Piece] = []
    problems: list[str] = []
    names = {path.name for path in request.files}
    problems += [
        f"--count {name}: no such file; {nearest(name, names)}"
        for name in request.counts
        if name not in names
    ]
    for path in dict.fromkeys(request.files):
        try:
            pieces += _of_file(path, request)
        except PartgenError as error:
            problems += error.problems
    if problems:
        raise PartgenError(problems)
    return _named_once(pieces)


def _of_file(path: Path, request: Request) -> list[Piece]:
    times = _count(request.counts.get(path.name, "1"), path.name)
    if path.suffix.lower() == ".toml":
        made = build(load_job(path))
        stops = [f for f in rules.check(made) if f.stops]
        if stops:
            raise PartgenError(
                f"{path.name}: {stops[0].plate}: rule {stops[0].rule} fails; see partgen check"
            )
        return [replace(p, count=p.count * times) for p in pieces_of(made, made.plates)]
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise PartgenError(f"{path}: larger than 50 MB; this is no plate")
        content = path.read_bytes()
    except OSError as error:
        raise PartgenError(f"{path}: {error.strerror or error}") from None
    loops = read_pieces(content, where=path.name, unit=request.file_unit)
    many = len(loops) > 1
    return [
        Piece(f"{path.stem}{f'#{k}' if many else ''}", outlines, times)
        for k, outlines in enumerate(loops, 1)
    ]


def _count(text: str, name: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:9]) <= MOST_COPIES:
        raise PartgenError(f"--count {name}={text}: write a whole number, 1 to {MOST_COPIES}")
    return int(text)


def _named_once(pieces: list[Piece]) -> list[Piece]:
    seen: dict[str, int] = {}
    result = []
    for piece in pieces:
        seen[piece.name] = seen.get(piece.name, 0) + 1
        again = seen[piece.name]
        result.append(replace(piece, name=f"{piece.name} ({again})") if again > 1 else piece)
    return result
