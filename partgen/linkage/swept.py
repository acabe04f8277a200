r"""What a bar covers as it turns about a bolt: an exact outline of lines and arcs.

  ,--._ far            seen square to the turning; the bar between ``inner`` and ``outer`` from
 /      `-._           the bolt, ``half`` its width to each side, turned from ``first`` to
|  bar  at  `,         ``last``. Near the bolt: an arc about it where the bar begins further out,
 \ last      |         or the round of the joint where it begins at the bolt.
  o-- first /
"""

from __future__ import annotations

from math import atan2, cos, hypot, pi, radians, sin, sqrt, tan

from partgen.errors import GeometryError
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point

MOST = 150.0  # degrees of turning
LONGEST = 0.9 * pi  # rad; a longer arc is made of two


def swept(
    inner: float, outer: float, half: float, body: float, turn: tuple[float, float]
) -> Outline:
    """Return what a bar covers, the bolt at (0, 0).

    Where the turn is smaller than the bar is wide as seen from the bolt, its far end is taken as
    round: by so much, less than ``half``, the outline is on the large side.

    Args:
        inner: where the bar begins; at the bolt, with its joint, where this is not above 0 [mm].
        outer: where it ends [mm].
        half: half its width [mm].
        body: radius of the joint about the bolt; counts where the bar begins there [mm].
        turn: first and last direction, anticlockwise from +x [degrees].

    Raises:
        GeometryError: it turns too far, or ends before it begins.
    """
    first, last = (radians(angle) for angle in turn)
    if last - first > radians(MOST):
        raise GeometryError(f"the link turns by more than {MOST:g} deg; limit the travel")
    if outer <= max(inner, body) + 1e-6:
        raise GeometryError("the link ends where the plate begins")
    wide = atan2(half, outer)
    far = _arc(hypot(outer, half), first - wide, last + wide)
    if inner > 0:
        near = [Vertex(*_at(last, inner, half)), *_arc(inner, last, first)]
        return Outline.of([Vertex(*_at(first, inner, -half)), *far, *near])
    radius = max(body, half)
    side = atan2(half, sqrt(radius * radius - half * half))
    return Outline.of([*far, *_arc(radius, last + side, first - side + 2 * pi)])


def _at(angle: float, x: float, y: float) -> Point:
    """Return a point of the bar turned by ``angle`` [rad]."""
    c, s = cos(angle), sin(angle)
    return c * x - s * y, s * x + c * y


def _arc(radius: float, start: float, end: float) -> list[Vertex]:
    """Return the vertices of an arc about (0, 0), one or two pieces and its end; angles [rad]."""
    pieces = 1 if abs(end - start) <= LONGEST else 2 if abs(end - start) <= 2 * LONGEST else 3
    step = (end - start) / pieces
    bulge = tan(step / 4) if abs(step) > 1e-12 else 0.0
    points = [_at(start + k * step, radius, 0.0) for k in range(pieces + 1)]
    return [*(Vertex(*p, bulge) for p in points[:-1]), Vertex(*points[-1])]
