"""A job's plates made ready for the table: holes cut, piloted or marked, text scribed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from partgen.cut.holes import HoleWork, worked
from partgen.cut.lettering import lettered
from partgen.cut.loop import Lying, lying
from partgen.job.build import Build


@dataclass(frozen=True)
class Ready:
    """What goes on the table.

    Attributes:
        build: the job, its plates as they are cut.
        lying: the same plates with their cuts named, by label.
        holes: what is done at each hole.
        notes: what to heed, by plate.
    """

    build: Build
    lying: Mapping[str, Lying]
    holes: list[HoleWork]
    notes: list[str]

    def holes_of(self, label: str, unit: str) -> str:
        """Return what is done at each hole of a plate, in words; sizes in ``unit``."""
        found: dict[str, list[str]] = {}
        for work in self.holes:
            if work.plate == label:
                found.setdefault(work.words(unit), []).append(work.hole)
        return "; ".join(f"{', '.join(names)}: {words}" for words, names in found.items())


def ready(build: Build, *, text: bool = False) -> Ready:
    """Return a job's plates as they are cut.

    Args:
        build: the job, its plates as they are drawn.
        text: whether identity, hand and face are scribed.
    """
    process, job = build.shop.cutting, build.job
    plates, flat, holes, notes = [], {}, [], []
    for plate in build.plates:
        cut, works = worked(plate, process, job.holes)
        holes += works
        notes += [f"{w.plate}: hole {w.hole}: {w.note}" for w in works if w.note]
        if text:
            cut, note = lettered(cut, process)
            notes += [f"{plate.label}: {note}"] if note else []
        plates.append(cut)
        flat[plate.label] = lying(cut, [(h.x, h.y) for h in plate.holes])
    return Ready(replace(build, plates=plates), flat, holes, notes)
