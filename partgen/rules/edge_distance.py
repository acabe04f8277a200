"""Edge distance: hole centre to the edges, outside and of windows.

AISC 360-16 clause J3.4 (Tables J3.4 and J3.4M), the two columns of AISC 360-05, EN 1993-1-8 clause
3.5 (Table 3.3), or the shop's factors, as the job chooses. Outside edges are cut as the cutting
profile says, windows always thermally. The edge that is nearest to its limit is shown. Not covered:
bolt sizes the table does not print, oversized metric holes, slots, whether the plate bears a load.
"""

from __future__ import annotations

from partgen.plates.plate import Hole, Plate
from partgen.reference.rule_set import Edge, Requirement
from partgen.rules.finding import SLACK, Finding, Status
from partgen.shop import Shop

RULE = "edge-distance"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each hole, to the edge with the least margin."""
    near = zip(plate.holes, plate.hole_edges, strict=True)
    return [_finding(plate, hole, edges, shop) for hole, edges in near]


def _finding(plate: Plate, hole: Hole, edges: tuple[tuple[float, str], ...], shop: Shop) -> Finding:
    asked: dict[Edge, Requirement] = {
        "cut": shop.rule_set.edge_distance(hole.bolt, hole.diameter, "cut")
    }
    asked[shop.cutting.edge] = shop.rule_set.edge_distance(
        hole.bolt, hole.diameter, shop.cutting.edge
    )
    found = [
        (measured, name, asked[shop.cutting.edge if name == "outside edge" else "cut"])
        for measured, name in edges
    ]
    measured, edge, requirement = min(found, key=lambda f: f[0] - (f[2].value or 0.0))
    status, note = _judged(measured, requirement, hole)
    return Finding(
        rule=RULE,
        plate=plate.key,
        where=f"hole {hole.name} ({hole.bolt.size}) to {edge}",
        status=status,
        measured=measured,
        required=requirement.value,
        source=requirement.source,
        note=note,
    )


def _judged(measured: float, requirement: Requirement, hole: Hole) -> tuple[Status, str]:
    if requirement.value is None:
        return Status.NOT_COVERED, requirement.why_not
    if measured < requirement.value - SLACK:
        least = hole.bolt.diameter
        return Status.FAIL, (
            "more metal round the hole"
            if measured >= least
            else f"more metal round the hole; under one bolt diameter, {least:.1f} mm"
        )
    better = requirement.preferred
    if better is not None and measured < better - SLACK:
        return Status.WARN, f"{round(better, 3):g} mm is preferred"
    return Status.PASS, ""
