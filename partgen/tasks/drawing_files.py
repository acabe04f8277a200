"""What ``template`` and ``picture`` do: from a job file to files at full size, or to look at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from partgen.errors import PartgenError
from partgen.output.folder import MANIFEST
from partgen.output.own_file import write_own
from partgen.packet.page import STOPPED
from partgen.packet.plate_picture import plate_svg
from partgen.packet.png import pngs
from partgen.plates.revision import known_revisions, revised
from partgen.sheets.cut_files import plate_file, slug
from partgen.sheets.cut_plans import refuse_width
from partgen.tasks.making import checked
from partgen.template.paper import Paper
from partgen.template.templates import Templates, chosen, templates


def make_templates(
    path: Path,
    changes: Mapping[str, str],
    wanted: Sequence[str],
    paper: Paper,
    made_in: Path | None = None,
) -> tuple[Templates, bool]:
    """Return the templates of a job, and whether a rule stops it.

    Args:
        path: of the job file.
        changes: measures to set differently, as typed.
        wanted: parts, plates or labels; all plates if empty.
        paper: to print on.
        made_in: folder that the job was made in: plates carry the revision they have there, or
            would get there now; none is named without it.

    Raises:
        PartgenError: the job is wrong, there is no such plate, or nothing was made in that folder.
    """
    build, findings = checked(path, changes)
    if made_in is not None:
        before = known_revisions(made_in / MANIFEST)
        if not before:
            raise PartgenError(
                f"--made {made_in}: no {MANIFEST} with revisions there; name the folder that "
                "'partgen make' wrote to"
            )
        build = replace(build, plates=revised(build.plates, before)[0])
    stopped = any(f.stops for f in findings)
    return templates(build, paper, wanted, stopped=stopped), stopped


def make_pictures(
    path: Path, changes: Mapping[str, str], wanted: Sequence[str], width: int | None
) -> tuple[dict[str, bytes], bool]:
    """Return a dimensioned drawing of each plate by file name, and whether a rule stops the job.

    Args:
        path: of the job file.
        changes: measures to set differently, as typed.
        wanted: parts, plates or labels; all plates if empty.
        width: of a PNG in pixels; none for SVG.

    Raises:
        PartgenError: the job is wrong, there is no such plate, or the pictures are too large.
    """
    if width is not None:
        refuse_width(width)
    build, findings = checked(path, changes)
    stopped = any(f.stops for f in findings)
    drawn: dict[str, str] = {}
    for plate in chosen(build.plates, wanted):
        name = plate_file(plate, slug(build.job.path.stem), build.job.unit).removesuffix(".dxf")
        drawn[name] = plate_svg(plate, build, STOPPED if stopped else "")
    if width is None:
        return {f"{name}.svg": text.encode("utf-8") for name, text in drawn.items()}, stopped
    return {f"{name}.png": content for name, content in pngs(drawn, width).items()}, stopped


def write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files of ours into ``folder``.

    Raises:
        PartgenError: somebody else's file is in the way, or the folder cannot be written.
    """
    write_own(folder, files)
