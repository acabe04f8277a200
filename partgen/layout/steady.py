"""Numbers rounded so that their last bits, which differ between machines, decide nothing.

A box side that is 57 mm may come out as 56.99999999999999 mm elsewhere. A search that breaks a tie
by that goes another way and ends in another layout. So all that goes into the search is rounded
here first; sums on the way are ``math.fsum``, the same in any order and any version of Python.
"""

from __future__ import annotations

from math import floor

import numpy as np

PER_MM = 1e7  # steps a mm: far above the noise, far below what any check asks
PER_MM2 = 1e4  # steps a mm2, of areas
BIAS = 0.4637  # where a number goes up: no half and no fraction of an inch lies there


def ticks(value: float, per: float = PER_MM) -> int:
    """Return ``value`` as a whole number of steps, ``per`` a unit.

    Examples:
        >>> ticks(0.1 + 0.2) == ticks(0.3)
        True
    """
    return floor(value * per + BIAS)


def ticks_each(values: np.ndarray, per: float = PER_MM) -> np.ndarray:
    """Return each of ``values`` as a whole number of steps, ``per`` a unit."""
    return np.floor(values * per + BIAS).astype(np.int64)


def steady(value: float, per: float = PER_MM) -> float:
    """Return ``value`` rounded to whole steps.

    Examples:
        >>> steady(56.99999999999999)
        57.0
    """
    return ticks(value, per) / per


def steady_points(points: np.ndarray) -> np.ndarray:
    """Return coordinates rounded to whole steps [mm]."""
    return np.asarray(ticks_each(points) / PER_MM)
