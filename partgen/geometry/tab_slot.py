"""Tabs of one plate in slots of two others, so placed that they go together one way only.

The plate runs along u between an inner and an outer ear; each side has two tabs. The spacing of the
inner pair differs from that of the outer one, and neither pair is about the middle, so that turned
end for end, or over, some tab meets metal wherever the plate is pushed.

Slot width = thickest measured plate + 2 x cut tolerance, length = tab + 2 x cut tolerance; rounded
corners lie beyond that length.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import affinity

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline

INNER = (-0.28, 0.04)  # middles of the tabs, as parts of the edge's length
OUTER = (-0.20, 0.28)


@dataclass(frozen=True)
class TabSlot:
    """Tabs along one edge, and the slots they go into.

    Attributes:
        middles: of the tabs along the edge, zero in its middle [mm].
        tab: length of a tab [mm].
        thickness: greatest measured thickness of the plate with the tabs [mm].
        tolerance: of one cut edge [mm].
        radius: of the slots' corners [mm].
    """

    middles: tuple[float, ...]
    tab: float
    thickness: float
    tolerance: float
    radius: float

    @property
    def width(self) -> float:
        """Width of a slot [mm].

        Examples:
            >>> s = TabSlot((0.0,), 1.5, 0.26, 0.03, 0.0)
            >>> f"{s.width:.3f} x {s.clear_length:.3f}"
            '0.320 x 1.560'
        """
        return self.thickness + 2 * self.tolerance

    @property
    def clear_length(self) -> float:
        """Length of a slot between its rounded corners [mm]."""
        return self.tab + 2 * self.tolerance

    def slots(self) -> list[Outline]:
        """Return the slots, u along x."""
        r = min(self.radius, self.width / 2)
        size = self.clear_length + 2 * r, self.width
        return [rectangle(*size, r, (u, 0.0)) for u in self.middles]

    def sections(self) -> list[shapely.Polygon]:
        """Return the tabs as the slots see them: thickness by length, u along x."""
        half, thick = self.tab / 2, self.thickness / 2
        return [shapely.box(u - half, -thick, u + half, thick) for u in self.middles]


def enters(sections: Sequence[shapely.Polygon], slots: Sequence[Outline]) -> bool:
    """Tell whether every tab lies in a slot and none in metal."""
    open_ = shapely.union_all([slot.polygon("inside") for slot in slots]).buffer(1e-6)
    return all(open_.covers(section) for section in sections)


def moved(
    sections: Sequence[shapely.Polygon], along: float, across: float = 0.0
) -> list[shapely.Polygon]:
    """Return tabs shifted along and across their edge [mm]."""
    return [affinity.translate(s, along, across) for s in sections]


def end_for_end(sections: Sequence[shapely.Polygon]) -> list[shapely.Polygon]:
    """Return tabs with the plate turned so that its far end comes first."""
    return [affinity.scale(s, -1.0, 1.0, origin=(0.0, 0.0)) for s in sections]


def wrong_ways(
    inner: Sequence[shapely.Polygon], outer: Sequence[shapely.Polygon]
) -> dict[str, tuple[list[shapely.Polygon], list[shapely.Polygon]]]:
    """Return what meets the inner and the outer slots in each way the plate must not go."""
    back_in, back_out = end_for_end(inner), end_for_end(outer)
    return {
        "over along its length": (list(outer), list(inner)),
        "over across": (back_in, back_out),
        "end for end": (back_out, back_in),
    }


def least_spread(inner: Sequence[float], outer: Sequence[float]) -> float:
    """Return how far tabs miss slots in the wrong way that misses least, best shifted [mm].

    A plate may be pushed along; what counts is the spread of the misses. Tabs pair with slots in
    their order.
    """
    back_in, back_out = sorted(-u for u in inner), sorted(-u for u in outer)
    ways = [(sorted(outer), sorted(inner)), (back_in, back_out), (back_out, back_in)]
    spreads = []
    for in_tabs, out_tabs in ways:
        misses = [a - b for a, b in zip(in_tabs, sorted(inner), strict=True)]
        misses += [a - b for a, b in zip(out_tabs, sorted(outer), strict=True)]
        spreads.append(max(misses) - min(misses))
    return min(spreads)
