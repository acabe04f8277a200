"""Seams of a plate that lies flat on a rail's side: every edge that is wholly on it.

One drawn in the rail's side view knows the rail's edges; of one whose y = 0 is the rail's upper
edge, what lies below is on it.
"""

from __future__ import annotations

from functools import partial

from partgen.entries.rail import Rail
from partgen.geometry.chain import Chain, length
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.plates.edges import LEAST, ON, edges_of
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


def lower_part(outline: Outline) -> list[Chain]:
    """Return the edges below y = 0, those that go on above it cut off there."""
    found = []
    for path in edges_of(outline):
        kept = tuple(
            _below(s) if max(s.y0, s.y1) > ON else s
            for s in path
            if min(s.y0, s.y1) < -ON and not (s.bulge and max(s.y0, s.y1) > ON)
        )
        if kept and length(kept) >= LEAST:
            found.append(kept)
    return found


def _below(s: Segment) -> Segment:
    """Return the part of a line that lies below y = 0."""
    at = s.x0 - s.y0 * (s.x1 - s.x0) / (s.y1 - s.y0)
    return Segment(at, 0.0, s.x1, s.y1) if s.y0 > 0 else Segment(s.x0, s.y0, at, 0.0)
