"""Circular arcs as cubic Bezier curves, for PDF, which has no arcs.

The usual construction: handles of 4/3 tan(a/4) radii along the tangents. Its radius is wrong by at
most 2/27 sin(a/4)^6 / cos(a/4)^2 of the radius (from memory; the tests measure it).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, cos, pi, sin, tan

from partgen.geometry.segment import Point, Segment

ERROR = 0.002  # mm
Curve = tuple[Point, Point, Point]


def beziers(arc: Segment, error: float = ERROR) -> Iterator[Curve]:
    """Yield two handles and an end for each piece of an arc, from its start on [mm].

    Args:
        arc: a segment with a bulge.
        error: greatest distance from the exact arc [mm].
    """
    pieces = max(1, ceil(abs(arc.sweep) / (pi / 4)))
    while arc.radius * radius_error(arc.sweep / pieces) > error:
        pieces += 1
    (cx, cy), r, step = arc.centre, arc.radius, arc.sweep / pieces
    reach = 4 / 3 * tan(step / 4)
    for k in range(pieces):
        a, b = arc.start_angle + k * step, arc.start_angle + (k + 1) * step
        first = cx + r * (cos(a) - reach * sin(a)), cy + r * (sin(a) + reach * cos(a))
        second = cx + r * (cos(b) + reach * sin(b)), cy + r * (sin(b) - reach * cos(b))
        end = arc.end if k == pieces - 1 else (cx + r * cos(b), cy + r * sin(b))
        yield first, second, end


def radius_error(sweep: float) -> float:
    """Return the greatest error of one piece over its radius, for a sweep [rad]."""
    return 2 / 27 * sin(abs(sweep) / 4) ** 6 / cos(sweep / 4) ** 2
