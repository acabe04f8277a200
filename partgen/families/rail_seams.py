"""Seams of a plate that lies flat on a rail's side: every edge that is wholly on it."""

from __future__ import annotations

from functools import partial

from partgen.entries.rail import Rail
from partgen.geometry.segment import Point
from partgen.plates.edges import ON, edges_of
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam, which_side


def rail_seams(plate: Plate, name: str, rail: Rail, leg: float) -> list[Seam]:
    """Return the seams of a plate drawn in its rail's side view.

    Args:
        plate: as drawn for the left.
        name: of the rail.
        rail: the rail.
        leg: of the fillets [mm].
    """
    depth = partial(rail_depth, rail)
    return [
        Seam(
            edge=which_side(path),
            mate="rail",
            path=path,
            sides=1,
            lap=True,
            leg=leg,
            rail=name,
            hollow=f"rail {name}",
            beside=rail.wall,
            depth=depth,
        )
        for path in edges_of(plate.outline)
        if all(depth(at) >= -ON for s in path for at in (s.start, s.at(0.5), s.end))
    ]


def rail_depth(rail: Rail, at: Point) -> float:
    """Return how far a point is inside the rail's upper and lower edge, negative off it [mm]."""
    up = -rail.room(at)
    return min(up, rail.depth - up)
