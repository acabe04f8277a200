"""What a link can hit near a mount, in the rail's side view: rail, bolt heads, plates, weld beads.

Each is a chain of lines and arcs with half a thickness round it; distances to it are exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import hypot, radians, tan

import numpy as np

from partgen.entries.rail import Rail
from partgen.geometry.ellipse import ellipse_arcs
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.saddle import axes
from partgen.geometry.segment import Point, Segment
from partgen.geometry.trim import winding
from partgen.linkage.bracket import Bracket
from partgen.linkage.entry import ObstacleEntry
from partgen.plates.plate import Plate


@dataclass(frozen=True)
class Obstacle:
    """Something fixed.

    Attributes:
        name: shown in findings.
        segments: its edge or its middle line [mm].
        half: thickness on each side of that [mm].
        metal: edge and windows of a plate seen flat; none for a line.
    """

    name: str
    segments: tuple[Segment, ...]
    half: float = 0.0
    metal: tuple[Outline, ...] = ()

    @cached_property
    def boxes(self) -> np.ndarray:
        """Of its segments; shape (n, 4) [mm]."""
        return np.array([s.box for s in self.segments])

    @cached_property
    def ends(self) -> np.ndarray:
        """Where its lines meet or end; shape (n + 1, 2) [mm]."""
        return np.array(ends_of(self))

    def covers(self, point: Point) -> bool:
        """Tell whether a point lies on the metal of a plate seen flat."""
        if not self.metal or winding(self.metal[0], point) == 0:
            return False
        return all(winding(window, point) == 0 for window in self.metal[1:])


def rail_obstacle(rail: Rail, name: str) -> Obstacle:
    """Return a rail's lower edge as measured."""
    return Obstacle(f"rail {name}", tuple(lower_edge(rail)))


def axle_tube(tube: float, skew: float, gap: float) -> Obstacle:
    """Return the tube that ears sit on, seen along their bolt.

    A skewed tube runs through the gap aslant: its section is an ellipse, which the gap draws out
    to both sides.

    Args:
        tube: its diameter [mm].
        skew: of the ears on it [degrees].
        gap: between the ears [mm].
    """
    name, shift = "the axle's tube", gap / 2 * tan(radians(abs(skew)))
    if not skew:
        return Obstacle(name, Outline.circle(0.0, 0.0, tube).segments)
    across, up = axes(tube, 0.0, skew)
    halves = [(shift, -90.0, 90.0), (-shift, 90.0, 270.0)]
    found = [
        replace(v, x=v.x + dx) for dx, a, b in halves for v in ellipse_arcs(across, up, a, b)[:-1]
    ]
    if shift:
        found.insert(len(found) // 2, Vertex(shift, up))
        found.append(Vertex(-shift, -up))
    return Obstacle(name, Outline.of(found).segments)


def lower_edge(rail: Rail) -> list[Segment]:
    """Return the lines and arcs of a rail's lower edge."""
    return list(rail.lower.segments)


def bolt_heads(
    bracket: Bracket, used: Sequence[str], own: str, rail: Rail | None
) -> list[Obstacle]:
    """Return the bolts that cross the gap of a part, heads as circles.

    Of several holes for one bolt that bolt is in the one a link uses, else in the first. On a rail
    only bolts below its edge cross the gap.

    Args:
        bracket: the part.
        used: names of its holes that links sit in.
        own: name of the bolt that the link in question turns about.
        rail: that it is on, if it is on one.
    """
    named = {seat.name: seat.bolt for seat in bracket.seats}
    taken = {named[name]: name for name in used if name in named}
    found: dict[Point, Obstacle] = {}
    for plate in bracket.ears:
        for hole in plate.holes:
            bolt, at = hole.instead_of or hole.name, (hole.x, hole.y)
            if bolt == own or taken.get(bolt, bolt) != hole.name or (rail and rail.room(at) <= 0):
                continue
            wide = max(hole.bolt.head_corners, hole.bolt.nut_corners, hole.bolt.washer_diameter)
            circle = Outline.circle(*at, wide)
            found[at] = Obstacle(f"bolt {hole.name}", circle.segments)
    return list(found.values())


def declared(entry: ObstacleEntry, rail: Rail | None, plates: Sequence[Plate]) -> list[Obstacle]:
    """Return what the job file says is in the way, with its weld beads."""
    if entry.at is not None:
        circle = Outline.circle(*entry.at, entry.diameter or 0.0)
        return [Obstacle(entry.title, circle.segments)]
    line = entry.line or ()
    thick = entry.thickness or max(
        (plate.thickness for plate in plates if plate.part == entry.part), default=0.0
    )
    found = [Obstacle(entry.title, tuple(chain(line)), thick / 2)]
    if entry.weld_leg and rail is not None:
        found += beads(entry.title, line[0], line[1], thick, entry.weld_leg, rail)
    return found


def beads(
    name: str, foot: Point, along: Point, thickness: float, leg: float, rail: Rail
) -> list[Obstacle]:
    """Return the faces of the fillets on both sides of a plate's foot.

    Args:
        name: of the plate.
        foot: where the plate's middle line meets the rail [mm].
        along: another point of that line [mm].
        thickness: of the plate [mm].
        leg: of the fillets [mm].
        rail: what it is welded to.
    """
    length = hypot(along[0] - foot[0], along[1] - foot[1])
    ux, uy = (along[0] - foot[0]) / length, (along[1] - foot[1]) / length
    edge = min(lower_edge(rail), key=lambda s: s.distance(foot))
    ex, ey = edge.direction(0.5)
    sine = abs(ux * ey - uy * ex) or 1.0
    found = []
    for way in (1.0, -1.0):
        root = way * thickness / 2 / sine
        toe = way * (thickness / 2 / sine + leg)
        on_rail = (foot[0] + toe * ex, foot[1] + toe * ey)
        on_plate = (foot[0] + root * ex + leg * ux, foot[1] + root * ey + leg * uy)
        found.append(Obstacle(f"weld bead of {name}", (Segment(*on_rail, *on_plate),)))
    return found


def chain(path: Sequence[Point]) -> list[Segment]:
    """Return the straight segments through the points of ``path``."""
    return [Segment(*a, *b) for a, b in pairwise(path)]


def ends_of(obstacle: Obstacle) -> list[Point]:
    """Return the points where an obstacle's lines meet or end."""
    segments = obstacle.segments
    return [segments[0].start, *(b.start for _, b in pairwise(segments)), segments[-1].end]
