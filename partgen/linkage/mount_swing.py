"""How far a link turns at its mount, in the rail's side view, and what it nears there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import atan2, degrees, hypot

import numpy as np

from partgen.joint import Joint
from partgen.linkage.axle import Vec
from partgen.linkage.obstacle import bolt_heads, declared, rail_obstacle
from partgen.linkage.points import MIRROR, Layout, Link
from partgen.linkage.swing import Nearest, Range, nearest, silhouette
from partgen.linkage.travel import State
from partgen.mount import Mount
from partgen.outline import Outline
from partgen.plate import Plate
from partgen.rail import Rail


@dataclass(frozen=True)
class MountSwing:
    """What a link does at its mount.

    Attributes:
        link: the link.
        mount: the mount.
        range: how far it turns.
        shape: its silhouette, the bolt at (0, 0) and the link along +x [mm].
        nearest: to each obstacle.
        unplaced: parts of this mount whose place the linkage does not know.
    """

    link: Link
    mount: str
    range: Range
    shape: Outline
    nearest: tuple[Nearest, ...]
    unplaced: tuple[str, ...]


@dataclass(frozen=True)
class Surroundings:
    """What the job holds round the links.

    Attributes:
        mounts: link mounts by name.
        rails: frame members by name.
        joints: joints by name.
        plates: every plate.
        beside: parts that belong to a mount and stand in its gap, by mount.
    """

    mounts: Mapping[str, Mount]
    rails: Mapping[str, Rail]
    joints: Mapping[str, Joint]
    plates: Sequence[Plate] = ()
    beside: Mapping[str, Sequence[str]] | None = None


def swings(points: Layout, states: Sequence[State], around: Surroundings) -> list[MountSwing]:
    """Return what every link does at its mount."""
    entry, found = points.entry, []
    for link in points.links:
        if link.frame.mount is None or link.frame.spot.lever is not None:
            continue
        mount = around.mounts[link.frame.mount]
        rail = around.rails[mount.rail]
        axes = points.places[mount.rail][1]
        if link.side == "right":
            axes = MIRROR[:, None] * axes
        turns = _range(link, states, axes, entry.margin)
        things = [rail_obstacle(rail, mount.rail), *bolt_heads(mount, around.plates, rail)]
        for thing in entry.obstacle:
            if thing.mount == mount.name:
                things += declared(thing, rail, around.plates)
        shape = silhouette(link, link.frame, _under_rail(link, states, axes, entry.clearance))
        near = nearest(shape, mount.pivot, turns.first, turns.last, things)
        placed = {thing.part for thing in entry.obstacle}
        beside = (around.beside or {}).get(mount.name, ())
        unplaced = tuple(part for part in beside if part not in placed)
        found.append(MountSwing(link, mount.name, turns, shape, tuple(near), unplaced))
    return found


def _range(link: Link, states: Sequence[State], axes: Vec, margin: float) -> Range:
    """Return how far a link turns in its rail's side view, over all states."""
    ways = [axes.T @ state.link(link.label).way for state in states]
    angles = [degrees(atan2(way[2], way[0])) for way in ways]
    ride = angles[0]
    turns = [(angle - ride + 180) % 360 - 180 for angle in angles]
    low, high = int(np.argmin(turns)), int(np.argmax(turns))
    names = [state.case.name for state in states]
    return Range(ride, turns[low], turns[high], names[low], names[high], margin)


def _under_rail(link: Link, states: Sequence[State], axes: Vec, clearance: float) -> float:
    """Return how much of a link, seen from the side, is near the plane of its mount [mm].

    A link that runs off sideways leaves what stands between the ears behind: it counts up to where
    it is clear of the gap by its own half width and the clearance, in the straightest position.
    """
    if link.frame.half_gap is None:
        return link.length
    ways = [axes.T @ state.link(link.label).way for state in states]
    aside = min(abs(float(way[1])) / hypot(way[0], way[2]) for way in ways)
    beside = link.frame.half_gap + link.tube / 2 + clearance
    return min(link.length, beside / aside) if aside > 0 else link.length
