"""Screening strength of every mount as data and in words; screening only."""

from __future__ import annotations

from typing import Any

from partgen.cautions import LABEL
from partgen.job.build import Build
from partgen.measure import in_unit, shown_force
from partgen.rules.screened import Screened
from partgen.rules.screening import screen, weakest

MODE_HEAD = ("plate", "mode", "nominal", "reduced", "allowable", "at joint", "clause")


def mode_rows(found: list[Screened], unit: str) -> list[tuple[str, ...]]:
    """Return a row, as ``MODE_HEAD`` says, for each failure mode that can be judged."""
    rows: list[tuple[str, ...]] = []
    for s in found:
        c = s.capacity
        if c is not None:
            allowable = "-" if c.allowable is None else shown_force(c.allowable, unit)
            nominal, design = shown_force(c.nominal, unit), shown_force(c.design, unit)
            at_joint = shown_force(s.at_joint, unit)
            clause = f"{LABEL}: {c.clause}"
            rows.append((s.plate, s.mode, nominal, design, allowable, at_joint, clause))
    return rows


def assumptions(found: list[Screened], unit: str) -> list[str]:
    """Return what each failure mode takes for granted, once."""
    texts = (f"{s.mode}: {s.capacity.assumptions}" for s in found if s.capacity)
    return [in_unit(text, unit) for text in dict.fromkeys(texts)]


def weakest_texts(mount: str, found: list[Screened], unit: str) -> list[str]:
    """Return the weakest link in the plates' plane and along the bolt, in words."""
    texts = []
    for side, words in ((False, "in the plates' plane"), (True, "along the bolt")):
        worst = weakest(found, side=side)
        if worst is not None and worst.capacity is not None:
            force = shown_force(worst.at_joint, unit)
            texts.append(
                f"weakest link of {mount} {words}: {worst.mode}, {worst.plate}, "
                f"{force} ({worst.capacity.clause})"
            )
    return texts


def unjudged_texts(found: list[Screened]) -> list[str]:
    """Return each failure mode that cannot be judged, and why, once."""
    texts = (f"{s.mode}: {s.why_not}" for s in found if s.capacity is None)
    return list(dict.fromkeys(texts))


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
