"""A plate that lies parallel to a link's swing: rail plate, boxing plate, gusset on a side.

Only the part of the link that comes as far aside as the plate counts, over all positions, grown by
its own half width and the clearance to keep.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from partgen.errors import GeometryError
from partgen.geometry.belt import belt, corners
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.linkage.entry import ObstacleEntry
from partgen.linkage.obstacle import Obstacle
from partgen.linkage.swing import Nearest, nearest, silhouette
from partgen.linkage.turning import Turning
from partgen.plates.plate import Plate

LEAST = 1e-3  # mm of a link that comes as far aside as a plate


@dataclass(frozen=True)
class Flat:
    """A plate seen flat from the side.

    Attributes:
        name: shown in findings.
        plate: as drawn.
        at: where its drawing's zero lies [mm].
        turned: of its drawing, anticlockwise [degrees].
        aside: middle of its thickness, outward of the joint's middle [mm].
    """

    name: str
    plate: Plate
    at: Point
    turned: float
    aside: float

    def seen(self, plate: Plate) -> list[Outline]:
        """Return a plate's edge and its windows in the side view."""
        loops = [plate.outline, *(w.outline for w in plate.windows)]
        return [loop.turned(self.turned).moved(*self.at) for loop in loops]

    def drawn(self, tool: Outline) -> Outline:
        """Return an outline of the side view in the plate's own drawing."""
        return tool.moved(-self.at[0], -self.at[1]).turned(-self.turned)

    def span(self, turning: Turning, clearance: float) -> tuple[float, float] | None:
        """Return from where to where a link is as far aside as the plate; None if nowhere [mm]."""
        thick = self.plate.thickness / 2 + clearance
        wide = turning.half * hypot(1.0, turning.most_aside)
        low, high = self.aside - thick - wide, self.aside + thick + wide
        least, most = turning.aside
        start, end = _within(least, most, low, high, turning.link.length)
        return (start, end) if end - start > LEAST else None

    def near(self, plate: Plate, turning: Turning, clearance: float) -> Nearest | None:
        """Return where a link comes nearest to the plate; None where it never is beside it."""
        span = self.span(turning, clearance)
        if span is None:
            return None
        first, *rest = self.seen(plate)
        segments = tuple(s for loop in (first, *rest) for s in loop.segments)
        thing = Obstacle(self.name, segments, metal=(first, *rest))
        turns = turning.range
        shape = _part(turning, span)
        return nearest(shape, turning.pivot, turns.first, turns.last, [thing])[0]


def _within(
    least: float, most: float, low: float, high: float, length: float
) -> tuple[float, float]:
    """Return the stretch of a link on which least..most, times the way along, meets low..high."""
    start, end = 0.0, length
    for share, limit in ((least, high), (-most, -low)):  # share times the way is at most the limit
        if share > 0:
            end = min(end, limit / share)
        elif share < 0:
            start = max(start, limit / share)
        elif limit < 0:
            return 0.0, 0.0
    return start, end


def _part(turning: Turning, span: tuple[float, float]) -> Outline:
    """Return the part of a link's silhouette between two places along it."""
    start, end = span
    if start <= 0:
        return silhouette(turning.link, turning.end, end)
    h = turning.half
    return belt(corners([(start, -h), (end, -h), (end, h), (start, h)]))


def flats(
    entries: Sequence[ObstacleEntry], plates: Sequence[Plate]
) -> list[tuple[ObstacleEntry, Flat]]:
    """Return the plates that a job file places flat in the side view."""
    found: list[tuple[ObstacleEntry, Flat]] = []
    for entry in entries:
        if entry.flat is None:
            continue
        for plate in plates:
            if plate.part == entry.part and entry.plate in (None, plate.name):
                _need_flat(entry, plate)
                drawn = plate.mirrored() if plate.hand == "right" else plate
                flat = Flat(entry.title, drawn, entry.flat, entry.turned, entry.aside or 0.0)
                if not any(flat == other for _, other in found):
                    found.append((entry, flat))
    return found


def _need_flat(entry: ObstacleEntry, plate: Plate) -> None:
    """Refuse a bent plate: its drawing is developed, it does not lie so beside the link.

    Raises:
        GeometryError: it is bent.
    """
    if plate.bends:
        raise GeometryError(
            f"obstacle '{entry.title}': plate {plate.key} is bent, so it is not seen flat as it is "
            "drawn; give its flats as they are seen on edge, line = [[x, y], [x, y], ...] along "
            "its middle"
        )
