"""A linkage in a few figures, as text: what to compare before and after a change."""

from __future__ import annotations

from math import inf

from partgen.linkage.study import Study
from partgen.measure import shown


def figures(study: Study | None, unit: str) -> dict[str, str]:
    """Return the figures of a linkage that a change of its points moves, lengths in ``unit``."""
    if study is None:
        return {}
    found = {}
    for link in study.layout.links:
        if link.side != "right":
            found[f"{link.name}, to centres"] = shown(link.length, unit)
            found[f"{link.name}, tube"] = shown(link.tube_length, unit)
    for state in study.named[1:]:
        found[f"pinion up, {state.case.name}, deg"] = f"{state.pinion + 0.0:.2f}"
    found |= _ends(study) | _centres(study, unit)
    clear = min((n.clearance for s in study.swings for n in s.nearest), default=inf)
    if clear < inf:
        found["least swing clearance"] = shown(clear, unit)
    return found


def _ends(study: Study) -> dict[str, str]:
    found: dict[str, float] = {}
    for end in study.ends:
        key = f"{end.link.name}, {end.which} end, misalignment, deg"
        found[key] = max(end.worst, found.get(key, 0.0))
    return {key: f"{angle:.1f}" for key, angle in found.items()}


def _centres(study: Study, unit: str) -> dict[str, str]:
    found = {}
    centres, arm = study.centres, study.arm
    either = centres or arm
    side = centres.instant_centre if centres else arm.side if arm else None
    if side is not None:
        found["instant centre x, z"] = f"{shown(side[0], unit)}, {shown(side[1], unit)}"
    if either and either.roll_centre is not None:
        found["roll centre z"] = shown(either.roll_centre, unit)
    if centres and centres.roll_axis_angle is not None:
        found["roll axis, deg"] = f"{centres.roll_axis_angle:+.2f}"
    if either and either.anti_squat is not None:
        found["anti-squat, %"] = f"{100 * either.anti_squat:.0f}"
    return found
