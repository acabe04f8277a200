"""A plate's edge on a round tube: radius, wrap, skew, and the gaps it leaves to the weld.

With the plate's plane skewed by phi from square to the tube, the edge is an ellipse; a square cut
edge then stands off the tube by thickness x tan(phi) on one face. The bore is larger than the tube
by the fit gap; pushed home at the middle of the wrap, it stands off towards the ends.
"""

from __future__ import annotations

from math import cos, hypot, radians, sqrt, tan

from partgen.measure import per_unit

# A fillet over a root gap above 1/16 in needs a leg larger by the gap; above 3/16 in it may not
# be filled at all. AWS D1.1, clause on assembly tolerances of fillet welds, from memory.
FREE_GAP = per_unit("in") / 16  # mm
MOST_GAP = per_unit("in") * 3 / 16  # mm


def axes(tube: float, fit_gap: float, skew: float) -> tuple[float, float]:
    """Return the semi-axes of the edge: along the skew, and square to it [mm].

    Args:
        tube: outside diameter of the tube [mm].
        fit_gap: between tube and edge, all round [mm].
        skew: angle of the plate's plane from square to the tube [degrees].

    Examples:
        >>> [round(axes(3.25, 0, phi)[0], 3) for phi in (10, 20)]
        [1.65, 1.729]
    """
    radius = tube / 2 + fit_gap
    return radius / cos(radians(skew)), radius


def gap_at(tube: float, radius: float, angle: float) -> float:
    """Return how far an edge of ``radius``, touching at its middle, stands off the tube [mm].

    The shortest way to the tube from the point of the edge that lies ``angle`` from its middle,
    about the edge's own centre.

    Examples:
        >>> [round(gap_at(3.0, r, 80), 3) for r in (1.515625, 1.53125, 1.5625)]
        [0.013, 0.026, 0.053]
    """
    shift, turn = radius - tube / 2, radians(angle)  # between the two centres
    return sqrt(shift * shift - 2 * shift * radius * cos(turn) + radius * radius) - tube / 2


def edge_gap(thickness: float, skew: float) -> float:
    """Return how far a square cut edge stands off the tube on one face of the plate [mm].

    Examples:
        >>> round(edge_gap(0.25, 10), 3), round(edge_gap(0.25, 20), 3)
        (0.044, 0.091)
    """
    return thickness * tan(radians(abs(skew)))


def gap_note(gap: float) -> str | None:
    """Return what to do about a root gap, or nothing where it may be welded as it is [mm]."""
    if gap <= FREE_GAP:
        return None
    if gap <= MOST_GAP:
        return (
            f"the edge stands off the tube by up to {gap:.2f} mm (over {FREE_GAP:.2f} mm): make "
            "the fillet's leg larger by that, or bevel the edge"
        )
    return (
        f"the edge stands off the tube by up to {gap:.2f} mm, more than a fillet may fill "
        f"({MOST_GAP:.2f} mm): bevel the edge to the skew"
    )


def far_from(point: tuple[float, float], tube: float) -> float:
    """Return the distance from a point to the tube's surface, the tube about (0, 0) [mm]."""
    return hypot(*point) - tube / 2
