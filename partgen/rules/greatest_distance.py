"""Greatest distance: a hole too far from every edge, where two parts rust between each other.

AISC 360 clause J3.5 (12 t, not over 150 mm or 6 in.); EN 1993-1-8 Table 3.3 for exposed steel
(4 t + 40 mm). A warning only: it is about connected parts in contact. Not covered: the greatest
spacing of bolts (a job does not say which bolts join two plates), edges that are not exposed.
"""

from __future__ import annotations

from partgen.plates.plate import Plate
from partgen.rules.finding import SLACK, Finding, Status
from partgen.shop import Shop

RULE = "greatest-distance"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return a warning for each hole that is too far from every edge."""
    most = shop.rule_set.greatest_edge(plate.thickness, shop.unit)
    if most is None or most.value is None:
        return []
    found = []
    for hole, edges in zip(plate.holes, plate.hole_edges, strict=True):
        measured, name = min(edges)
        if measured > most.value + SLACK:
            found.append(
                Finding(
                    rule=RULE,
                    plate=plate.key,
                    where=f"hole {hole.name} to {name}, at most",
                    status=Status.WARN,
                    measured=measured,
                    required=most.value,
                    at_most=True,
                    source=most.source,
                    note="seal between the parts there, or bring an edge nearer to the bolt",
                )
            )
    return found
