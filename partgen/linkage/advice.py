"""Where a link's frame end would have to be for a wanted side angle at full bump.

The frame end is lowered, the link made to its new length at ride, and the whole linkage moved to
full bump again, until the link has the angle there (secant steps from plane geometry).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import radians, tan

import numpy as np

from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.linkage.points import End, Layout, Link
from partgen.linkage.study import Study
from partgen.linkage.travel import State, Travel

STEPS = 40
CLOSE = 1e-7  # degrees
BUMP = "full bump"


@dataclass(frozen=True)
class Drop:
    """A link's frame end for a wanted side angle at full bump.

    Attributes:
        link: label of the link.
        angle: at full bump as it is [degrees].
        lower: how far to lower the frame end; negative to raise it; None where that cannot be [mm].
        below_rail: how far it is then below the rail's lower edge; None off a mount [mm].
    """

    link: str
    angle: float
    lower: float | None
    below_rail: float | None


def drops(study: Study, angle: float, rails: Mapping[str, Rail]) -> list[Drop]:
    """Return the drop that each link along the vehicle needs; left and single links.

    Args:
        study: the linkage.
        angle: wanted at full bump, axle end above frame end positive [degrees].
        rails: frame members by name.
    """
    bump = next(s for s in study.named if s.case.name == BUMP)
    found = []
    for state in bump.links:
        link = state.link
        if link.side == "right" or link.lateral:
            continue
        lower = _lower(study.layout, bump, link, angle)
        below = None if lower is None else _below_rail(link.frame, lower, rails)
        found.append(Drop(link.label, state.side_angle, lower, below))
    return found


def _lower(layout: Layout, bump: State, link: Link, angle: float) -> float | None:
    """Return how far to lower a frame end; None where the linkage cannot follow [mm]."""

    def miss(lower: float) -> float:
        moved = Travel(_lowered(layout, link.name, lower)).state(bump.case)
        return moved.link(link.label).side_angle - angle

    state = bump.link(link.label)
    away = state.end - state.start
    last, here = 0.0, abs(float(away[0])) * tan(radians(angle)) - float(away[2])
    try:
        before, now = miss(last), miss(here)
        for _ in range(STEPS):
            if abs(now) <= CLOSE:
                return here
            if now == before:
                return None
            last, here, before = here, here - now * (here - last) / (now - before), now
            now = miss(here)
    except GeometryError:
        return None
    return None


def _lowered(layout: Layout, name: str, lower: float) -> Layout:
    links = tuple(
        replace(link, frame=_end_lowered(link.frame, lower)) if link.name == name else link
        for link in layout.links
    )
    return replace(layout, links=links)


def _end_lowered(end: End, lower: float) -> End:
    point = end.spot.point - np.array([0.0, 0.0, lower])
    return replace(end, spot=replace(end.spot, point=point))


def _below_rail(end: End, lower: float, rails: Mapping[str, Rail]) -> float | None:
    held = end.seated
    if held is None or held.bracket.rail not in rails:
        return None
    x, _, y = held.axes.T @ np.array([0.0, 0.0, -lower])
    return rails[held.bracket.rail].room((held.seat.at[0] + float(x), held.seat.at[1] + float(y)))
