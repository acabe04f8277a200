"""Where a link's frame end would have to be for a wanted angle at full bump (plane geometry)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians, sin

from partgen.entries.rail import Rail
from partgen.linkage.study import Study


@dataclass(frozen=True)
class Drop:
    """A link's frame end for a wanted side angle at full bump.

    Attributes:
        link: label of the link.
        angle: at full bump as it is [degrees].
        lower: how far to lower the frame end; negative to raise it [mm].
        below_rail: how far it is then below the rail's lower edge; None off a mount [mm].
    """

    link: str
    angle: float
    lower: float
    below_rail: float | None


def drop_for(length: float, axle_height: float, angle: float) -> float:
    """Return the height of the frame end at which a link has a side angle [mm].

    Args:
        length: of the link to centres [mm].
        axle_height: of its axle end, at the wanted position [mm].
        angle: axle end above frame end positive [degrees].

    Examples:
        >>> abs(round(drop_for(36.0, 3.0, 4.780192), 4))  # 36 in link, 3 in up at the axle
        0.0
    """
    return axle_height - length * sin(radians(angle))


def drops(study: Study, angle: float, rails: Mapping[str, Rail]) -> list[Drop]:
    """Return the drop that each link along the vehicle needs; left and single links.

    Args:
        study: the linkage.
        angle: wanted at full bump, axle end above frame end positive [degrees].
        rails: frame members by name.
    """
    bump = next(s for s in study.named if s.case.name == "full bump")
    found = []
    for state in bump.links:
        link = state.link
        if link.side == "right" or link.lateral:
            continue
        height = drop_for(link.length, float(state.end[2]), angle)
        lower = float(state.start[2]) - height
        held = link.frame.seated
        rail = rails.get(held.bracket.rail) if held else None
        below = rail.room(held.seat.at) + lower if held and rail else None
        found.append(Drop(link.label, state.side_angle, lower, below))
    return found
