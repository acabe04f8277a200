"""The main job, end to end: from a job file to the files of its output folder."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from partgen import rules
from partgen.cut.holes import refuse_unknown
from partgen.cut.ready import Ready, ready
from partgen.dxf.write import Version
from partgen.errors import PartgenError, nearest, under
from partgen.job.build import Build, build
from partgen.job.job import Job, load_job
from partgen.output.folder import MANIFEST, write_all
from partgen.output.proof import prove
from partgen.packet.as_built import as_built_list
from partgen.packet.cut_sheets import cut_data, cut_sheets
from partgen.packet.data import as_json, job_data
from partgen.packet.finding_text import findings_list
from partgen.packet.hardware import Item, hardware
from partgen.packet.page import FILE as PAGE
from partgen.packet.page import OnTable, packet_page
from partgen.packet.pictures import pictures
from partgen.packet.tables import cut_list, hardware_list
from partgen.packet.weld_sheets import weld_sheets
from partgen.plates.revision import known_revisions, revised
from partgen.rules.finding import Finding
from partgen.sheets import cut_plans
from partgen.sheets.cut_files import cut_files, slug
from partgen.sheets.cut_plans import Asked, SheetPlan, Work
from partgen.sheets.known_layout import KEPT, kept, known_layouts
from partgen.sheets.nest import Nest, nest_job
from partgen.sheets.offcut_files import offcut_files
from partgen.sheets.searching import Searching
from partgen.tasks.linkage_files import linkage_files


@dataclass(frozen=True)
class Made:
    """A job worked through.

    Attributes:
        build: mounts and plates.
        findings: what the rules say.
        nests: layouts; none if a rule stops the job.
        items: hardware to buy.
        files: content by path in the output folder.
        data: what ``job.json`` holds.
        plans: how each sheet is cut.
        ready: the plates as they go on the table.
        work: what was asked of the cut files.
    """

    build: Build
    findings: list[Finding]
    nests: list[Nest]
    items: list[Item]
    files: dict[str, bytes]
    data: dict[str, Any]
    plans: list[SheetPlan]
    ready: Ready
    work: Work

    @property
    def stopped(self) -> bool:
        """Tell whether a rule stops the cut files."""
        return any(f.stops for f in self.findings)


def checked(path: Path, changes: Mapping[str, str]) -> tuple[Build, list[Finding]]:
    """Return everything a job makes and what the rules say of it.

    Args:
        path: of the job file.
        changes: measures to set differently, as typed.

    Raises:
        PartgenError: the job is wrong; one line for each mistake.
    """
    made = build(load_job(path, changes))
    _refuse_unknown_holes(made)
    return made, rules.check(made)


def make(
    path: Path,
    changes: Mapping[str, str] | None = None,
    only: Sequence[str] = (),
    version: Version = "R2000",
    folder: Path | None = None,
    asked: Asked | None = None,
    searching: Searching | None = None,
) -> Made:
    """Return a job's files, not yet written.

    Args:
        path: of the job file.
        changes: measures to set differently, as typed.
        only: names of the parts to make; all if empty.
        version: of the DXF.
        folder: where they will go; plates that have not changed since keep their revision.
        asked: how they are cut; plain and nominal if None.
        searching: how long layouts are searched for; those in ``folder`` are used again.

    Raises:
        PartgenError: the job is wrong, its plates do not fit its sheets, or they cannot be cut
            the way that is ``asked``.
    """
    return make_job(build(load_job(path, changes)), only, version, folder, asked, searching)


def make_job(
    made: Build,
    only: Sequence[str] = (),
    version: Version = "R2000",
    folder: Path | None = None,
    asked: Asked | None = None,
    searching: Searching | None = None,
) -> Made:
    """Return the files of a job already built, not yet written.

    Args:
        made: the job built.
        only: names of the parts to make; all if empty.
        version: of the DXF.
        folder: where they will go; plates that have not changed since keep their revision.
        asked: how they are cut; plain and nominal if None.
        searching: how long layouts are searched for; those in ``folder`` are used again.

    Raises:
        PartgenError: its plates do not fit its sheets, they cannot be cut the way that is
            ``asked``, or a part asked for is not there.
    """
    asked = asked or Asked()
    _refuse_unknown_holes(made)
    made = _only(made, only) if only else made
    findings = rules.check(made)
    before = known_revisions(folder / MANIFEST) if folder else {}
    plates, revisions = revised(made.plates, before)
    made = replace(made, plates=plates)
    process = made.shop.cutting
    work = cut_plans.work(asked, process, made.job.unit, process.part_gap)
    table = ready(made, text=asked.text)
    stopped = any(f.stops for f in findings)
    known = known_layouts(folder / MANIFEST) if folder else {}
    searching = replace(searching or Searching(), known=known)
    nests = [] if stopped else nest_job(table.build, searching)
    plans = cut_plans.sheet_plans(nests, table, process, work)
    files = {} if stopped else cut_files(table, plans, version, work)
    files |= pictures(made, plans, asked) | linkage_files(made)
    names, gap = (slug(made.job.path.stem), made.job.unit), process.part_gap
    files |= offcut_files(nests, gap, *names, version, title=made.job.path.name)
    items = hardware(made)
    files["cut-list.csv"] = cut_list(table)
    files["hardware.csv"] = hardware_list(items)
    files["as-built.csv"] = as_built_list(made)
    files["findings.csv"] = findings_list(findings, made.job.unit)
    files |= cut_sheets(table, plans) | weld_sheets(made, slug(made.job.path.stem))
    on_table = OnTable(table, plans, work.way.kerf, asked)
    files[PAGE] = packet_page(made, findings, nests, items, on_table)
    data = job_data(made, findings, nests, items, files) | cut_data(table, plans, work)
    issued = before if stopped else revisions  # what is not cut moves no letter on
    data[KEPT] = kept(known, [nest.digest for nest in nests])
    data["revisions"] = {label: asdict(r) for label, r in sorted(issued.items())}
    files[MANIFEST] = as_json(data)
    return Made(made, findings, nests, items, files, data, plans, table, work)


def _refuse_unknown_holes(made: Build) -> None:
    with under(made.job.path.name):
        refuse_unknown(made.plates, made.job.holes)


def write(made: Made, folder: Path) -> None:
    """Write a job's files into ``folder``, after each cut file was read back and held to the job.

    Raises:
        PartgenError: the folder cannot be written, or foreign files are in the way.
        RuntimeError: a file is not what it should be (a mistake in partgen); nothing is written.
    """

    def proof(staged: Path) -> list[str]:
        return [] if made.stopped else prove(staged, made.ready, made.plans, made.work)

    write_all(folder, made.files, proof)


def _only(made: Build, names: Sequence[str]) -> Build:
    job: Job = made.job
    known = [part.name for part in job.parts]
    unknown = [name for name in names if name not in known]
    if unknown:
        raise PartgenError([f"--only {n}: no such part; {nearest(n, known)}" for n in unknown])
    return replace(
        made,
        mounts=[mount for mount in made.mounts if mount.name in names],
        plates=[plate for plate in made.plates if plate.part in names],
    )
