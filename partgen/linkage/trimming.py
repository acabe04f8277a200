"""A plate that stands in a link's way, cut back to keep the clearance; lines and arcs again.

The plate hangs from the rail across the gap, as a web does: y of its drawing runs down from the
rail, x across. What the link needs is found along the plate's line in the side view; the cut is
straight across ("edge"), or as wide as the link with its clearance ("notch").
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import dist, hypot

from partgen.errors import GeometryError
from partgen.geometry.belt import rectangle
from partgen.geometry.segment import Point, Segment
from partgen.geometry.trim import less
from partgen.linkage.flat_trim import Cut
from partgen.linkage.obstacle import Obstacle
from partgen.linkage.swing import nearest
from partgen.linkage.turning import Turning
from partgen.plates.plate import Plate

RADIUS = 10.0  # mm, inside corners of a notch; common practice, no source
HORNS = 2.0  # thicknesses; a notch that leaves less beside it is cut all across; common practice
CLOSE = 1e-6  # mm
BEYOND = 50.0  # mm that the cut reaches past the plate


@dataclass(frozen=True)
class Trim:
    """How a part is cut back.

    Attributes:
        kept: from the rail to the cut [mm].
        half_width: of the notch; None where it is cut all across [mm].
    """

    kept: float
    half_width: float | None

    def on(self, plate: Plate) -> Plate:
        """Return a plate cut back.

        Raises:
            GeometryError: nothing sensible is left, or an opening is in the way of the cut.
        """
        if plate.hand == "right":
            return self.on(plate.mirrored()).mirrored()
        x0, _, x1, y1 = plate.outline.box
        if y1 <= self.kept + CLOSE:
            return plate
        middle, high = (x0 + x1) / 2, y1 - self.kept + BEYOND
        half = self.half_width
        if half is None or (x1 - x0) / 2 - half < HORNS * plate.thickness:
            tool = rectangle(x1 - x0 + 2 * BEYOND, high, 0.0, (middle, self.kept + high / 2))
        else:
            tool = rectangle(2 * half, high, min(RADIUS, half), (middle, self.kept + high / 2))
        left = less(plate.outline, tool)
        if len(left.outlines) != 1 or left.openings:
            raise GeometryError(
                f"part {plate.part}: trimming it leaves it in pieces; change its shape"
            )
        return replace(plate, outline=left.outlines[0])


def kept_length(
    line: tuple[Point, Point], half: float, turnings: Sequence[Turning], clearance: float
) -> float:
    """Return how much of a plate seen on edge may stand, from its first point [mm].

    Args:
        line: the plate's middle, first point at the rail [mm].
        half: half its thickness [mm].
        turnings: the links it has to clear.
        clearance: to keep [mm].

    Raises:
        GeometryError: not even its first 1 mm may stand.
    """
    (x0, y0), (x1, y1) = line
    whole = dist(*line)

    def clear(length: float) -> bool:
        end = Segment(x0, y0, x0 + (x1 - x0) * length / whole, y0 + (y1 - y0) * length / whole)
        thing = Obstacle("", (end,), half)
        return all(
            nearest(t.shape, t.pivot, t.range.first, t.range.last, [thing])[0].clearance
            >= clearance
            for t in turnings
        )

    if clear(whole):
        return whole
    low, high = 1.0, whole
    if not clear(low):
        raise GeometryError(
            "cannot be trimmed: the link comes too near where it meets the rail; move it, or lower "
            "the pivot"
        )
    while high - low > CLOSE:
        middle = (low + high) / 2
        low, high = (middle, high) if clear(middle) else (low, middle)
    return low


def trim_for(
    line: tuple[Point, Point],
    half: float,
    turnings: Sequence[Turning],
    clearance: float,
    notch: bool,
) -> Trim | None:
    """Return how a plate has to be cut back, or None where it is clear as it is.

    Args:
        line: the plate's middle, first point at the rail [mm].
        half: half its thickness [mm].
        turnings: the links it has to clear.
        clearance: to keep [mm].
        notch: whether only as wide as the link.

    Raises:
        GeometryError: it cannot be cut back enough.
    """
    kept = kept_length(line, half, turnings, clearance)
    if kept >= dist(*line):
        return None
    if not notch:
        return Trim(kept, None)
    wide = 0.0
    for t in turnings:
        reach = max(hypot(x - t.pivot[0], y - t.pivot[1]) for x, y in line)
        wide = max(wide, t.half + clearance + t.most_aside * reach)
    return Trim(kept, wide)


def applied(plates: Sequence[Plate], trims: Mapping[str, Trim | Cut]) -> list[Plate]:
    """Return a job's plates cut back.

    Args:
        plates: as the parts make them.
        trims: by part, or by plate where it is one of several.

    Raises:
        GeometryError: a plate cannot be cut back so.
    """
    found = []
    for plate in plates:
        for key in (plate.part, plate.key):
            plate = trims[key].on(plate) if key in trims else plate
        found.append(plate)
    return found
