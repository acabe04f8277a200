"""Where a plate's name fits on its metal in the picture of a sheet."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from partgen.outline import Outline
from partgen.packet.picture import label

SIZES = (1.0, 0.8, 0.6)  # of the letters asked for; smaller ones nobody reads
ACROSS = 15  # places tried each way
WIDE = 0.6  # of a letter's height, its width
VIEW_ERROR = 0.5  # mm


def name_inside(name: str, outlines: Sequence[Outline], size: float) -> list[str]:
    """Return the name as SVG, wholly on metal, as near the middle as can be; nothing if no room.

    Args:
        name: of the plate.
        outlines: openings first, the outside edge last, where they lie [mm].
        size: height of the letters; made smaller where that helps [mm].
    """
    *openings, edge = outlines
    metal = edge.polygon("inside", VIEW_ERROR)
    for opening in openings:
        metal = metal.difference(opening.polygon("outside", VIEW_ERROR))
    shapely.prepare(metal)
    x0, y0, x1, y1 = edge.box
    middle = edge.centroid
    for part in SIZES:
        high = part * size
        wide = WIDE * high * len(name)
        if wide > x1 - x0 or high > y1 - y0:
            continue
        xs = np.append(np.linspace(x0 + wide / 2, x1 - wide / 2, ACROSS), middle[0])
        ys = np.append(np.linspace(y0 + high / 2, y1 - high / 2, ACROSS), middle[1])
        x, y = (a.ravel() for a in np.meshgrid(xs, ys))
        boxes = shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        fits = np.flatnonzero(shapely.contains(metal, boxes))
        if len(fits):
            best = fits[np.hypot(x[fits] - middle[0], y[fits] - middle[1]).argmin()]
            return [label(name, float(x[best]), float(y[best]), high)]
    return []
