"""Joint misalignment: the angle between a link and the plane square to its bolt.

beta = asin |u . b|, u along the link, b along the bolt. Between ears (half gap g, ear radius r) a
link of half width h touches an ear where h / cos beta + r tan beta = g, a housing of half width hw
and radius rh where hw cos beta + rh sin beta = g; the smaller root counts. Plane geometry.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, asin, atan2, degrees, hypot

import numpy as np

from partgen.linkage.axle import Vec
from partgen.linkage.points import End, Link

MOST = 90.0


def misalignment(direction: Vec, bolt: Vec) -> float:
    """Return the misalignment [degrees].

    Args:
        direction: unit vector along the link (3,).
        bolt: unit vector along the bolt (3,).
    """
    return degrees(asin(min(1.0, abs(float(direction @ bolt)))))


def link_limit(half_gap: float, half_width: float, ear: float) -> float:
    """Return the misalignment at which a link touches the edge of an ear [degrees].

    Args:
        half_gap: half the clear distance between the ears [mm].
        half_width: of the link where it passes the ear's edge [mm].
        ear: radius of the ear about the bolt [mm].

    Examples:
        >>> round(link_limit(1.3125, 1.0, 1.25), 2)
        12.91
    """
    if half_width >= half_gap:
        return 0.0
    return degrees(acos(half_width / hypot(half_gap, ear)) - atan2(ear, half_gap))


def housing_limit(half_gap: float, half_width: float, radius: float) -> float:
    """Return the misalignment at which a joint's housing touches an ear [degrees].

    Args:
        half_gap: half the clear distance between the ears [mm].
        half_width: of the housing along the bolt [mm].
        radius: of the housing [mm].

    Examples:
        >>> round(housing_limit(1.3125, 1.125, 1.0), 2)
        12.32
    """
    if half_width >= half_gap:
        return 0.0
    corner = hypot(half_width, radius)
    if corner <= half_gap:
        return MOST
    return degrees(atan2(radius, half_width) - acos(half_gap / corner))


@dataclass(frozen=True)
class Limits:
    """What a link's end allows.

    Attributes:
        joint: the joint's own limit; None where it is not known [degrees].
        link: where the link touches an ear; None where the ears are not known [degrees].
        housing: where the housing touches an ear; None where it is not known [degrees].
    """

    joint: float | None
    link: float | None
    housing: float | None

    @property
    def least(self) -> tuple[float, str] | None:
        """The least of them and what it is, or None where nothing is known."""
        named = [
            (self.joint, "joint"),
            (self.link, "link on ear"),
            (self.housing, "housing on ear"),
        ]
        known = [(value, name) for value, name in named if value is not None]
        return min(known) if known else None


def limits(link: Link, end: End) -> Limits:
    """Return what one end of a link allows."""
    joint = end.joint.max_misalignment if end.joint else None
    touch = housing = None
    if end.half_gap is not None and end.ear is not None:
        touch = link_limit(end.half_gap, _half_width(link, end), end.ear)
    if end.half_gap is not None and end.joint is not None and end.joint.housing_width is not None:
        housing = housing_limit(
            end.half_gap, end.joint.housing_width / 2, end.joint.body_diameter / 2
        )
    return Limits(joint, touch, housing)


def _half_width(link: Link, end: End) -> float:
    """Return half the link's width where it passes the ear's edge [mm]."""
    if end.shank_diameter is None:
        return link.tube / 2
    neck, reach = end.shank_diameter / 2, (end.ear or 0.0) - end.to_tube
    if reach <= 0 or link.tube / 2 <= neck:
        return neck
    share = min(1.0, reach / link.shoulder) if link.shoulder else 1.0
    return neck + (link.tube / 2 - neck) * share


def best_turn(ways: Vec, bolt: Vec, axis: Vec) -> tuple[float, float]:
    """Return the turn of a bolt that evens its misalignment, and the greatest that is left.

    Exact: the greatest of |a cos t + c sin t| over the cases is least where two of them are equal,
    or where one alone is least.

    Args:
        ways: unit vectors along the link, one row for each case (n, 3).
        bolt: unit vector along the bolt as it lies now (3,).
        axis: unit vector it is turned about (3,).

    Returns:
        Turn about ``axis`` [degrees, -90 to 90] and misalignment [degrees].
    """
    along = float(bolt @ axis) * axis
    still = ways @ along
    a, c = ways @ (bolt - along), ways @ np.cross(axis, bolt)
    turns = [0.0, *np.arctan2(-a, c)]
    for sign in (1.0, -1.0):
        rows, columns = np.triu_indices(len(a), 1)
        da, dc = a[rows] - sign * a[columns], c[rows] - sign * c[columns]
        ds = still[rows] - sign * still[columns]
        turns += list(_where(da, dc, ds))
    t = (np.array(turns) + np.pi / 2) % np.pi - np.pi / 2
    worst = np.max(np.abs(still + np.outer(np.cos(t), a) + np.outer(np.sin(t), c)), axis=1)
    least = float(np.min(worst))
    k = min(np.flatnonzero(worst <= least + 1e-12), key=lambda i: abs(t[i]))
    return degrees(float(t[k])), degrees(asin(min(1.0, float(worst[k]))))


def _where(a: Vec, c: Vec, s: Vec) -> Vec:
    """Return every t with a cos t + c sin t + s = 0 [rad]."""
    size = np.hypot(a, c)
    ok = (size > 1e-15) & (np.abs(s) <= size)
    first = np.arctan2(c[ok], a[ok])
    half = np.arccos(np.clip(-s[ok] / size[ok], -1.0, 1.0))
    both: Vec = np.concatenate([first + half, first - half])
    return both
