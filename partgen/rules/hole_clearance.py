"""Hole clearance: flat room round each bolt hole for washer, head, nut and spanner.

Three circles about the hole. *Seat*: the washer lies wholly on metal, clear of every edge, window
and hole. *Head*: so does the wider of head and nut across its corners. *Tool*: a ring spanner or
socket turns clear of the neighbouring bolts' heads and washers (a failure), and does not overhang
an edge or window (a warning: it can tip, and a weld bead there is in its way).

Sizes: ASME B18.2.1, B18.2.2, B18.21.1; ISO 4014, 4032, 7089; tool circle CID A-A-1346A. Not
covered: room above the plate and insertion of the bolt.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

import numpy as np

from partgen.geometry.nearness import neighbours
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
    holes = plate.holes
    if not holes:
        return []
    widest = max(_widest(hole.bolt) for hole in holes)
    near = neighbours(
        np.array([(h.x, h.y) for h in holes]),
        np.array([FAR * h.bolt.tool_diameter + widest / 2 for h in holes]),
        np.array([h.diameter / 2 for h in holes]),
    )
    return [
        finding
        for hole, edges, (others, nearest) in zip(holes, plate.hole_edges, near, strict=True)
        for finding in _of_hole(
            plate,
            hole,
            min(edges),
            _nearest_hole_edge(hole, [holes[k] for k in nearest]),
            [holes[k] for k in others],
        )
    ]


def _of_hole(
    plate: Plate,
    hole: Hole,
    to_edge: tuple[float, str],
    to_hole: tuple[float, str],
    others: Sequence[Hole],
) -> list[Finding]:
    bolt, tables = hole.bolt, _TABLES[hole.bolt.system]
    edge, name = to_edge
    seat, seat_name = min(to_edge, to_hole)
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
    for other in others:
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


def _nearest_hole_edge(hole: Hole, others: Iterable[Hole]) -> tuple[float, str]:
    edges = ((hypot(hole.x - h.x, hole.y - h.y) - h.diameter / 2, f"hole {h.name}") for h in others)
    return min(edges, default=(float("inf"), ""))


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
