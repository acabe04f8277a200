"""Screening strength on the page, for mounts that the job puts a load on; screening only."""

from __future__ import annotations

from partgen.cautions import LABEL, STRENGTH
from partgen.entries.load import Load
from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.measure import in_unit, shown_force
from partgen.packet.html import Html, bullets, inside, section, table, tag
from partgen.packet.screening import (
    MODE_HEAD,
    assumptions,
    mode_rows,
    unjudged_texts,
    weakest_texts,
)
from partgen.rules.screening import screen


def strength_section(build: Build) -> Html:
    """Return loads and failure modes of every loaded mount; nothing where the job has no load."""
    names = {load.mount for load in build.job.loads}
    mounts = [mount for mount in build.mounts if mount.name in names]
    if not mounts:
        return inside()
    below = "Each load against each mode stands among the findings, rule strength."
    return section(
        f"Strength, {LABEL}",
        "strength",
        tag("p", tag("b", STRENGTH), class_="hold"),
        tag("p", below),
        *(_mount(mount, build) for mount in mounts),
    )


def _mount(mount: Mount, build: Build) -> Html:
    unit = build.job.unit
    found = screen(build, mount)
    loads = [
        _load_text(load.name or str(number), load, unit)
        for number, load in enumerate(build.job.loads, 1)
        if load.mount == mount.name
    ]
    said = [f"{LABEL}: {text}" for text in weakest_texts(mount.name, found, unit)]
    said += [f"{LABEL}: not covered, {in_unit(text, unit)}" for text in unjudged_texts(found)]
    return inside(
        tag("h3", mount.name),
        bullets([*loads, *said]),
        table(MODE_HEAD, mode_rows(found, unit), (2, 3, 4, 5)),
        bullets(assumptions(found, unit), class_="source"),
    )


def _load_text(name: str, load: Load, unit: str) -> str:
    x, y, z = (round(v, 3) + 0.0 for v in load.unit)
    return (
        f"load {name}: {shown_force(load.force, unit)} times your factor {load.factor:g}, "
        f"direction {x:g}, {y:g}, {z:g} (x forward, y left, z up)"
    )
