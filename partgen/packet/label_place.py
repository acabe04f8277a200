"""Where a plate's name fits on its metal in the picture of a sheet."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.packet.picture import Box, label, number

SIZES = (1.0, 0.8, 0.6, 0.45, 0.3)  # of the letters asked for
ACROSS = 15  # places tried each way
WIDE = 0.6  # of a letter's height, its width
VIEW_ERROR = 0.5  # mm


def name_inside(
    name: str, outlines: Sequence[Outline], size: float, taken: Sequence[Box] = ()
) -> list[str]:
    """Return the name as SVG, wholly on metal, as near the middle as can be; nothing if no room.

    Args:
        name: of the plate.
        outlines: openings first, the outside edge last, where they lie [mm].
        size: height of the letters; made smaller where that helps [mm].
        taken: boxes that the name keeps off, as those of marks [mm].
    """
    *openings, edge = outlines
    metal = edge.polygon("inside", VIEW_ERROR)
    for opening in openings:
        metal = metal.difference(opening.polygon("outside", VIEW_ERROR))
    if taken:
        metal = metal.difference(shapely.union_all([shapely.box(*box) for box in taken]))
    shapely.prepare(metal)
    for part in SIZES:
        high = part * size
        wide, room = WIDE * high * len(name) + high, 1.5 * high
        for upright in (False, True):
            w, h = (room, wide) if upright else (wide, room)
            at = _place(metal, edge, w, h)
            if at is not None:
                text = label(name, *at, high)
                return [_upright(text, *at) if upright else text]
    return []


def _place(metal: shapely.Geometry, edge: Outline, w: float, h: float) -> Point | None:
    """Return the middle of a box wholly on metal, near the plate's middle; None if no room."""
    x0, y0, x1, y1 = edge.box
    if w > x1 - x0 or h > y1 - y0:
        return None
    middle = edge.centroid
    xs = np.append(np.linspace(x0 + w / 2, x1 - w / 2, ACROSS), middle[0])
    ys = np.append(np.linspace(y0 + h / 2, y1 - h / 2, ACROSS), middle[1])
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    boxes = shapely.box(x - w / 2, y - h / 2, x + w / 2, y + h / 2)
    fits = np.flatnonzero(shapely.contains(metal, boxes))
    if not len(fits):
        return None
    best = fits[np.hypot(x[fits] - middle[0], y[fits] - middle[1]).argmin()]
    return float(x[best]), float(y[best])


def _upright(text: str, x: float, y: float) -> str:
    """Return a label turned to read from below upwards."""
    turn = f'transform="rotate(-90 {number(x)} {number(-y)})"'
    return text.replace("<text ", f"<text {turn} ", 1)
