"""How a link turns at the bolt that holds it, in the side view of that bolt's part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, copysign, degrees

import numpy as np

from partgen.geometry.outline import Outline
from partgen.linkage.axle import Vec
from partgen.linkage.bracket import Seated
from partgen.linkage.points import End, Layout, Link
from partgen.linkage.swing import Range, silhouette
from partgen.linkage.travel import LinkState, State


@dataclass(frozen=True)
class Turning:
    """A link as it turns at one of its ends.

    Attributes:
        link: the link.
        which: "frame" or "axle": the end it turns about.
        seated: the hole that holds it.
        range: how far it turns.
        shape: its silhouette, bolt at (0, 0), link along +x [mm].
        aside: least and most that it moves outward per length along it [-].
        leans: its direction and how much it leans out of its ears' plane, by state [degrees].
        square: the same seen square to ears that lean; None where they do not.
    """

    link: Link
    which: str
    seated: Seated
    range: Range
    shape: Outline
    aside: tuple[float, float]
    leans: tuple[tuple[float, float], ...]
    square: Turning | None = None

    @property
    def lean(self) -> float:
        """The most it leans out of the plane of its ears [degrees]."""
        return max(lean for _, lean in self.leans)

    @property
    def end(self) -> End:
        """The end it turns about."""
        return self.link.frame if self.which == "frame" else self.link.axle

    @property
    def pivot(self) -> tuple[float, float]:
        """The bolt in the part's side view [mm]."""
        return self.seated.seat.at

    @property
    def half(self) -> float:
        """Half its width [mm]."""
        return self.link.tube / 2

    @property
    def most_aside(self) -> float:
        """How far it moves sideways per length along it, at most [-]."""
        return max(abs(share) for share in self.aside)


def turnings(points: Layout, states: Sequence[State]) -> list[Turning]:
    """Return every link at every hole of a part that holds it and about which it turns."""
    found = []
    for link in points.links:
        mine = [state.link(link.label) for state in states]
        for which, end in (("frame", link.frame), ("axle", link.axle)):
            one_piece = which == "axle" and link.fixed
            if end.seated is None or end.spot.lever is not None or one_piece:
                continue
            names, held = [s.case.name for s in states], end.seated
            turn = _turning(points, link, which, held, (mine, names, held.axes))
            if held.bracket.mount and held.bracket.mount.ear_angle:
                square = _turning(points, link, which, held, (mine, names, held.ears))
                turn = replace(turn, square=square)
            found.append(turn)
    return found


def _turning(
    points: Layout,
    link: Link,
    which: str,
    held: Seated,
    seen: tuple[Sequence[LinkState], Sequence[str], Vec],
) -> Turning:
    """Return how a link turns; ``seen`` are its states, their cases, and the axes of the view."""
    mine, names, axes = seen
    end = link.frame if which == "frame" else link.axle
    ways = _ways(mine, which, axes)
    turns = _range(ways, names, points.entry.margin)
    outward = copysign(1.0, held.point[1] * axes[1, 1])
    shares = outward * ways[:, 1] / np.hypot(ways[:, 0], ways[:, 2])
    aside = float(np.min(shares)), float(np.max(shares))
    shape = silhouette(link, end, _beside_mount(link, end, aside, points.entry.clearance))
    leans = [s.frame_lean if which == "frame" else s.axle_misalignment for s in mine]
    pairs = tuple(zip(_angles(ways), leans, strict=True))
    return Turning(link, which, held, turns, shape, aside, pairs)


def _ways(mine: Sequence[LinkState], which: str, axes: Vec) -> Vec:
    """Return the link's direction away from the bolt, in those axes, by state (n, 3)."""
    turns = [s.frame_turn if which == "frame" else s.axle_turn for s in mine]
    sign = 1.0 if which == "frame" else -1.0
    return np.array([sign * axes.T @ t.T @ s.way for s, t in zip(mine, turns, strict=True)])


def _angles(ways: Vec) -> list[float]:
    """Return directions in the side view; none half a turn or more from the first [degrees]."""
    angles = [degrees(atan2(way[2], way[0])) for way in ways]
    return [angles[0] + (angle - angles[0] + 180) % 360 - 180 for angle in angles]


def _range(ways: Vec, names: Sequence[str], margin: float) -> Range:
    """Return how far a link turns in the side view, over all states; ride is the first."""
    angles = _angles(ways)
    ride = angles[0]
    turns = [angle - ride for angle in angles]
    low, high = int(np.argmin(turns)), int(np.argmax(turns))
    return Range(ride, turns[low], turns[high], names[low], names[high], margin)


def _beside_mount(link: Link, end: End, aside: tuple[float, float], clearance: float) -> float:
    """Return how much of a link, seen from the side, is near the plane of its mount [mm].

    A link that runs off sideways leaves what stands between the ears behind: it counts up to where
    it is clear of the gap by its own half width and the clearance, in the straightest position.
    """
    least = 0.0 if aside[0] <= 0 <= aside[1] else min(abs(share) for share in aside)
    if end.half_gap is None or least <= 0:
        return link.length
    return min(link.length, (end.half_gap + link.tube / 2 + clearance) / least)
