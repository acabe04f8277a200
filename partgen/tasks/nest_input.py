"""What ``nest`` lays out: plates of jobs, and of DXF files, each with how it lies on the table."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from partgen import rules
from partgen.cut.holes import cross, refuse_unknown
from partgen.cut.lettering import scribed
from partgen.cut.loop import Lying
from partgen.cut.ready import ready
from partgen.dxf.marked import Marked, read_marked
from partgen.dxf.write import Unit
from partgen.entries.cutting import Cutting, cutting
from partgen.entries.stock import Stock, read_stock
from partgen.errors import PartgenError, nearest
from partgen.fields import Reading, whole_number
from partgen.file_content import file_content, why
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.job.build import Build, build
from partgen.job.job import load_job
from partgen.layout import Piece
from partgen.sheets.nest import pieces_of

LARGEST_FILE = 50_000_000  # bytes
MOST_COPIES = 10_000
PROFILE = "plasma-65a"  # where neither a job nor --cutting names one
OWN_PLATE = re.compile(r"plate: .+, cut \d+ of (?P<stock>.+)")  # as our plate files say


@dataclass(frozen=True)
class Laid:
    """One plate to lay out.

    Attributes:
        stock: what it is cut from; None if nobody says.
        piece: as the layout sees it.
        lying: with its marks and the names of its cuts.
    """

    stock: Stock | None
    piece: Piece
    lying: Lying


@dataclass(frozen=True)
class Input:
    """Everything to lay out.

    Attributes:
        plates: one for each kind.
        process: how they are cut.
        notes: what to heed, by plate.
    """

    plates: tuple[Laid, ...]
    process: Cutting
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Wish:
    """How files are to be read, as typed.

    Attributes:
        counts: copies by file name.
        file_unit: of DXF files that name none.
        plate: what DXF files that do not say it are cut from.
        cutting: a cutting profile, for jobs too.
        text: whether plates are scribed.
    """

    counts: Mapping[str, str]
    file_unit: Unit | None = None
    plate: str | None = None
    cutting: str | None = None
    text: bool = False


def read_input(files: Sequence[Path], wish: Wish, unit: str) -> Input:
    """Return the plates in jobs and DXF files.

    Args:
        files: of jobs and drawings.
        wish: how they are read.
        unit: of ``wish.plate``.

    Raises:
        PartgenError: a file cannot be read, a rule stops a job, jobs are cut by different profiles,
            or a count, plate or profile is wrong; one line for each.
    """
    names = {path.name for path in files}
    problems = [
        f"--count {name}: no such file; {nearest(name, names)}"
        for name in wish.counts
        if name not in names
    ]
    builds: dict[Path, Build] = {}
    for path in dict.fromkeys(files):
        if path.suffix.lower() == ".toml":
            try:
                builds[path] = _build(path)
            except PartgenError as error:
                problems += error.problems
    process = _process(builds, wish.cutting)
    default = _stock(wish.plate, unit)
    plates: list[Laid] = []
    notes: list[str] = []
    for path in dict.fromkeys(files):
        try:
            times = _count(wish.counts.get(path.name, "1"), path.name)
            if path in builds:
                found, said = _of_job(builds[path], process, times, text=wish.text)
            elif path.suffix.lower() != ".toml":
                found, said = _of_drawing(path, process, times, default, wish)
            else:
                continue
        except PartgenError as error:
            problems += error.problems
            continue
        plates += found
        notes += said
    if problems:
        raise PartgenError(problems)
    return Input(_named_once(plates), process, tuple(notes))


def _build(path: Path) -> Build:
    made = build(load_job(path))
    refuse_unknown(made.plates, made.job.holes)
    stops = [f for f in rules.check(made) if f.stops]
    if stops:
        raise PartgenError(
            f"{path.name}: {stops[0].plate}: rule {stops[0].rule} fails; see partgen check"
        )
    return made


def _process(builds: Mapping[Path, Build], asked: str | None) -> Cutting:
    """Return the profile asked for, the one that all jobs share, or the usual one."""
    if asked is not None:
        return cutting(asked)
    found = {path: made.shop.cutting for path, made in builds.items()}
    first = next(iter(found.values()), None) or cutting(PROFILE)
    if any(other != first for other in found.values()):
        names = "; ".join(f"{path.name}: {process.name}" for path, process in found.items())
        raise PartgenError(f"these jobs are not cut alike ({names}); name one profile: --cutting")
    return first


def _stock(text: str | None, unit: str) -> Stock | None:
    if text is None:
        return None
    try:
        return read_stock(text, Reading(unit))
    except ValueError as error:
        raise PartgenError(f"--plate: {error}") from None


def _of_job(
    made: Build, process: Cutting, times: int, *, text: bool
) -> tuple[list[Laid], list[str]]:
    table = ready(replace(made, shop=replace(made.shop, cutting=process)), text=text)
    plates = table.build.plates
    laid = [
        Laid(
            Stock(plate.thickness, plate.material.name),
            replace(piece, count=piece.count * times),
            table.lying[plate.label],
        )
        for plate, piece in zip(plates, pieces_of(made, plates), strict=True)
    ]
    drilled = [w for w in table.holes if w.drill]
    drill = [f"{w.plate}: hole {w.hole}: {w.words(made.job.unit)}" for w in drilled]
    why = {f"{w.plate}: hole {w.hole}: {w.note}" for w in drilled}
    return laid, [*drill, *(note for note in table.notes if note not in why)]


def _of_drawing(
    path: Path, process: Cutting, times: int, default: Stock | None, wish: Wish
) -> tuple[list[Laid], list[str]]:
    try:
        content = file_content(path, LARGEST_FILE, "plate")
    except OSError as error:
        raise PartgenError(f"{path}: {why(error)}") from None
    found, comments = read_marked(content, where=path.name, unit=wish.file_unit)
    stock = _said(comments) or default
    laid: list[Laid] = []
    notes: list[str] = []
    for k, drawn in enumerate(found, 1):
        name = f"{path.stem}{f'#{k}' if len(found) > 1 else ''}"
        lying, said = _drilled(_lying(name, drawn), stock, process)
        if wish.text and not any(mark.kind == "scribe" for mark in lying.marks):
            marks, note = scribed([name.upper()], lying, process)
            lying = replace(lying, marks=(*lying.marks, *marks))
            said += [note] if note else []
        outlines = (*(o for _, o in lying.openings), lying.edge)
        laid.append(Laid(stock, Piece(name, outlines, times), lying))
        notes += [f"{name}: {line}" for line in said]
    return laid, notes


def _said(comments: Sequence[str]) -> Stock | None:
    """Return what a plate file of ours says that it is cut from."""
    for comment in comments:
        match = OWN_PLATE.fullmatch(comment)
        if match:
            try:
                return read_stock(match["stock"], Reading("mm"))
            except ValueError:
                return None
    return None


def _lying(name: str, drawn: Marked) -> Lying:
    """Return a piece with its round openings, and the drill centres on it, as bolt holes."""
    *openings, edge = drawn.outlines
    named = tuple((f"opening {k}", o) for k, o in enumerate(openings, 1))
    return Lying(name, named, edge, tuple(_centres(openings, drawn)), drawn.marks)


def _centres(openings: Sequence[Outline], drawn: Marked) -> list[Point]:
    round_ones = [o.circle_of[:2] for o in openings if o.circle_of]
    drills = [m.path for m in drawn.marks if m.kind == "drill"]
    middles = [((p[0][0] + p[-1][0]) / 2, (p[0][1] + p[-1][1]) / 2) for p in drills]
    return list(dict.fromkeys([*round_ones, *middles]))


def _drilled(plate: Lying, stock: Stock | None, process: Cutting) -> tuple[Lying, list[str]]:
    """Return a piece with round openings that are too small for the process marked, and why."""
    if stock is None:
        return plate, []
    least = process.least_hole_per_thickness * stock.thickness - 1e-9
    kept, marks, notes = [], list(plate.marks), []
    for name, outline in plate.openings:
        x, y, size = outline.circle_of or (0.0, 0.0, least)
        if size >= least:
            kept.append((name, outline))
            continue
        marks += cross(x, y, min(process.centre_mark, 0.8 * size))
        times = f"{process.least_hole_per_thickness:g} x thickness"
        notes.append(f"{name}: {size:.4g} mm, smaller than {times}: marked, drill it")
    return replace(plate, openings=tuple(kept), marks=tuple(marks)), notes


def _count(text: str, name: str) -> int:
    count = whole_number(text)
    if count is None or not 1 <= count <= MOST_COPIES:
        raise PartgenError(f"--count {name}={text[:20]}: write a whole number, 1 to {MOST_COPIES}")
    return count


def _named_once(plates: Sequence[Laid]) -> tuple[Laid, ...]:
    seen: dict[str, int] = {}
    result = []
    for plate in plates:
        name = plate.piece.name
        seen[name] = again = seen.get(name, 0) + 1
        if again > 1:
            name = f"{name} ({again})"
            plate = replace(
                plate,
                piece=replace(plate.piece, name=name),
                lying=replace(plate.lying, name=name),
            )
        result.append(plate)
    return tuple(result)
