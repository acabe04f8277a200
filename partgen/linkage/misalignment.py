"""Joint misalignment: the angle between a link and the plane square to its bolt.

beta = asin |u . b|, u along the link, b along the bolt. Between ears (half gap g, ear radius r) a
link of half width h touches an ear where h / cos beta + r tan beta = g, a housing of half width hw
and radius rh where hw cos beta + rh sin beta = g; the smaller root counts. Plane geometry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import acos, asin, atan2, degrees, hypot, radians

import numpy as np

from partgen.linkage.axle import Vec
from partgen.linkage.points import End, Link

MOST = 90.0
TURN = 45.0  # degrees a bolt is turned or tilted at most; common practice, no source
TRIED = 361  # turns tried to see which cases matter


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

    def tightest(self, given: float, lean: float) -> Tightest | None:
        """Return the limit that leaves the least, or None where nothing is known.

        Args:
            given: what the joint has to give [degrees].
            lean: between the link and the plane square to its bolt [degrees].
        """
        named = [
            (self.joint, given, "joint"),
            (self.link, lean, "link on ear"),
            (self.housing, given, "housing on ear"),
        ]
        known = [Tightest(limit, asked, what) for limit, asked, what in named if limit is not None]
        return min(known, key=lambda t: t.limit - t.demand) if known else None


@dataclass(frozen=True)
class Tightest:
    """The limit that leaves the least.

    Attributes:
        limit: what is allowed [degrees].
        demand: what is asked of it [degrees].
        what: joint, link on ear, or housing on ear.
    """

    limit: float
    demand: float
    what: str


def limits(link: Link, end: End) -> Limits:
    """Return what one end of a link allows."""
    joint = end.joint.max_misalignment if end.joint else None
    touch = housing = None
    if end.half_gap is not None and end.ear is not None:
        touch = link_limit(end.half_gap, half_width(link, end, end.ear), end.ear)
    if end.half_gap is not None and end.joint is not None and end.joint.housing_width is not None:
        housing = housing_limit(
            end.half_gap, end.joint.housing_width / 2, end.joint.body_diameter / 2
        )
    return Limits(joint, touch, housing)


def half_width(link: Link, end: End, at: float) -> float:
    """Return half the link's width ``at`` [mm] along it from the joint's centre [mm]."""
    if end.shank_diameter is None:
        return link.tube / 2
    neck, reach = end.shank_diameter / 2, at - end.to_tube
    if reach <= 0 or link.tube / 2 <= neck:
        return neck
    share = min(1.0, reach / link.shoulder) if link.shoulder else 1.0
    return neck + (link.tube / 2 - neck) * share


@dataclass(frozen=True)
class Better:
    """A bolt turned, or tilted, so that its misalignment is least.

    Attributes:
        angle: to turn it by [degrees].
        left: misalignment that is left [degrees].
    """

    angle: float
    left: float


def best_turn(ends: Sequence[tuple[Vec, Vec]], axis: Vec, most: float = TURN) -> Better:
    """Return the one turn of the bolts that evens their misalignment.

    Exact: the greatest of |a cos t + c sin t + s| over the cases is least where two of them are
    equal, where one alone is least, or at the end of what is allowed.

    Args:
        ends: for each bolt, unit vectors along the link as the bolt's carrier sees them, one row
            for each case (n, 3), and the unit vector along the bolt as it lies now (3,).
        axis: unit vector they are turned about (3,).
        most: greatest turn either way [degrees].
    """
    terms = [_terms(ways, bolt, axis) for ways, bolt in ends]
    still, a, c = (np.concatenate([term[k] for term in terms]) for k in range(3))

    def asked(t: Vec) -> Vec:
        sines: Vec = np.abs(still + np.outer(np.cos(t), a) + np.outer(np.sin(t), c))
        return sines

    tried = np.linspace(-radians(most), radians(most), TRIED)
    some = np.unique(np.argmax(asked(tried), axis=1))  # only these are ever the greatest
    t = np.concatenate([np.zeros(1), tried[[0, -1]], *_candidates(still[some], a[some], c[some])])
    t = (t + np.pi / 2) % np.pi - np.pi / 2
    t = t[np.abs(t) <= radians(most) + 1e-12]
    worst = np.max(asked(t), axis=1)
    least = float(np.min(worst))
    k = min(np.flatnonzero(worst <= least + 1e-9), key=lambda i: abs(t[i]))
    return Better(degrees(float(t[k])), degrees(asin(min(1.0, float(worst[k])))))


def _candidates(still: Vec, a: Vec, c: Vec) -> list[Vec]:
    """Return turns at which two cases are equal, or one is nothing or at its own extreme [rad]."""
    rows, columns = np.triu_indices(len(a), 1)
    found = [_where(a, c, still), np.arctan2(c, a)]
    for sign in (1.0, -1.0):
        found.append(_where(*(v[rows] - sign * v[columns] for v in (a, c, still))))
    return found


def _terms(ways: Vec, bolt: Vec, axis: Vec) -> tuple[Vec, Vec, Vec]:
    """Return s, a, c of way . bolt = s + a cos t + c sin t, the bolt turned by t about the axis."""
    along = float(bolt @ axis) * axis
    return ways @ along, ways @ (bolt - along), ways @ np.cross(axis, bolt)


def _where(a: Vec, c: Vec, s: Vec) -> Vec:
    """Return every t with a cos t + c sin t + s = 0 [rad]."""
    size = np.hypot(a, c)
    ok = (size > 1e-15) & (np.abs(s) <= size)
    first = np.arctan2(c[ok], a[ok])
    half = np.arccos(np.clip(-s[ok] / size[ok], -1.0, 1.0))
    both: Vec = np.concatenate([first + half, first - half])
    return both
