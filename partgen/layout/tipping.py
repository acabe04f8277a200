"""Which plates may tip, or fall, between the slats of the cutting table once they are cut free.

The slats run across the longer side of the sheet, wherever they begin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from partgen.layout.mask import TOUCH
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement


@dataclass(frozen=True)
class Tip:
    """A plate that the slats may not hold.

    Attributes:
        placement: of the plate.
        falls: whether it is so narrow that it may lie on no slat at all.
    """

    placement: Placement
    falls: bool


def tip_ups(layout: Layout, pieces: Sequence[Piece], slats: float) -> list[Tip]:
    """Return the plates that slats may not hold.

    A plate can tip if its centre of gravity is nearer than the slats' spacing to its end across the
    slats: then there may be no slat on that side of it. One that is narrower than the spacing can
    fall between two.

    Args:
        layout: the layout.
        pieces: what was placed.
        slats: spacing of the slats [mm].
    """
    kinds = {p.name: p for p in pieces}
    along = {(u.sheet, u.number): 0 if u.along == "x" else 1 for u in layout.used}
    found = []
    for p in layout.placements:
        axis = along[p.sheet, p.number]
        outlines = kinds[p.piece].placed(p.x, p.y, p.turn)
        moment = fsum(o.area * o.centroid[axis] for o in outlines[:-1])
        whole = outlines[-1]
        middle = (whole.area * whole.centroid[axis] - moment) / kinds[p.piece].area
        first, last = whole.box[axis], whole.box[axis + 2]
        if min(middle - first, last - middle) < slats - TOUCH:
            found.append(Tip(p, last - first < slats - TOUCH))
    return found
