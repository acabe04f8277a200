"""Edge distance: hole centre to the nearest edge, outside or of a window.

AISC 360-16 clause J3.4 (Tables J3.4 and J3.4M), or EN 1993-1-8 clause 3.5 (Table 3.3), as the job
chooses. Not covered: bolt sizes the table does not print, slotted and oversized holes, and whether
the plate bears the load.
"""

from __future__ import annotations

from partgen.plate import Hole, Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "edge-distance"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each hole, to its nearest edge."""
    return [_finding(plate, hole, shop) for hole in plate.holes]


def _finding(plate: Plate, hole: Hole, shop: Shop) -> Finding:
    edges = {"outside edge": plate.outline}
    edges |= {f"window {w.name}": w.outline for w in plate.windows}
    measured, edge = min((o.distance((hole.x, hole.y)), name) for name, o in edges.items())
    requirement = shop.rule_set.edge_distance(hole.bolt, hole.diameter)
    required = requirement.value
    return Finding(
        rule=RULE,
        plate=plate.key,
        where=f"hole {hole.name} ({hole.bolt.size}) to {edge}",
        status=Status.NOT_COVERED if required is None else at_least(measured, required),
        measured=measured,
        required=required,
        source=requirement.source,
        note=requirement.why_not,
    )
