"""Hole clearance: flat room round each bolt hole for washer, head, nut and spanner.

Three circles about the hole. *Seat*: the washer lies wholly on metal, clear of every edge, window
and hole. *Head*: so does the wider of head and nut across its corners. *Tool*: a ring spanner or
socket turns clear of the neighbouring bolts' heads and washers (a failure), and does not overhang
an edge or window (a warning: it can tip, and a weld bead there is in its way).

Sizes: ASME B18.2.1, B18.2.2, B18.21.1; ISO 4014, 4032, 7089; tool circle CID A-A-1346A. Not
covered: room above the plate and insertion of the bolt.
"""

from __future__ import annotations

from math import hypot

from partgen.plates.plate import Hole, Plate
from partgen.reference.bolt import TOOL_SOURCE, Bolt
from partgen.rules.finding import Finding, Status, judged
from partgen.shop import Shop

RULE = "hole-clearance"
FAR = 2.0  # spanner circles; neighbours farther away are not listed
_TABLES = {
    "metric": {"washer": "ISO 7089", "head": "ISO 4014, ISO 4032", "tool": TOOL_SOURCE},
    "inch": {
        "washer": "ASME B18.21.1",
        "head": "ASME B18.2.1, B18.2.2",
        "tool": TOOL_SOURCE,
    },
}


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return seat, head and tool findings for each hole."""
    near = zip(plate.holes, plate.hole_edges, strict=True)
    return [f for hole, edges in near for f in _of_hole(plate, hole, *min(edges))]


def _of_hole(plate: Plate, hole: Hole, edge: float, name: str) -> list[Finding]:
    bolt, tables = hole.bolt, _TABLES[hole.bolt.system]
    hole_edge, hole_name = _nearest_hole_edge(plate, hole)
    seat, seat_name = min((edge, name), (hole_edge, hole_name))
    corners = max(bolt.head_corners, bolt.nut_corners) / 2
    found = [
        _finding(
            plate,
            f"seat of hole {hole.name} to {seat_name}",
            seat,
            bolt.washer_diameter / 2,
            tables["washer"],
        ),
        _finding(plate, f"head at hole {hole.name} to {seat_name}", seat, corners, tables["head"]),
        _finding(
            plate,
            f"tool at hole {hole.name} to {name}",
            edge,
            bolt.tool_diameter / 2,
            tables["tool"],
            Status.WARN,
        ),
    ]
    for other in plate.holes:
        if _bolt_of(other) != _bolt_of(hole):
            away = hypot(hole.x - other.x, hole.y - other.y) - _widest(other.bolt) / 2
            if away > FAR * bolt.tool_diameter:
                continue
            found.append(
                _finding(
                    plate,
                    f"tool at hole {hole.name} to bolt {other.name}",
                    away,
                    bolt.tool_diameter / 2,
                    tables["tool"],
                )
            )
    return found


def _nearest_hole_edge(plate: Plate, hole: Hole) -> tuple[float, str]:
    others = [
        (hypot(hole.x - h.x, hole.y - h.y) - h.diameter / 2, f"hole {h.name}")
        for h in plate.holes
        if h is not hole
    ]
    return min(others, default=(float("inf"), ""))


def _bolt_of(hole: Hole) -> str:
    """Return which bolt a hole is for; holes to choose from share one."""
    return hole.instead_of or hole.name


def _widest(bolt: Bolt) -> float:
    return max(bolt.washer_diameter, bolt.head_corners, bolt.nut_corners)


def _finding(
    plate: Plate,
    where: str,
    measured: float,
    required: float,
    source: str,
    otherwise: Status = Status.FAIL,
) -> Finding:
    return judged(
        RULE,
        (plate.key, where),
        (measured, required),
        source,
        "move the hole or what is beside it",
        otherwise,
    )
