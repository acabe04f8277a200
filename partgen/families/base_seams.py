"""Seams of a plate that stands on its base: the straight edge at y = 0."""

from __future__ import annotations

from partgen.plates.edges import edges_on_line
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam

UNDER = "the member under it"


def base_seams(plate: Plate, mate: str = UNDER, beside: float | None = None) -> list[Seam]:
    """Return the seam of the base, a fillet on each face.

    Args:
        plate: as drawn for the left.
        mate: what it stands on.
        beside: thickness of that; None where it is not known [mm].
    """
    return [
        Seam(edge="base", mate=mate, path=path, beside=beside, guessed=mate == UNDER)
        for path in edges_on_line(plate.outline, 1, 0.0)
    ]
