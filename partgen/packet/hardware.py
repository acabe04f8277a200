"""What the joints need besides plates: bolts, nuts, washers, shims, spacers, dummy spacers."""

from __future__ import annotations

from dataclasses import dataclass

from partgen.fit.bolting import BoltFit
from partgen.fit.fit import pad_text
from partgen.fit.mount import Mount
from partgen.fit.sleeve import Sleeve, Through
from partgen.job.build import Build
from partgen.measure import length_text, shown


@dataclass(frozen=True)
class Item:
    """One line of the hardware list.

    Attributes:
        count: pieces for the whole job.
        item: bolt, nut, washer, shim, spacer, crush sleeve or dummy spacer.
        size: as ordered.
        mount: what it is for.
        note: anything to heed.
    """

    count: int
    item: str
    size: str
    mount: str
    note: str = ""


def hardware(build: Build) -> list[Item]:
    """Return the hardware of every mount of a job."""
    return [item for mount in build.mounts for item in _of_mount(mount, build)]


def _of_mount(mount: Mount, build: Build) -> list[Item]:
    unit = build.job.unit
    items = _bolting(mount, mount.bolt_fit, unit) if mount.bolt_fit else []
    if mount.fit.shim:
        thick = f"{shown(mount.fit.shim, unit)} {unit}"
        items.append(
            Item(
                2 * mount.pieces, "shim", f"{mount.bolt.size}, {thick}", mount.name,
                "one on each side of the joint; measure the gap once welded",
            )
        )  # fmt: skip
    if mount.through:
        items.append(_crush_sleeve(mount, mount.through, unit))
    return [*items, *_spacers(mount, build), _dummy(mount, unit)]


def _bolting(mount: Mount, fit: BoltFit, unit: str) -> list[Item]:
    pieces, size, name = mount.pieces, mount.bolt.size, mount.name
    own = "in hand; " if fit is mount.in_hand else ""
    length = length_text(fit.length, unit)
    return [
        Item(pieces, "bolt", f"{size} x {length}", name, own + fit.verdict),
        Item(pieces, "nut", size, name, f"up to {shown(fit.nut_height, unit)} {unit} high"),
        Item(
            (2 + fit.extra_washers) * pieces, "washer", size, name,
            f"{shown(mount.bolt.washer_thickness, unit)} {unit} thick",
        ),
    ]  # fmt: skip


def _spacers(mount: Mount, build: Build) -> list[Item]:
    drawn = any(
        part.family == "spacer" and getattr(part, "mount", None) == mount.name
        for part in build.job.parts
    )
    note = "in the cut list" if drawn else "no spacer part in the job: add one to have it cut"
    fit, unit = mount.fit, build.job.unit
    if fit.inner == fit.outer:
        sides = [(2, fit.inner, "")] if fit.inner else []
    else:
        sides = [(1, fit.inner, "inner, "), (1, fit.outer, "outer, ")]
    return [
        Item(count * mount.pieces, "spacer", pad_text(pad, unit), mount.name, side + note)
        for count, pad, side in sides
        if pad
    ]


def _crush_sleeve(mount: Mount, through: Through, unit: str) -> Item:
    return Item(
        mount.pieces,
        "crush sleeve",
        _sleeve_text(through.sleeve, "outside", unit),
        mount.name,
        f"through both walls of rail {through.rail}, drilled to its outside; weld it in, "
        "dress flush",
    )


def _sleeve_text(sleeve: Sleeve, outside: str, unit: str) -> str:
    return (
        f"{shown(sleeve.length, unit)} {unit} long, "
        f"{outside} {shown(sleeve.outside, unit)}, bore {shown(sleeve.bore, unit)} {unit}"
    )


def _dummy(mount: Mount, unit: str) -> Item:
    return Item(
        mount.pieces,
        "dummy spacer",
        _sleeve_text(mount.dummy, "outside at least", unit),
        mount.name,
        "bolted in the joint's place while welding, until cold",
    )
