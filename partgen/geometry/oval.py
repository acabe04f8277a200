"""An oval of four arcs: the drafting shop's stand-in for an ellipse, exact and tangent."""

from __future__ import annotations

from math import atan2, hypot, tan

from partgen.errors import GeometryError
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point


def oval(length: float, width: float, at: Point = (0.0, 0.0), angle: float = 0.0) -> Outline:
    """Return a four-arc oval about ``at``, its long axis turned by ``angle`` [degrees].

    With half axes a > b and d = sqrt(a2 + b2), the end arcs have radius d (d - (a - b)) / (2 a) and
    the side arcs d (d + (a - b)) / (2 b): the four-centred oval of technical drawing (from memory);
    that the arcs are tangent is checked by tests.

    Raises:
        GeometryError: it is not longer than wide.
    """
    if not length > width > 0:
        raise GeometryError(
            f"oval {length:g} x {width:g} mm: it must be longer than wide; round: a diameter"
        )
    a, b = length / 2, width / 2
    d = hypot(a, b)
    end, side = d * (d - (a - b)) / (2 * a), d * (d + (a - b)) / (2 * b)
    # Centres (a - end, 0) and (0, b - side); their line meets both arcs where they join.
    x, y = a - end, side - b
    reach = side / hypot(x, y)
    px, py = x * reach, y * reach - (side - b)
    half = atan2(py, px - x)  # of the end arc, each way from the long axis
    tip, flank = tan(half / 2), tan(atan2(x, y) / 2)
    corners = (
        Vertex(px, -py, tip),
        Vertex(px, py, flank),
        Vertex(-px, py, tip),
        Vertex(-px, -py, flank),
    )
    return Outline(corners).turned(angle).moved(*at)
