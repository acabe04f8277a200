"""The template file of a job: the plates asked for, each on its pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partgen.errors import PartgenError, nearest
from partgen.job.build import Build
from partgen.packet.page import STOPPED
from partgen.plates.plate import Plate
from partgen.template.paper import Paper
from partgen.template.pdf import Pages
from partgen.template.plate_pages import LONGEST, PlatePages, draw, plate_pages

MOST_PAGES = 500  # of one file


@dataclass(frozen=True)
class Templates:
    """A template file.

    Attributes:
        build: the job.
        laid: the plates on their pages.
        content: the PDF file.
    """

    build: Build
    laid: list[PlatePages]
    content: bytes


def templates(
    build: Build, paper: Paper, wanted: Sequence[str] = (), *, stopped: bool = False
) -> Templates:
    """Return the full-scale templates of a job.

    Args:
        build: the job's plates.
        paper: to print on.
        wanted: parts, plates or labels; all plates if empty.
        stopped: a rule stops the job; every page says so.

    Raises:
        PartgenError: no such plate, one larger than a template can be, or too many pages.
    """
    plates = chosen(build.plates, wanted)
    large = [p.label for p in plates if max(_extent(p)) > LONGEST]
    if large:
        limit = f"larger than {LONGEST:g} mm; leave it out by naming the others"
        raise PartgenError([f"{label}: {limit}" for label in large])
    laid: list[PlatePages] = []
    for plate in plates:
        laid.append(plate_pages(plate, build, paper))
        if sum(len(entry.tiling.tiles) for entry in laid) > MOST_PAGES:
            raise PartgenError(
                f"more than {MOST_PAGES} pages; name the plates that you want, as {plate.key}"
            )
    pages = Pages(f"{build.job.name}: templates, full size")
    for entry in laid:
        draw(pages, entry, build, STOPPED if stopped else "")
    return Templates(build, laid, pages.save())


def chosen(plates: Sequence[Plate], wanted: Sequence[str]) -> list[Plate]:
    """Return the plates whose label, key or part is asked for; all if nothing is.

    Raises:
        PartgenError: nothing of that name; one line for each.
    """
    names = {n for p in plates for n in (p.label, p.key, p.part)}
    unknown = [name for name in wanted if name not in names]
    if unknown:
        raise PartgenError([f"{n}: no such plate; {nearest(n, sorted(names))}" for n in unknown])
    kept = [p for p in plates if not wanted or {p.label, p.key, p.part} & set(wanted)]
    if not kept:
        raise PartgenError("the job makes no plates; there is nothing to draw")
    return kept


def _extent(plate: Plate) -> tuple[float, float]:
    x0, y0, x1, y1 = plate.outline.box
    return x1 - x0, y1 - y0
