"""Linkage hold: the links hold the axle once, not twice, and a triangle is wide enough.

Links that hold the axle twice over bind: the misfit is what rubber or metal must give at the worst
position (warning). Where only triangulated links hold the axle sideways, the widest pair should
make 40 degrees in all, seen from above (common practice, no source; a warning). Not covered:
forces.
"""

from __future__ import annotations

from partgen.linkage.study import TRIANGLE, Study
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "linkage-hold"
PLATE = "linkage"


def check(shop: Shop) -> list[Finding]:
    """Return the findings on the linkage as a whole."""
    return [] if shop.linkage is None else [*_holds(shop.linkage), *_triangle(shop.linkage)]


def _holds(study: Study) -> list[Finding]:
    found = []
    hold = study.holds[0]
    binds = study.binds
    bad = binds is not None or bool(hold.locked or hold.weak)
    where = f"{hold.constraints} constraints" + (f", {binds.case.name}" if binds else "")
    found.append(
        Finding(
            rule=RULE,
            plate=PLATE,
            where=where,
            status=Status.WARN if bad else Status.PASS,
            measured=binds.misfit if binds else None,
            required=0.0 if binds else None,
            source="rank of the links' constraints",
            note=f"{hold.text}; 'measured' is what rubber or metal must give" if bad else "",
        )
    )
    return found


def _triangle(study: Study) -> list[Finding]:
    if not study.needs_triangle or not study.triangles:
        return []
    name, angle = max(study.triangles.items(), key=lambda item: item[1])
    status = at_least(angle, TRIANGLE, Status.WARN)
    return [
        Finding(
            rule=RULE,
            plate=PLATE,
            where=f"links {name}, left to right seen from above",
            status=status,
            measured=angle,
            required=TRIANGLE,
            unit="deg",
            source="common practice, no source",
            note="" if status is Status.PASS else "spread the pair, or add a lateral bar",
        )
    ]
