"""Hole spacing: centres and clear metal between bolt holes.

AISC 360 clause J3.3 (2-2/3 d between centres, 3 d preferred, clear not under d; d of the larger
bolt), EN 1993-1-8 Table 3.3 (the larger of pitch and gauge, 2.4 d0), or the shop's factors. Pairs
farther apart than six hole diameters are not listed, nor holes to choose from for one bolt
(adjustment holes): only one of them is used. Not covered: staggered rows, slots.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

import numpy as np

from partgen.geometry.nearness import neighbours
from partgen.plates.plate import Hole, Plate
from partgen.rules.finding import SLACK, Finding, Status, at_least, judged
from partgen.shop import Shop

RULE = "hole-spacing"
FAR = 6.0  # hole diameters


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return findings on each pair of holes that are near."""
    holes, found = plate.holes, []
    for k, j in _near(holes):
        a, b = holes[k], holes[j]
        away = dist((a.x, a.y), (b.x, b.y))
        if away <= FAR * max(a.diameter, b.diameter) and not _for_one_bolt(a, b):
            found += _of_pair(plate, a, b, away, shop)
    return found


def _near(holes: Sequence[Hole]) -> list[tuple[int, int]]:
    """Return each pair of holes that may be near, by their numbers."""
    middles = np.array([(h.x, h.y) for h in holes]).reshape(-1, 2)
    sizes = np.array([h.diameter for h in holes])
    found = neighbours(middles, FAR * sizes, sizes / 2)
    return sorted({(min(k, j), max(k, j)) for k, (near, _) in enumerate(found) for j in near})


def _for_one_bolt(a: Hole, b: Hole) -> bool:
    stems = [h.name.split("-adjust-")[0] for h in (a, b)]
    return stems[0] == stems[1]


def _of_pair(plate: Plate, a: Hole, b: Hole, away: float, shop: Shop) -> list[Finding]:
    bolt = max(a.bolt, b.bolt, key=lambda k: k.diameter)
    centres, clear = shop.rule_set.spacing(bolt, max(a.diameter, b.diameter))
    assert centres.value is not None
    status = at_least(away, centres.value)
    note = "" if status is Status.PASS else "move the holes apart"
    if status is Status.PASS and centres.preferred and away < centres.preferred - SLACK:
        status, note = Status.WARN, f"{round(centres.preferred, 3):g} mm is preferred"
    found = [
        Finding(
            rule=RULE,
            plate=plate.key,
            where=f"hole {a.name} to hole {b.name}, centres",
            status=status,
            measured=away,
            required=centres.value,
            source=centres.source,
            note=note,
        )
    ]
    if clear is not None and clear.value is not None:
        metal = away - (a.diameter + b.diameter) / 2
        found.append(
            judged(
                RULE,
                (plate.key, f"hole {a.name} to hole {b.name}, clear"),
                (metal, clear.value),
                clear.source,
                "move the holes apart",
            )
        )
    return found
