"""What to buy for the joints: bolts, nuts, washers, shims."""

from __future__ import annotations

from dataclasses import dataclass

from partgen.build import Build
from partgen.measure import length_text, shown
from partgen.mount import Mount


@dataclass(frozen=True)
class Item:
    """One line of the hardware list.

    Attributes:
        count: pieces for the whole job.
        item: bolt, nut, washer or shim.
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
    return [item for mount in build.mounts for item in _of_mount(mount, build.job.unit)]


def _of_mount(mount: Mount, unit: str) -> list[Item]:
    fit, pieces, size = mount.bolt_fit, mount.pieces, mount.bolt.size
    items: list[Item] = []
    if fit is not None:
        washers = 2 + fit.extra_washers
        items += [
            Item(
                pieces, "bolt", f"{size} x {length_text(fit.length, unit)}", mount.name, fit.verdict
            ),
            Item(
                pieces, "nut", size, mount.name, f"up to {shown(fit.nut_height, unit)} {unit} high"
            ),
            Item(
                washers * pieces,
                "washer",
                size,
                mount.name,
                f"{shown(mount.bolt.washer_thickness, unit)} {unit} thick",
            ),
        ]
    if mount.fit.shim:
        thick = f"{shown(mount.fit.shim, unit)} {unit}"
        items.append(Item(2 * pieces, "shim", f"{size}, {thick}", mount.name, "one on each side"))
    return items
