"""What the process holds (ISO 9013) against what the fit needs.

Limit deviations of ISO 9013 for the thickness and the nominal size, plus and minus. What a bolt
hole needs is in :mod:`partgen.cut.holes`. A web between ears needs the side clearance. Sizes the
table does not print are not covered. Screening only.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from partgen.cut.deviation import deviation
from partgen.cut.holes import needed
from partgen.cut.ready import Ready
from partgen.entries.cutting import Cutting
from partgen.job.build import Build
from partgen.plates.plate import Hole, Plate

TIGHT = "more than the fit"


@dataclass(frozen=True)
class Tolerance:
    """One size of a plate.

    Attributes:
        plate: its label.
        what: which size.
        nominal: as drawn [mm].
        deviation: plus and minus by the table; None where it prints none [mm].
        need: how far off it may come out; None where nothing hangs on it [mm].
        verdict: what follows.
        source: of the deviation.
    """

    plate: str
    what: str
    nominal: float
    deviation: float | None
    need: float | None
    verdict: str
    source: str


def tolerances(ready: Ready) -> list[Tolerance]:
    """Return every size of a job's plates that a fit may hang on; drilled holes are not cut."""
    build, found = ready.build, list[Tolerance]()
    process = build.shop.cutting
    drilled = {(work.plate, work.hole) for work in ready.holes if work.drill}
    for plate in build.plates:
        cut = (hole for hole in plate.holes if (plate.label, hole.name) not in drilled)
        found += _holes(plate, cut, process)
        found += _overall(plate, process, _side_clearance(build, plate))
    return found


def _holes(plate: Plate, holes: Iterable[Hole], process: Cutting) -> list[Tolerance]:
    rows = []
    for hole in holes:
        limit, source = deviation(hole.diameter, plate.thickness, process.tolerance_class)
        need = needed(hole, process)
        verdict = _verdict(limit, need, "drill or ream it")
        rows.append(
            Tolerance(plate.label, f"hole {hole.name}", hole.diameter, limit, need, verdict, source)
        )
    return rows


def _overall(plate: Plate, process: Cutting, need: float | None) -> list[Tolerance]:
    x0, y0, x1, y1 = plate.outline.box
    rows = []
    for what, size, wanted in (("width", x1 - x0, need), ("height", y1 - y0, None)):
        limit, source = deviation(size, plate.thickness, process.tolerance_class)
        verdict = _verdict(limit, wanted, "grind to fit between the ears")
        rows.append(Tolerance(plate.label, what, size, limit, wanted, verdict, source))
    return rows


def _side_clearance(build: Build, plate: Plate) -> float | None:
    """Return the clearance a web between ears has, if the plate is one [mm]."""
    part = next((p for p in build.job.parts if p.name == plate.part), None)
    name = getattr(part, "mount", None)
    mount = build.shop.mounts.get(name) if name else None
    x0, _, x1, _ = plate.outline.box
    if mount is None or abs(x1 - x0 - mount.fit.gap) > 0.01:
        return None
    return mount.fit.clearance


def _verdict(limit: float | None, need: float | None, remedy: str) -> str:
    if limit is None:
        return "not covered"
    if need is None:
        return "nothing hangs on it here"
    return "within the fit's clearance" if limit <= need + 1e-9 else f"{TIGHT}: {remedy}"
