"""How far a link turns at its mount, in the rail's side view, and what it nears there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot

import numpy as np

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.fit.mount import Mount
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.linkage.axle import Vec
from partgen.linkage.entry import LinkageEntry
from partgen.linkage.obstacle import Obstacle, bolt_heads, declared, rail_obstacle
from partgen.linkage.points import MIRROR, Layout, Link
from partgen.linkage.swing import Nearest, Range, nearest, silhouette
from partgen.linkage.travel import State
from partgen.linkage.trimming import Trim, Turning, trim_for
from partgen.plates.plate import Plate


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
        placed: parts whose place in the mount's side view is known, as obstacles, by mount.
        beside: parts that belong to a mount and stand in its gap, by mount.
    """

    mounts: Mapping[str, Mount]
    rails: Mapping[str, Rail]
    joints: Mapping[str, Joint]
    plates: Sequence[Plate] = ()
    beside: Mapping[str, Sequence[str]] | None = None
    placed: Mapping[str, Sequence[Obstacle]] | None = None


def swings(
    points: Layout, states: Sequence[State], around: Surroundings
) -> tuple[list[MountSwing], dict[str, Trim]]:
    """Return what every link does at its mount, and how parts in the way are cut back.

    Raises:
        GeometryError: a part cannot be cut back enough.
    """
    entry = points.entry
    turning: dict[str, list[tuple[Link, Range, Turning]]] = {}
    for link in points.links:
        if link.frame.mount is not None and link.frame.spot.lever is None:
            mount = around.mounts[link.frame.mount]
            turning.setdefault(mount.name, []).append(_turning(points, link, states, mount))
    found: list[MountSwing] = []
    trims: dict[str, Trim] = {}
    for name, links in turning.items():
        things, cut = _things(entry, around, name, [t for _, _, t in links])
        trims |= cut
        placed = {thing.part for thing in entry.obstacle}
        beside = (around.beside or {}).get(name, ())
        unplaced = tuple(part for part in beside if part not in placed)
        for link, turns, t in links:
            near = tuple(nearest(t.shape, t.pivot, t.first, t.last, things))
            found.append(MountSwing(link, name, turns, t.shape, near, unplaced))
    return found, trims


def _turning(
    points: Layout, link: Link, states: Sequence[State], mount: Mount
) -> tuple[Link, Range, Turning]:
    axes = points.places[mount.rail][1]
    if link.side == "right":
        axes = MIRROR[:, None] * axes
    turns = _range(link, states, axes, points.entry.margin)
    ways = [axes.T @ state.link(link.label).way for state in states]
    aside = [abs(float(way[1])) / hypot(way[0], way[2]) for way in ways]
    reach = _beside_mount(link, min(aside), points.entry.clearance)
    shape = silhouette(link, link.frame, reach)
    turning = Turning(shape, mount.pivot, turns.first, turns.last, link.tube / 2, max(aside))
    return link, turns, turning


def _things(
    entry: LinkageEntry, around: Surroundings, name: str, turnings: Sequence[Turning]
) -> tuple[list[Obstacle], dict[str, Trim]]:
    """Return what is in the way at a mount, with what is trimmed cut back already."""
    mount = around.mounts[name]
    rail = around.rails[mount.rail]
    things = [rail_obstacle(rail, mount.rail), *bolt_heads(mount, around.plates, rail)]
    trims: dict[str, Trim] = {}
    for thing in entry.obstacle:
        if thing.mount != name:
            continue
        plate, *more = declared(thing, rail, around.plates)
        if thing.trim and thing.part and thing.line:
            line = (thing.line[0], thing.line[1])
            notch = thing.trim == "notch"
            trim = trim_for(line, plate.half, turnings, entry.clearance, notch)
            if trim is not None:
                trims[thing.part] = trim
                plate = replace(plate, segments=(_first(line, trim.kept),))
        things += [plate, *more]
    things += (around.placed or {}).get(name, ())
    return things, trims


def _first(line: tuple[Point, Point], length: float) -> Segment:
    """Return the first ``length`` of a line."""
    whole = Segment(*line[0], *line[1])
    return Segment(*line[0], *whole.at(length / whole.chord))


def _range(link: Link, states: Sequence[State], axes: Vec, margin: float) -> Range:
    """Return how far a link turns in its rail's side view, over all states."""
    ways = [axes.T @ state.link(link.label).way for state in states]
    angles = [degrees(atan2(way[2], way[0])) for way in ways]
    ride = angles[0]
    turns = [(angle - ride + 180) % 360 - 180 for angle in angles]
    low, high = int(np.argmin(turns)), int(np.argmax(turns))
    names = [state.case.name for state in states]
    return Range(ride, turns[low], turns[high], names[low], names[high], margin)


def _beside_mount(link: Link, aside: float, clearance: float) -> float:
    """Return how much of a link, seen from the side, is near the plane of its mount [mm].

    A link that runs off sideways leaves what stands between the ears behind: it counts up to where
    it is clear of the gap by its own half width and the clearance, in the straightest position.

    Args:
        link: the link.
        aside: least sideways per length along it, over the travel [-].
        clearance: to keep [mm].
    """
    if link.frame.half_gap is None or aside <= 0:
        return link.length
    return min(link.length, (link.frame.half_gap + link.tube / 2 + clearance) / aside)
