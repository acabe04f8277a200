"""Hole size: what the cutting process can do with a round opening in this thickness.

Under the profile's least hole it is marked for the drill, not cut: a warning. Under its good hole
it may be cut, best as a pilot to drill or ream, which the note says. A plasma job shop's table
prints 1.5 t; others say holes under 3 t cut poorly: both are the shop's to edit. A pivot's hole is
better drilled whatever its size. Not covered: taper, hardness of the edge, fatigue.
"""

from __future__ import annotations

from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "hole-size"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each round opening."""
    named = [(f"hole {h.name}", h.diameter) for h in plate.holes]
    named += [(f"window {w.name}", c[2]) for w in plate.windows if (c := w.outline.circle_of)]
    return [_finding(plate, name, diameter, shop) for name, diameter in named]


def _finding(plate: Plate, name: str, diameter: float, shop: Shop) -> Finding:
    cutting = shop.cutting
    least = cutting.least_hole_per_thickness * plate.thickness
    good = cutting.good_hole_per_thickness * plate.thickness
    status, note = at_least(diameter, least, Status.WARN), ""
    if status is not Status.PASS:
        note = "too small to cut in this plate: mark its centre and drill it"
    elif diameter < good:
        note = f"under {good:.1f} mm: cut it smaller and drill or ream to size"
    return Finding(
        rule=RULE,
        plate=plate.key,
        where=name,
        status=status,
        measured=diameter,
        required=least,
        source=f"{cutting.name}: {cutting.source}",
        note=note,
    )
