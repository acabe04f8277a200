"""Holes the process cannot cut well: drill-centre marks or pilots instead of full-size cuts.

A job's ``[[hole]]`` decides; else the cutting profile: a bolt hole smaller than
``least_hole_per_thickness`` x thickness is marked, a smaller one than ``good_hole_per_thickness``
is cut with a note. Limits: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from partgen.entries.cutting import Cutting
from partgen.entries.hole_policy import HolePolicy, Policy
from partgen.errors import PartgenError, nearest
from partgen.plates.plate import Hole, Mark, Plate


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


def _work(plate: Plate, hole: Hole, process: Cutting, asked: Sequence[HolePolicy]) -> HoleWork:
    least = process.least_hole_per_thickness * plate.thickness
    good = process.good_hole_per_thickness * plate.thickness
    chosen = [a.policy for a in asked if a.concerns(plate.key, hole.name)]
    pilot = hole.diameter - process.drill_allowance
    policy, note = (chosen[-1], "") if chosen else ("cut", "")
    if not chosen and hole.diameter < least - 1e-9:
        policy = "mark"
        note = f"smaller than {process.least_hole_per_thickness:g} x thickness: drill it"
    elif policy == "cut" and hole.diameter < good - 1e-9:
        note = f"smaller than {process.good_hole_per_thickness:g} x thickness: expect taper"
    if policy == "pilot" and pilot < least - 1e-9:
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
