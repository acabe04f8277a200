"""The section of any mount: between rail plates, or of a pair of ears."""

from __future__ import annotations

from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.packet.pair_section import pair_section
from partgen.packet.picture import Box
from partgen.packet.section_picture import section_picture


def mount_section(build: Build, mount: Mount) -> bytes:
    """Return the section through a mount's bolt as SVG."""
    unit = build.job.unit
    return section_picture(mount, unit) or pair_section(mount, unit, _webs(build, mount))


def _webs(build: Build, mount: Mount) -> list[Box]:
    """Return webs between the ears as seen along the vehicle, heights from the bolt."""
    z = mount.seen(mount.pivot)[1]
    parts = [p for p in build.job.parts if p.family == "gusset" and _on(p, mount.name)]
    boxes = [solid.box for part in parts for solid in part.solids(build.shop)]
    return [(low[1], low[2] - z, high[1], high[2] - z) for low, high in boxes]


def _on(part: object, mount: str) -> bool:
    return getattr(part, "mount", None) == mount
