"""Strength: the user's own force, times the user's own factor, against every failure mode.

Screening only. Measured: the mode's reduced strength (phi Rn of AISC 360, Rd of EN 1993-1-8, ASME
BTH-1 with the user's factor in the place of Nd). Required: force times factor times the part of it
that the mode carries. What each mode leaves out stands in its own file under ``strength/``. Not
covered: fatigue, shock, forces together that act in turn, anything the job does not say.
"""

from __future__ import annotations

from math import hypot

from partgen.entries.load import Load
from partgen.job.build import Build
from partgen.rules.finding import Finding, Status, at_least
from partgen.rules.screened import Screened
from partgen.rules.screening import screen
from partgen.strength.capacity import LABEL

RULE = "strength"
SMALL = 1e-9


def check(build: Build) -> list[Finding]:
    """Return one finding for each load and failure mode."""
    mounts = {mount.name: mount for mount in build.mounts}
    found = []
    for number, load in enumerate(build.job.loads, 1):
        label = load.name or str(number)
        if load.mount not in mounts:
            continue
        for mode in screen(build, mounts[load.mount], load):
            demand = _demand(mode, load)
            if demand is None or demand > SMALL:
                found.append(_finding(mode, label, demand))
    return found


def _demand(mode: Screened, load: Load) -> float | None:
    """Return force times factor that the mode has to carry, None where it is not judged [N]."""
    if mode.capacity is None:
        return None
    x, y, z = load.unit
    whole = load.factor * load.force
    if mode.mode.startswith("weld"):
        return whole
    return whole * mode.share * (abs(y) if mode.side else hypot(x, z))


def _finding(mode: Screened, label: str, demand: float | None) -> Finding:
    capacity = mode.capacity
    where = f"{mode.mode}, load {label}"
    if capacity is None or demand is None:
        return Finding(
            rule=RULE,
            plate=mode.plate,
            where=where,
            status=Status.NOT_COVERED,
            source=LABEL,
            note=mode.why_not,
        )
    status = at_least(capacity.design, demand)
    factor = "; your factor stands for Nd" if "BTH-1" in capacity.clause else ""
    return Finding(
        rule=RULE,
        plate=mode.plate,
        where=where,
        status=status,
        measured=capacity.design,
        required=demand,
        unit="N",
        source=f"{LABEL}: {capacity.clause}",
        note=f"{LABEL}; {capacity.assumptions}{factor}",
    )
