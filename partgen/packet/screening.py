"""Screening strength of every mount as data; screening only."""

from __future__ import annotations

from typing import Any

from partgen.build import Build
from partgen.rules.screened import Screened
from partgen.rules.screening import screen, weakest
from partgen.strength.capacity import LABEL


def screening_data(build: Build) -> list[dict[str, Any]]:
    """Return, for each mount, what each failure mode carries and the weakest [N].

    Capacities without the user's load; findings of the rule "strength" are with it.
    """
    return [_of_mount(mount.name, screen(build, mount)) for mount in build.mounts]


def _of_mount(name: str, found: list[Screened]) -> dict[str, Any]:
    in_plane, along = weakest(found), weakest(found, side=True)
    return {
        "mount": name,
        "label": LABEL,
        "weakest_in_plane": None if in_plane is None else _of_mode(in_plane),
        "weakest_along_bolt": None if along is None else _of_mode(along),
        "modes": [_of_mode(s) for s in found],
    }


def _of_mode(s: Screened) -> dict[str, Any]:
    capacity = s.capacity
    if capacity is None:
        return {"mode": s.mode, "plate": s.plate, "not_covered": s.why_not}
    return {
        "mode": s.mode,
        "plate": s.plate,
        "along_bolt": s.side,
        "nominal": capacity.nominal,
        "reduced": capacity.design,
        "allowable": capacity.allowable,
        "as_force_at_joint": s.at_joint,
        "clause": capacity.clause,
        "assumptions": capacity.assumptions,
        "label": capacity.label,
    }
