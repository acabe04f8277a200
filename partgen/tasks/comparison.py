"""Two builds against each other: what to keep, what to cut again, which bolts and findings change.

Plates are matched by their label. A plate whose content (exact geometry, thickness, material) is
the same can be kept. Where spacers change, the plates cut before are tried in the new job: if the
joint still goes between the ears, a shim saves them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import Literal

from partgen.errors import PartgenError
from partgen.fit.fit import SLACK, Fit, pad_text
from partgen.fit.mount import Mount
from partgen.job.build import Build, build
from partgen.linkage.figures import figures as link_figures
from partgen.measure import length_text, shown
from partgen.packet.hardware import Item, hardware
from partgen.plates.differences import differences
from partgen.plates.plate import Plate
from partgen.plates.revision import content
from partgen.rules.finding import Finding, Status

State = Literal["keep", "recut", "shim", "new", "gone"]


@dataclass(frozen=True)
class PlateChange:
    """One plate before and after.

    Attributes:
        label: key and hand.
        state: "keep"; "recut"; "shim": to cut again, or kept with a shim; "new"; "gone".
        count_before: pieces.
        count_after: pieces.
        changes: what is different, lengths with their unit.
        shim: on each side of the joint, where that saves the plate [mm].
    """

    label: str
    state: State
    count_before: int
    count_after: int
    changes: list[str]
    shim: float | None = None


@dataclass(frozen=True)
class ValueChange:
    """One figure of a mount, or of the links, before and after.

    Attributes:
        mount: name; "links" for those.
        what: which figure.
        before: text; "-" if the mount was not there.
        after: text.
    """

    mount: str
    what: str
    before: str
    after: str


@dataclass(frozen=True)
class ItemChange:
    """One item of hardware, before and after.

    Attributes:
        mount: what it is for.
        item: bolt, nut, washer, shim, spacer or dummy spacer.
        size: as ordered.
        before: pieces.
        after: pieces.
    """

    mount: str
    item: str
    size: str
    before: int
    after: int


@dataclass(frozen=True)
class Comparison:
    """Two builds against each other.

    Attributes:
        before: the first.
        after: the second.
        plates: every plate of either.
        values: figures of mounts that differ.
        hardware: items whose count differs.
        lost: findings, other than passes, that are gone.
        gained: findings, other than passes, that are new.
        stops: whether a rule stops the second.
    """

    before: Build
    after: Build
    plates: list[PlateChange]
    values: list[ValueChange]
    hardware: list[ItemChange]
    lost: list[Finding]
    gained: list[Finding]
    stops: bool

    @property
    def mass(self) -> tuple[float, float]:
        """Mass of all plates before and after [kg]."""
        before, after = (
            fsum(p.mass * p.count for p in side.plates) for side in (self.before, self.after)
        )
        return before, after


def compare(
    before: Build, after: Build, found: tuple[Sequence[Finding], Sequence[Finding]]
) -> Comparison:
    """Return what differs between two builds.

    Args:
        before: the first.
        after: the second.
        found: findings of both.
    """
    unit = after.job.unit
    first, second = found
    return Comparison(
        before=before,
        after=after,
        plates=_plates(before, after),
        values=_values(before, after, unit),
        hardware=_hardware(hardware(before), hardware(after)),
        lost=_only_in(first, second),
        gained=_only_in(second, first),
        stops=any(f.stops for f in second),
    )


def _plates(before: Build, after: Build) -> list[PlateChange]:
    old, new = ({p.label: p for p in side.plates} for side in (before, after))
    saved = _saved(before, after)
    found: list[PlateChange] = []
    for label in dict.fromkeys([*old, *new]):
        a, b = old.get(label), new.get(label)
        if a is None or b is None:
            state: State = "new" if a is None else "gone"
            plate = b or a
            assert plate is not None
            counts = (0, plate.count) if a is None else (plate.count, 0)
            shim = saved.get(label) if b is None else None
            found.append(PlateChange(label, state, *counts, [], shim))
        elif content(a) == content(b):
            found.append(PlateChange(label, "keep", a.count, b.count, []))
        else:
            shim = saved.get(label)
            state = "recut" if shim is None else "shim"
            found.append(PlateChange(label, state, a.count, b.count, differences(a, b), shim))
    return found


def _saved(before: Build, after: Build) -> dict[str, float]:
    """Return the plates of before that would do after all, with the shim that takes [mm]."""
    kept: dict[str, Fit] = {}
    old = {m.name: m.fit for m in before.mounts}
    for mount in after.mounts:
        fit = old.get(mount.name)
        if fit is None or (fit.inner, fit.outer) == (mount.fit.inner, mount.fit.outer):
            continue
        trial = replace(mount.fit, inner=fit.inner, outer=fit.outer)
        if trial.excess >= -SLACK and trial.final_clearance >= -SLACK:
            kept[mount.name] = trial
    if not kept:
        return {}
    try:
        plates = build(after.job, kept).plates
    except PartgenError:
        return {}
    same = {p.label: content(p) for p in before.plates}
    moved = {p.label: content(p) for p in after.plates}
    return {
        p.label: kept[name].excess / 2
        for p in plates
        for name in [_mount_of(p, after)]
        if name in kept and same.get(p.label) == content(p) and moved.get(p.label) != same[p.label]
    }


def _mount_of(plate: Plate, side: Build) -> str:
    """Return the mount a plate belongs to or follows."""
    part = next(part for part in side.job.parts if part.name == plate.part)
    return getattr(part, "mount", None) or part.name


def _names(before: Build, after: Build) -> list[str]:
    return list(dict.fromkeys(m.name for side in (before, after) for m in side.mounts))


def _values(before: Build, after: Build, unit: str) -> list[ValueChange]:
    found = [v for name in _names(before, after) for v in _mount(name, before, after, unit)]
    return found + _moved("links", *(link_figures(s.shop.linkage, unit) for s in (before, after)))


def _mount(name: str, before: Build, after: Build, unit: str) -> list[ValueChange]:
    old, new = (
        figures(next((m for m in side.mounts if m.name == name), None), unit)
        for side in (before, after)
    )
    return _moved(name, old, new)


def _moved(name: str, old: Mapping[str, str], new: Mapping[str, str]) -> list[ValueChange]:
    return [
        ValueChange(name, what, old.get(what, "-"), new.get(what, "-"))
        for what in dict.fromkeys([*old, *new])
        if old.get(what) != new.get(what)
    ]


def figures(mount: Mount | None, unit: str) -> Mapping[str, str]:
    """Return the figures of a mount that a shop asks about, as text in ``unit``."""
    if mount is None:
        return {}
    fit, chosen = mount.fit, mount.bolt_fit
    rail = {"rail": shown(fit.rail_width, unit)} if mount.rail_between else {}
    return {
        **rail,
        "joint": shown(fit.joint_width, unit),
        "gap": shown(fit.gap, unit),
        "spacer inner": pad_text(fit.inner, unit),
        "spacer outer": pad_text(fit.outer, unit),
        "clearance": shown(fit.clearance, unit),
        "welded and coated": shown(fit.final_clearance, unit),
        "shim each side": shown(fit.shim, unit) if fit.shim else "none",
        "dummy spacer": shown(mount.dummy.length, unit),
        "bolt": f"{mount.bolt.size} x {length_text(chosen.length, unit)}" if chosen else "none",
        "bolt verdict": chosen.verdict if chosen else "no stock length does",
    }


def _hardware(before: Sequence[Item], after: Sequence[Item]) -> list[ItemChange]:
    old, new = ({(i.mount, i.item, i.size): i.count for i in items} for items in (before, after))
    return [
        ItemChange(*key, old.get(key, 0), new.get(key, 0))
        for key in dict.fromkeys([*old, *new])
        if old.get(key, 0) != new.get(key, 0)
    ]


def _only_in(these: Sequence[Finding], those: Sequence[Finding]) -> list[Finding]:
    there = {_key(f) for f in those}
    return [f for f in these if f.status is not Status.PASS and _key(f) not in there]


def _key(f: Finding) -> tuple[str, str, str, str, str]:
    return f.rule, f.plate, f.where, f.status, f.accepted
