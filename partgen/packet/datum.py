"""The edge a plate's dimensions start from, and the plate turned so that this edge lies square.

The *datum edge* is the longest straight edge that a straightedge can be laid against: the whole
plate lies on one side of it. A bent plate is measured from such an edge along its bends if it has
one, as its bend lines are laid out from there. Square to it, the second zero is the straight edge
on that side of the plate, or the line that touches the plate there. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, degrees
from typing import Literal

from partgen.geometry.outline import Outline, cos_sin
from partgen.geometry.segment import Point, Segment
from partgen.plates.plate import Plate

FLAT = 1e-6  # mm
CORNER_EDGE = 0.4  # an edge with another square to it comes first if this part of the longest
MOST_EDGES = 24  # longest straight edges that are tried
EdgeSide = Literal["left", "right", "bottom", "top"]


@dataclass(frozen=True)
class Datum:
    """A plate turned square to its datum edge, and where its dimensions start.

    Attributes:
        plate: turned and moved: its box's lower left corner is at (0, 0) [mm].
        size: width and height of the box [mm].
        sides: where x and where y is zero.
        edges: the straight edge on each of these sides; none where the plate only touches.
        turn: angle it was turned by, anticlockwise [degrees].
        shift: what it was moved by afterwards [mm].
        main: the axis that is measured from the datum edge itself, 0 for x, 1 for y.
    """

    plate: Plate
    size: tuple[float, float]
    sides: tuple[EdgeSide, EdgeSide]
    edges: tuple[Segment | None, Segment | None]
    turn: float
    shift: Point
    main: int

    def value(self, point: Point, axis: int) -> float:
        """Return the distance of ``point`` from the zero of ``axis`` (0 is x, 1 is y) [mm]."""
        far = self.sides[axis] in ("right", "top")
        return self.size[axis] - point[axis] if far else point[axis]

    def carried(self, point: Point) -> Point:
        """Return a point of the plate as drawn, turned and moved along with it."""
        x, y = turned_point(point, self.turn)
        return x + self.shift[0], y + self.shift[1]


def datum(plate: Plate) -> Datum:
    """Return ``plate`` turned square to its datum edge; a right hand starts from mirrored sides."""
    flip = -1.0 if plate.hand == "right" else 1.0
    bend = next((m.path for m in plate.bends if len(m.path) > 1), None)
    along = None if bend is None else Segment(*bend[0], *bend[-1])
    edge = datum_edge(plate.outline, flip, along)
    turn = 0.0
    if edge is not None:
        heading = degrees(atan2(edge.y1 - edge.y0, edge.x1 - edge.x0))
        turn = 90.0 * round(heading / 90.0) - heading
    turn = 0.0 if abs(turn) < 1e-9 else turn
    at = turned(plate, turn)
    x0, y0, x1, y1 = at.outline.box
    at = at.moved(-x0, -y0)
    size = x1 - x0, y1 - y0
    every: tuple[EdgeSide, ...] = ("left", "right", "bottom", "top")
    lying = {side: _lying(at.outline, side, size) for side in every}
    x_sides: tuple[EdgeSide, EdgeSide] = ("left", "right") if flip > 0 else ("right", "left")
    sides = _longer(lying, *x_sides), _longer(lying, "bottom", "top")
    edges = lying[sides[0]], lying[sides[1]]
    return Datum(
        at, size, sides, edges, turn, (-x0, -y0), int(_length(edges[1]) >= _length(edges[0]))
    )


def datum_edge(outline: Outline, flip: float = 1.0, along: Segment | None = None) -> Segment | None:
    """Return the straight edge with the whole outline on one side of it, to measure from.

    One with such an edge square to it comes first (the corner of a gusset), then the longest.

    Args:
        outline: of the plate.
        flip: -1 prefers the right where edges are equally long, 1 the left; the lower comes first.
        along: a bend; an edge parallel to it comes before all others.
    """
    straight = [s for s in outline.segments if not s.bulge]
    longest = sorted(straight, key=lambda s: -s.length)[:MOST_EDGES]
    good = [s for s in longest if _supports(s, outline)]
    if not good:
        return None

    good = [s for s in good if along and _parallel(s, along)] or good
    least = CORNER_EDGE * max(s.length for s in good)

    def rank(s: Segment) -> tuple[bool, float, float, float]:
        lonely = s.length < least or not any(_square(s, other) for other in good)
        return (
            lonely,
            -round(s.length, 6),
            round(s.y0 + s.y1, 6),
            round(flip * (s.x0 + s.x1), 6),
        )

    return min(good, key=rank)


def turned(plate: Plate, angle: float) -> Plate:
    """Return ``plate`` turned anticlockwise about (0, 0) by ``angle`` [degrees]."""
    if not angle:
        return plate
    holes = []
    for hole in plate.holes:
        x, y = turned_point((hole.x, hole.y), angle)
        holes.append(replace(hole, x=x, y=y))
    return replace(
        plate,
        outline=plate.outline.turned(angle),
        holes=tuple(holes),
        windows=tuple(replace(w, outline=w.outline.turned(angle)) for w in plate.windows),
        marks=tuple(
            replace(m, path=tuple(turned_point(p, angle) for p in m.path)) for m in plate.marks
        ),
    )


def turned_point(point: Point, angle: float) -> Point:
    """Return ``point`` turned anticlockwise about (0, 0) by ``angle`` [degrees]."""
    c, s = cos_sin(angle)
    return c * point[0] - s * point[1], s * point[0] + c * point[1]


def _square(a: Segment, b: Segment) -> bool:
    (ux, uy), (vx, vy) = a.direction(0.0), b.direction(0.0)
    return abs(ux * vx + uy * vy) <= 1e-9


def _parallel(a: Segment, b: Segment) -> bool:
    (ux, uy), (vx, vy) = a.direction(0.0), b.direction(0.0)
    return abs(ux * vy - uy * vx) <= 1e-9


def _supports(edge: Segment, outline: Outline) -> bool:
    heading = degrees(atan2(edge.y1 - edge.y0, edge.x1 - edge.x0))
    lowest = outline.moved(-edge.x0, -edge.y0).turned(-heading).box[1]
    return lowest >= -FLAT


def _lying(outline: Outline, side: EdgeSide, size: tuple[float, float]) -> Segment | None:
    """Return the longest straight segment on one side of the box."""
    axis, at = {"left": (0, 0.0), "right": (0, size[0]), "bottom": (1, 0.0), "top": (1, size[1])}[
        side
    ]
    on = [
        s
        for s in outline.segments
        if not s.bulge
        and abs(s.start[axis] - at) <= 10 * FLAT
        and abs(s.end[axis] - at) <= 10 * FLAT
    ]
    return max(on, key=lambda s: s.length, default=None)


def _longer(lying: dict[EdgeSide, Segment | None], first: EdgeSide, second: EdgeSide) -> EdgeSide:
    return second if _length(lying[second]) > _length(lying[first]) + FLAT else first


def _length(edge: Segment | None) -> float:
    return 0.0 if edge is None else edge.length
