"""Sizes in words, as a drawing's legend has them: openings by their shape, bends by their turn."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, dist

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Segment
from partgen.measure import shown
from partgen.plates.plate import Mark

NEAR = 1e-6  # mm
SQUARE = 1e-9  # of unit vectors


def window_text(outline: Outline, unit: str) -> str:
    """Return the size of a window: round, slot, rectangle, oval, or its extents.

    Examples:
        >>> window_text(Outline.slot(0, 0, 40, 12, 30), "mm")
        'slot 40 x 12 at 30.0°'
    """
    if outline.circle_of:
        return f"Ø{shown(outline.circle_of[2], unit)}"
    straight = [s for s in outline.segments if not s.bulge]
    arcs = [s for s in outline.segments if s.bulge]
    turn = _turn(straight, arcs)
    x0, y0, x1, y1 = outline.turned(-turn).box
    size = f"{shown(x1 - x0, unit)} x {shown(y1 - y0, unit)}"
    radii = {round(s.radius, 6) for s in arcs}
    shape, radius = "opening", f" R{shown(min(radii), unit)}" if radii else ""
    if len(straight) in (2, 4) and len(radii) < 2 and _is_boxed(straight):
        shape = "rectangle"
        if radii and abs(min(x1 - x0, y1 - y0) - 2 * min(radii)) < NEAR:
            shape, radius = "slot", ""
    elif not straight and len(arcs) == 4:
        shape, radius = "oval", ""
    tilt = turn % 90.0
    tilt = tilt - 90.0 if tilt > 45.0 else tilt
    at = f" at {abs(tilt):.1f}°" if abs(tilt) > 0.05 else ""
    return f"{shape} {size}{radius}{at}"


def _turn(straight: Sequence[Segment], arcs: Sequence[Segment]) -> float:
    """Return the direction of an opening's length [degrees]: of its longest line, or of an oval."""
    if straight:
        along = max(straight, key=lambda s: s.length)
        return degrees(atan2(along.y1 - along.y0, along.x1 - along.x0))
    (ax, ay), (bx, by) = (s.centre for s in sorted(arcs, key=lambda s: s.radius)[:2])
    return degrees(atan2(by - ay, bx - ax)) if dist((ax, ay), (bx, by)) > NEAR else 0.0


def _is_boxed(straight: Sequence[Segment]) -> bool:
    """Tell whether lines lie along, or square to, the first of them."""
    ux, uy = straight[0].direction(0.0)
    ways = [s.direction(0.0) for s in straight]
    return all(min(abs(ux * vx + uy * vy), abs(ux * vy - uy * vx)) < SQUARE for vx, vy in ways)


def bend_text(bend: Mark, unit: str) -> str:
    """Return how a plate is bent at a line, as its drawn face is seen.

    Examples:
        >>> bend_text(Mark("bend", ((0, 0), (0, 9)), 12.0, -30.0), "mm")
        'bend 30° away from you, R12 inside'
    """
    if not bend.angle:
        return "bend"
    way = "towards" if bend.angle > 0 else "away from"
    return f"bend {abs(bend.angle):.4g}° {way} you, R{shown(bend.radius, unit)} inside"
