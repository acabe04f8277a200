"""A mount's plates whose ears lean, seen square to the ears, where their links swing.

An ear beyond its bend is flat, and its part of the flat drawing is that ear true to shape: seen
square to it the drawing is only moved, so that its hole lies at the bolt. What lies in the bend and
above it is taken as if it were flat too; a link clears the rail there by the swing rule. A cut has
to stay on the flat ear.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import shapely

from partgen.errors import GeometryError
from partgen.geometry.bending import allowance, k_factor
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Segment
from partgen.linkage.flat_trim import cut_away, own_cut
from partgen.linkage.plate_edge import metal
from partgen.linkage.turning import Turning
from partgen.measure import point_text
from partgen.plates.plate import Hole, Mark, Plate

SMALL = 1e-3  # mm2 of a view within a chord of its arcs


def square_view(plate: Plate, turning: Turning) -> Plate:
    """Return a plate as seen square to its ear, the hole that holds a link at its bolt.

    Args:
        plate: drawn flat, for the left.
        turning: the link.
    """
    hole = _hole(plate, turning)
    dx, dy = turning.pivot[0] - hole.x, turning.pivot[1] - hole.y
    windows = tuple(replace(w, outline=w.outline.moved(dx, dy)) for w in plate.windows)
    return replace(plate, outline=plate.outline.moved(dx, dy), windows=windows, holes=(), marks=())


def leaning_cut(plate: Plate, turning: Turning, spare: float) -> Outline | None:
    """Return what is cut off a plate whose ears lean, in its flat drawing; None where it is clear.

    Args:
        plate: drawn flat, for the left.
        turning: the link, as the part's side view has it.
        spare: to keep between its lean and where it touches [degrees].

    Raises:
        GeometryError: no room is left between the ears, or the cut would reach into their bend.
    """
    square = turning.square or turning
    tool = own_cut(square_view(plate, square), square, spare)
    if tool is None:
        return None
    hole = _hole(plate, turning)
    tool = tool.moved(hole.x - turning.pivot[0], hole.y - turning.pivot[1])
    gone = metal(plate).difference(metal(cut_away(plate, tool)))
    for bend in plate.bends:
        over = gone.intersection(_zone(bend, plate.thickness, hole))
        if over.area > SMALL:
            at = over.centroid
            raise GeometryError(
                f"{plate.key}: cannot be trimmed: the cut that keeps the link clear reaches into "
                f"the bend of its ears at {point_text((at.x, at.y))} of the flat drawing; set a "
                "smaller root, another ear_angle or a wider gap"
            )
    return tool


def _hole(plate: Plate, turning: Turning) -> Hole:
    return next(hole for hole in plate.holes if hole.name == turning.seated.seat.name)


def _zone(bend: Mark, thickness: float, hole: Hole) -> shapely.Polygon:
    """Return a bend's width in the flat drawing and all that lies beyond it, seen from a hole."""
    (line,) = [Segment(*a, *b) for a, b in pairwise(bend.path)]
    (ux, uy), (x0, y0) = line.direction(0.5), line.start
    side = -1.0 if (hole.x - x0) * -uy + (hole.y - y0) * ux > 0 else 1.0
    nx, ny = -uy * side, ux * side  # away from the hole
    half = allowance(bend.angle, bend.radius, thickness, k_factor(bend.radius, thickness)) / 2
    far = 2 * line.length + 1000.0
    ends = [(line.x0 - nx * half, line.y0 - ny * half), (line.x1 - nx * half, line.y1 - ny * half)]
    return shapely.Polygon([*ends, *((x + far * nx, y + far * ny) for x, y in reversed(ends))])
