"""Drain: a box closed by welding has a hole that lets water and gas out.

For the parts a job lists as ``[[box]]``; the largest opening in any of them that takes no bolt
counts. Common practice, no source. Not covered: whether it lies at the lowest point.
"""

from __future__ import annotations

from partgen.entries.surroundings import Box
from partgen.job.build import Build
from partgen.plates.plate import Plate, Window
from partgen.rules.finding import Finding, Status, judged
from partgen.rules.neck import neck

RULE = "drain"


def check(build: Build) -> list[Finding]:
    """Return one finding for each box."""
    return [_of_box(build, box) for box in build.job.boxes]


def _of_box(build: Build, box: Box) -> Finding:
    limits = build.shop.rule_set.limits
    plates = [p for p in build.plates if p.part in box.parts]
    found = [(_width(w), w, p) for p in plates for w in p.windows]
    width, plate, where = 0.0, plates[0] if plates else None, "no opening in any part"
    if found:
        width, window, plate = max(found, key=lambda f: f[0])
        where = f"window {window.name} of {plate.key}"
    required = max(limits.values.drain_hole, limits.values.drain_per_thickness * _thickness(plate))
    return judged(
        RULE,
        (box.name, where),
        (width, required),
        limits.source("drain_hole", "drain_per_thickness"),
        "add a drain at the lowest point",
        Status.WARN,
    )


def _thickness(plate: Plate | None) -> float:
    return plate.thickness if plate else 0.0


def _width(window: Window) -> float:
    if window.outline.circle_of:
        return window.outline.circle_of[2]
    narrowest = neck(window.outline)
    return narrowest[0] if narrowest else 0.0
