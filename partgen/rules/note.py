"""Note: what a family says about one of its plates that nothing measures: heed it, no number fails.

Such as what was mended in a drawing, how a plate is bent, where an edge stands off a tube.
"""

from __future__ import annotations

from partgen.measure import in_unit
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, Status
from partgen.shop import Shop

RULE = "note"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return a warning for each note on the plate."""
    return [
        Finding(
            rule=RULE,
            plate=plate.key,
            where="plate",
            status=Status.WARN,
            source="the part's family",
            note=in_unit(note, shop.unit),
        )
        for note in plate.notes
    ]
