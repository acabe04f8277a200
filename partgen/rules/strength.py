"""Strength: the user's own force, times the user's own factor, against every failure mode.

Screening only. Measured: the mode's reduced strength (phi Rn of AISC 360, Rd of EN 1993-1-8, ASME
BTH-1 with the user's factor in the place of Nd). Required: force times factor times the part of it
that the mode carries. What each mode leaves out stands in its own file under ``strength/``. Not
covered: fatigue, shock, forces together that act in turn, anything the job does not say.
"""

from __future__ import annotations

from math import hypot

from partgen.cautions import LABEL
from partgen.entries.load import Load
from partgen.job.build import Build
from partgen.rules.finding import SLACK, Finding, Status, at_least
from partgen.rules.screened import Screened
from partgen.rules.screening import screen
from partgen.strength.capacity import Capacity

RULE = "strength"


def check(build: Build) -> list[Finding]:
    """Return one finding for each load and failure mode."""
    mounts = {mount.name: mount for mount in build.mounts}
    found = []
    for number, load in enumerate(build.job.loads, 1):
        label = f"load {load.name or number}"
        mount = mounts.get(load.mount)
        if mount is None:
            why = "no joint of this part is known; name the link mount that the force meets"
            found.append(_unjudged(load.mount, label, why))
            continue
        for mode in screen(build, mount, load):
            where, demand = f"{mode.mode}, {label}", _demand(mode, load)
            if mode.capacity is None:
                found.append(_unjudged(mode.plate, where, mode.why_not))
            elif demand > SLACK:
                found.append(_judged(mode.plate, where, mode.capacity, demand))
    return found


def _demand(mode: Screened, load: Load) -> float:
    """Return force times factor that the mode has to carry [N]."""
    x, y, z = load.unit
    whole = load.factor * load.force
    if mode.mode.startswith("weld"):
        return whole
    return whole * mode.share * (abs(y) if mode.side else hypot(x, z))


def _unjudged(plate: str, where: str, why: str) -> Finding:
    return Finding(
        rule=RULE, plate=plate, where=where, status=Status.NOT_COVERED, source=LABEL, note=why
    )


def _judged(plate: str, where: str, capacity: Capacity, demand: float) -> Finding:
    factor = "; your factor stands for Nd" if "BTH-1" in capacity.clause else ""
    return Finding(
        rule=RULE,
        plate=plate,
        where=where,
        status=at_least(capacity.design, demand),
        measured=capacity.design,
        required=demand,
        unit="N",
        source=f"{LABEL}: {capacity.clause}",
        note=f"{LABEL}; {capacity.assumptions}{factor}",
    )
