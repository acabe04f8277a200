"""Bent plate: bend allowance, setback and developed length.

Bend allowance BA = A (R + K T), A in radians: the length of the layer that keeps its length, which
lies K T outside the inside radius R. Outside setback SB = tan(A / 2) (R + T). The developed length
is the sum of the flats, from tangent to tangent, and of the allowances.
"""

from __future__ import annotations

from math import radians, tan

RADIUS_PER_THICKNESS = 2.0  # least inside radius; ASTM A6 and A143 practice
# K by Groover, Fundamentals of Modern Manufacturing, from memory: .33 for R < 2 T, else .50.
TIGHT_K, WIDE_K = 0.33, 0.50


def k_factor(radius: float, thickness: float) -> float:
    """Return where the layer that keeps its length lies, as a part of the thickness [-].

    Examples:
        >>> k_factor(4.75, 3.2), k_factor(0.16, 0.04)
        (0.33, 0.5)
    """
    return TIGHT_K if radius < 2 * thickness else WIDE_K


def allowance(angle: float, radius: float, thickness: float, k: float) -> float:
    """Return the developed length of a bend [mm].

    Args:
        angle: through which the plate is bent, 0 is flat [degrees].
        radius: inside [mm].
        thickness: of the plate [mm].
        k: K-factor [-].

    Examples:
        >>> round(allowance(60, 4.75, 3.2, 0.33), 2)
        6.08
    """
    return radians(abs(angle)) * (radius + k * thickness)


def setback(angle: float, radius: float, thickness: float) -> float:
    """Return the distance from a bend's tangent to where the outside faces would meet [mm].

    Examples:
        >>> round(setback(90, 0.16, 0.04), 2)
        0.2
    """
    return tan(radians(abs(angle)) / 2) * (radius + thickness)
