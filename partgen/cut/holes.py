"""Holes the process cannot cut well: drill-centre marks or pilots instead of full-size cuts.

A job's ``[[hole]]`` decides; else the cutting profile. Marked for the drill is a bolt hole smaller
than ``least_hole_per_thickness`` x thickness, and one that the process may cut worse than its fit
takes: by the limit deviation of ISO 9013 too small for the bolt or, for a close fit such as a
pivot's, larger than the normal clearance hole. A smaller one than ``good_hole_per_thickness`` x
thickness is cut with a note. A pivot is marked, not piloted: the burnt edge of a pilot is hard and
tapered and leads a drill astray; whoever wants a pilot says so. All this is common practice, no
source, but for the deviations.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf

from partgen.cut.deviation import deviation
from partgen.entries.cutting import Cutting
from partgen.entries.hole_policy import HolePolicy, Policy
from partgen.errors import PartgenError, nearest
from partgen.measure import length_text
from partgen.plates.plate import Hole, Mark, Plate

NEAR = 1e-9  # mm


@dataclass(frozen=True)
class HoleWork:
    """What is done at one hole.

    Attributes:
        plate: label of the plate.
        hole: its name.
        policy: cut, pilot or mark.
        cut: diameter that is cut; 0 for a mark [mm].
        drill: diameter to drill or ream to; 0 where the cut is the hole [mm].
        note: why, or what to heed; may be empty.
    """

    plate: str
    hole: str
    policy: Policy
    cut: float
    drill: float
    note: str

    def words(self, unit: str) -> str:
        """Return what is done, sizes in ``unit``.

        Examples:
            >>> HoleWork("ears/inner", "joint", "pilot", 14.0, 17.0, "").words("mm")
            'cut 14 mm, drill to 17 mm'
        """
        cut, drill = (length_text(size, unit) for size in (self.cut, self.drill))
        if not self.drill:
            return f"cut {cut}"
        return f"cut {cut}, drill to {drill}" if self.cut else f"marked, drill {drill}"


def worked(
    plate: Plate, process: Cutting, asked: Sequence[HolePolicy] = ()
) -> tuple[Plate, list[HoleWork]]:
    """Return the plate as it goes on the table, and what is done at each of its holes."""
    works = [_work(plate, hole, process, asked) for hole in plate.holes]
    kept: list[Hole] = []
    marks: list[Mark] = []
    for hole, work in zip(plate.holes, works, strict=True):
        if work.cut:
            kept.append(replace(hole, diameter=work.cut))
        else:
            marks += cross(hole.x, hole.y, min(process.centre_mark, 0.8 * hole.diameter))
    if kept == list(plate.holes):
        return plate, works
    return replace(plate, holes=tuple(kept), marks=(*plate.marks, *marks)), works


def cross(x: float, y: float, size: float) -> list[Mark]:
    """Return two lines that cross on a drill centre, ``size`` mm long."""
    half = size / 2
    return [
        Mark("drill", ((x - half, y), (x + half, y))),
        Mark("drill", ((x, y - half), (x, y + half))),
    ]


def needed(hole: Hole, process: Cutting) -> float:
    """Return how far off a bolt hole may come out, smaller or larger, and still do its work [mm].

    No smaller than the bolt, and a close fit no larger than the normal clearance hole; where no
    table has one, larger by no more than the bolt's play in it. Below 0 where even a hole cut true
    to the path comes out too small.
    """
    smaller = hole.diameter - hole.bolt.diameter
    normal = hole.bolt.holes[1] if hole.bolt.holes else hole.diameter + smaller
    larger = normal - hole.diameter if hole.diameter < normal - NEAR else inf
    return min(smaller - process.hole_error, larger + process.hole_error)


def _too_coarse(plate: Plate, hole: Hole, process: Cutting) -> str:
    """Return why the process cannot hold what a hole's fit needs; empty if it can."""
    limit, source = deviation(hole.diameter, plate.thickness, process.tolerance_class)
    need = needed(hole, process)
    if limit is None or limit <= need + NEAR:
        return ""
    takes = max(need, 0.0)
    return f"cut, it may be {limit:g} mm off by {source}; its fit takes {takes:.3g} mm: drill it"


def _work(plate: Plate, hole: Hole, process: Cutting, asked: Sequence[HolePolicy]) -> HoleWork:
    least = process.least_hole_per_thickness * plate.thickness
    good = process.good_hole_per_thickness * plate.thickness
    chosen = [a.policy for a in asked if a.concerns(plate.key, hole.name)]
    pilot = hole.diameter - process.drill_allowance
    policy, note = (chosen[-1], "") if chosen else ("cut", "")
    if not chosen and hole.diameter < least - NEAR:
        policy = "mark"
        note = f"smaller than {process.least_hole_per_thickness:g} x thickness: drill it"
    elif not chosen and (why := _too_coarse(plate, hole, process)):
        policy, note = "mark", why
    elif policy == "cut" and hole.diameter < good - NEAR:
        note = f"smaller than {process.good_hole_per_thickness:g} x thickness: expect taper"
    if policy == "pilot" and pilot < least - NEAR:
        policy, note = "mark", "too small for a pilot: drill it from the mark"
    cut = {"cut": hole.diameter, "pilot": pilot, "mark": 0.0}[policy]
    drill = 0.0 if policy == "cut" else hole.diameter
    return HoleWork(plate.label, hole.name, policy, cut, drill, note)


def refuse_unknown(plates: Sequence[Plate], asked: Sequence[HolePolicy]) -> None:
    """Refuse ``[[hole]]`` entries that meet no hole.

    Raises:
        PartgenError: one line for each, with the nearest name.
    """
    problems = []
    for number, entry in enumerate(asked, 1):
        theirs = [p for p in plates if entry.plate in (p.key, p.part)]
        if not theirs:
            known = sorted({n for p in plates for n in (p.key, p.part)})
            problems.append(
                f"hole[{number}].plate: '{entry.plate}' is no plate; {nearest(entry.plate, known)}"
            )
        elif not any(entry.hole == h.name for p in theirs for h in p.holes):
            names = sorted({h.name for p in theirs for h in p.holes})
            why = nearest(entry.hole, names) if names else "it has no bolt holes"
            problems.append(f"hole[{number}].hole: '{entry.hole}' is not in {entry.plate}; {why}")
    if problems:
        raise PartgenError(problems)
