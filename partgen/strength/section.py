"""Section properties of a shape with openings: area, centroid, second moments of area.

By Green's theorem along the lines and arcs; Gauss points along each arc are enough to be exact to
rounding. Warping and torsion are not covered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment

NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)


@dataclass(frozen=True)
class Section:
    """Properties of an area.

    Attributes:
        area: [mm2].
        centroid: [mm].
        ix: second moment about the axis along x through the centroid [mm4].
        iy: about the axis along y [mm4].
        ixy: product moment [mm4].
    """

    area: float
    centroid: Point
    ix: float
    iy: float
    ixy: float


def section(outline: Outline, openings: Sequence[Outline] = ()) -> Section:
    """Return the properties of ``outline`` less ``openings``.

    Examples:
        >>> from partgen.geometry.belt import rectangle
        >>> bar = section(rectangle(20, 60, at=(5, 7)))
        >>> round(bar.ix), round(bar.iy), round(abs(bar.ixy), 6)
        (360000, 40000, 0.0)
    """
    whole = _moments(outline)
    for opening in openings:
        whole = whole - _moments(opening)
    area, mx, my, xx, yy, xy = (float(v) for v in whole)
    cx, cy = mx / area, my / area
    return Section(area, (cx, cy), yy - area * cy * cy, xx - area * cx * cx, xy - area * cx * cy)


def _moments(outline: Outline) -> np.ndarray:
    """Return the integrals of 1, x, y, x^2, y^2 and xy over an outline, anticlockwise."""
    return sum((_along(s) for s in outline.segments), np.zeros(6))


def _along(s: Segment) -> np.ndarray:
    if not s.bulge:
        half = (NODES + 1) / 2
        x, y = s.x0 + half * (s.x1 - s.x0), s.y0 + half * (s.y1 - s.y0)
        dx, dy = (s.x1 - s.x0) / 2 * WEIGHTS, (s.y1 - s.y0) / 2 * WEIGHTS
        return _integrals(x, y, dx, dy)
    pieces = int(abs(s.sweep) // (pi / 2)) + 1
    step = s.sweep / pieces
    total = np.zeros(6)
    for k in range(pieces):
        angle = s.start_angle + step * (k + (NODES + 1) / 2)
        c, n = np.cos(angle), np.sin(angle)
        x, y = s.centre[0] + s.radius * c, s.centre[1] + s.radius * n
        scale = s.radius * step / 2 * WEIGHTS
        total += _integrals(x, y, -n * scale, c * scale)
    return total


def _integrals(x: np.ndarray, y: np.ndarray, dx: np.ndarray, dy: np.ndarray) -> np.ndarray:
    return np.array(
        [
            np.sum(x * dy - y * dx) / 2,
            np.sum(x * x * dy) / 2,
            -np.sum(y * y * dx) / 2,
            np.sum(x**3 * dy) / 3,
            -np.sum(y**3 * dx) / 3,
            np.sum(x * x * y * dy) / 2,
        ]
    )


def turned(of: Section, angle: float) -> tuple[float, float]:
    """Return second moments about axes turned anticlockwise by ``angle`` [rad, mm4]."""
    c, s = cos(2 * angle), sin(2 * angle)
    mean, half = (of.ix + of.iy) / 2, (of.ix - of.iy) / 2
    return mean + half * c - of.ixy * s, mean - half * c + of.ixy * s
