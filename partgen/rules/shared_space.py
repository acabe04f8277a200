"""Shared space: ears that stand on one plate keep out of each other, and out of what they carry.

Each ear's footprint on the plate is its own thickness and length; what is boxed between ears stands
with them. Where two footprints overlap, the pieces themselves are held against each other: they
fail where they share metal. Geometry. Not covered: bolts, links and weld beads between ears.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist

import shapely

from partgen.job.assembly import standing
from partgen.job.build import Build
from partgen.job.standing import Standing
from partgen.measure import point_text
from partgen.plates.meeting import meet
from partgen.plates.solid import Solid
from partgen.rules.finding import Finding, Status

RULE = "shared-space"
SOURCE = "geometry"


def check(build: Build) -> list[Finding]:
    """Return what stands in another's space on each plate, or how far all are apart."""
    found: list[Finding] = []
    for plate, groups in standing(build).items():
        clashes = [f for a, b in combinations(groups, 2) for f in _clashes(plate, a, b)]
        found += clashes or _apart(plate, groups)
    return found


def _clashes(plate: str, a: Standing, b: Standing) -> Iterator[Finding]:
    if a.carrier is not b.carrier:
        return
    for one in a.solids:
        for other in b.solids:
            common = _footprint(one, a.carrier).intersection(_footprint(other, b.carrier))
            if common.area > 0 and meet(one, other):
                yield _clash(plate, (one.name, other.name), common)


def _clash(plate: str, names: tuple[str, str], common: shapely.Polygon) -> Finding:
    long, wide = _sizes(common)
    at = common.centroid
    return Finding(
        rule=RULE,
        plate=plate,
        where=f"{names[0]} and {names[1]} at {point_text((at.x, at.y))}",
        status=Status.FAIL,
        measured=-wide,
        required=0.0,
        source=SOURCE,
        note=f"they run {wide:.1f} mm into each other, over {long:.1f} mm; move one of them apart",
    )


def _sizes(shape: shapely.Polygon) -> tuple[float, float]:
    """Return the longer and the shorter side of the least rectangle round a shape [mm]."""
    corners = list(shape.minimum_rotated_rectangle.exterior.coords)
    sides = dist(corners[0], corners[1]), dist(corners[1], corners[2])
    return max(sides), min(sides)


def _apart(plate: str, groups: Sequence[Standing]) -> list[Finding]:
    """Return the least distance between footprints on one face of a plate."""
    found = [
        (_footprint(one, a.carrier).distance(_footprint(other, b.carrier)), one.name, other.name)
        for a, b in combinations(groups, 2)
        if a.carrier is b.carrier and a.face == b.face
        for one in a.solids
        for other in b.solids
    ]
    if not found:
        return []
    away, one, other = min(found)
    return [
        Finding(
            rule=RULE,
            plate=plate,
            where=f"{one} and {other}",
            status=Status.PASS,
            measured=away,
            required=0.0,
            source=SOURCE,
        )
    ]


def _footprint(solid: Solid, carrier: Solid) -> shapely.Polygon:
    """Return what a piece covers of a plate, in that plate's drawing."""
    frame = carrier.frame
    points = [p for out in (0.0, solid.depth) for p in solid.loop(solid.outlines[-1], out)]
    seen = [
        tuple(
            sum((c - o) * a for c, o, a in zip(p, frame.origin, axis, strict=True))
            for axis in (frame.u, frame.v)
        )
        for p in points
    ]
    return shapely.MultiPoint(seen).convex_hull
