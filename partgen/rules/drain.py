"""Drain: a box closed by welding has a hole that lets water and gas out.

For the parts a job lists as ``[[box]]``; of the openings that take no bolt the one counts that has
the most to spare. Common practice, no source. Not covered: whether it lies at the lowest point;
openings without a neck, such as triangles, whose width counts as none.
"""

from __future__ import annotations

from partgen.entries.surroundings import Box
from partgen.job.build import Build
from partgen.plates.plate import Window
from partgen.rules.finding import Finding, Status, judged
from partgen.rules.neck import neck

RULE = "drain"


def check(build: Build) -> list[Finding]:
    """Return one finding for each box."""
    return [_of_box(build, box) for box in build.job.boxes]


def _of_box(build: Build, box: Box) -> Finding:
    limits = build.shop.rule_set.limits
    least, per_thickness = limits.values.drain_hole, limits.values.drain_per_thickness
    found = [
        (_width(w), max(least, per_thickness * p.thickness), f"window {w.name} of {p.key}")
        for p in build.plates
        for w in p.windows
        if p.part in box.parts
    ]
    nothing = (0.0, least, "no opening in any part")
    width, required, where = max(found, key=lambda f: f[0] - f[1], default=nothing)
    return judged(
        RULE,
        (box.name, where),
        (width, required),
        limits.source("drain_hole", "drain_per_thickness"),
        "add a drain at the lowest point",
        Status.WARN,
    )


def _width(window: Window) -> float:
    if window.outline.circle_of:
        return window.outline.circle_of[2]
    narrowest = neck(window.outline)
    return narrowest[0] if narrowest else 0.0
