"""Points of a linkage in vehicle axes: measured, or a bolt hole of a part that has its place.

Both sides come from one entry: the right link of a pair is the left one mirrored (y to -y).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import radians

import numpy as np

from partgen.entries.joint import Joint
from partgen.errors import GeometryError, nearest
from partgen.linkage.axle import Lever, Spot, Vec, turned
from partgen.linkage.bracket import MIRROR, Bracket, Seated, named, placed, seated
from partgen.linkage.entry import AxisName, LinkageEntry, LinkEnd, LinkEntry

AXES: dict[AxisName, tuple[float, float, float]] = {
    "lateral": (0.0, 1.0, 0.0),
    "fore-aft": (1.0, 0.0, 0.0),
    "upright": (0.0, 0.0, 1.0),
}


@dataclass(frozen=True)
class End:
    """One end of a link, at ride.

    Attributes:
        spot: its point and what carries it.
        bolt: unit vector of the bolt's axis (3,).
        joint: the joint, if known.
        seated: the hole of a part that holds it, if one does.
        half_gap: half the clear distance between the ears, if known [mm].
        ear: radius of the ears, if known [mm].
        shank: joint's centre to the end of its thread; None for a tube welded on [mm].
        engaged: thread in the tube [mm].
        shank_diameter: of the shank [mm].
    """

    spot: Spot
    bolt: Vec
    joint: Joint | None
    seated: Seated | None
    half_gap: float | None
    ear: float | None
    shank: float | None
    engaged: float
    shank_diameter: float | None

    @property
    def mount(self) -> str | None:
        """Name of the part that holds it, if one does."""
        return self.seated.bracket.name if self.seated else None

    @property
    def to_tube(self) -> float:
        """From the joint's centre to the end of the tube [mm]; 0 with no joint."""
        if self.shank is not None:
            return self.shank - self.engaged
        return self.joint.body_diameter / 2 if self.joint else 0.0


@dataclass(frozen=True)
class Link:
    """A link at ride.

    Attributes:
        name: of its entry.
        side: "left", "right", or "" where it is single.
        frame: end at the frame.
        axle: end at the axle.
        tube: outside diameter [mm].
        wall: of the tube; 0 where it is not known [mm].
        shoulder: length of the tube's taper [mm].
        fixed: one piece with the axle or hub.
    """

    name: str
    side: str
    frame: End
    axle: End
    tube: float
    wall: float
    shoulder: float
    fixed: bool

    @property
    def label(self) -> str:
        """Name and side."""
        return f"{self.name}/{self.side}" if self.side else self.name

    @property
    def length(self) -> float:
        """Length to centres [mm]."""
        return float(np.linalg.norm(self.axle.spot.point - self.frame.spot.point))

    @property
    def tube_length(self) -> float:
        """Length to cut the tube, square ends [mm]."""
        return self.length - self.frame.to_tube - self.axle.to_tube

    @property
    def lateral(self) -> bool:
        """More across the vehicle than along it."""
        along = self.axle.spot.point - self.frame.spot.point
        return bool(abs(along[1]) > abs(along[0]))


@dataclass(frozen=True)
class Layout:
    """All points of a linkage at ride.

    Attributes:
        entry: what the job file says.
        links: both sides.
        levers: levers that links sit on.
        places: placed rails by name: origin (3,) and axes (3, 3), columns x, y, z of the side view.
    """

    entry: LinkageEntry
    links: tuple[Link, ...]
    levers: tuple[Lever, ...]
    places: dict[str, tuple[Vec, Vec]]


def layout(
    entry: LinkageEntry, brackets: Mapping[str, Bracket], joints: Mapping[str, Joint]
) -> Layout:
    """Return the points of a linkage.

    Args:
        entry: ``[linkage]``.
        brackets: the job's parts that may hold links, by name.
        joints: the job's joints by name.

    Raises:
        GeometryError: an end names something that is not there, or a link has no room for a tube.
    """
    problems: list[str] = []
    levers = list(entry.lever)
    links: list[Link] = []
    for link in entry.link:
        ends: dict[str, End] = {}
        for which, end in (("frame", link.frame), ("axle", link.axle)):
            try:
                ends[which] = _end(entry, end, which == "axle", brackets, joints, levers)
            except GeometryError as error:
                problems += [f'link "{link.name}".{which}: {line}' for line in error.problems]
        if len(ends) == 2:
            try:
                links += _both(link, ends["frame"], ends["axle"])
            except GeometryError as error:
                problems += [f'link "{link.name}": {line}' for line in error.problems]
    if problems:
        raise GeometryError(problems)
    places = {name: placed(place) for name, place in entry.rail.items()}
    made = [
        Lever(name, np.array(e.pivot), np.array(AXES[e.bolt_axis]), e.on == "axle")
        for name, e in entry.lever.items()
    ]
    return Layout(entry, tuple(links), tuple(made), places)


def _end(
    entry: LinkageEntry,
    end: LinkEnd,
    on_axle: bool,
    brackets: Mapping[str, Bracket],
    joints: Mapping[str, Joint],
    levers: list[str],
) -> End:
    lever: int | None = None
    if end.lever is not None:
        named("lever", end.lever, entry.lever)
        lever = levers.index(end.lever)
        on_axle = entry.lever[end.lever].on == "axle"
    axes, half_gap, ear = np.eye(3), end.gap and end.gap / 2, end.ear_radius
    joint: Joint | None = None
    held: Seated | None = None
    if end.mount is None:
        point = np.array(end.at)
    else:
        held = seated(entry, _bracket(end.mount, brackets), end.hole, on_axle)
        bracket, mount = held.bracket, held.bracket.mount
        half_gap = half_gap or (mount.ear_gap / 2 if mount else None)
        ear = ear or held.seat.ear
        joint = bracket.joint
        point, axes = held.point, held.ears
    if end.joint is not None:
        joint = named("joint", end.joint, joints)
    return End(
        spot=Spot(point, on_axle, lever),
        bolt=_bolt(axes @ np.array(AXES[end.bolt_axis]), end),
        joint=joint,
        seated=held,
        half_gap=half_gap,
        ear=ear,
        shank=end.shank,
        engaged=end.engaged or 0.0,
        shank_diameter=end.shank_diameter,
    )


def _bracket(name: str, brackets: Mapping[str, Bracket]) -> Bracket:
    if name not in brackets:
        raise GeometryError(f"mount = '{name}': no such part; {nearest(name, brackets)}")
    return brackets[name]


def _bolt(axis: Vec, end: LinkEnd) -> Vec:
    """Return the bolt's axis, tilted about x, then turned about z."""
    x, _, z = np.eye(3)
    turned_axis: Vec = turned(z, radians(end.turn)) @ turned(x, radians(end.tilt)) @ axis
    return turned_axis


def _both(entry: LinkEntry, frame: End, axle: End) -> list[Link]:
    side = "left" if entry.pair else ""
    link = Link(entry.name, side, frame, axle, entry.tube, entry.wall, entry.shoulder, entry.fixed)
    if link.length < 1.0:
        raise GeometryError("both ends are at one point; check them")
    if link.tube_length <= 0:
        raise GeometryError(
            f"{link.length:g} mm to centres leaves no tube between the joints; "
            "check ends and shanks"
        )
    if not entry.pair:
        return [link]
    if frame.spot.point[1] < 0 or axle.spot.point[1] < 0:
        raise GeometryError(
            "the link of a pair is typed for the left side, y of both ends at least 0; "
            "set pair = false for a single link"
        )
    return [link, replace(link, side="right", frame=_mirrored(frame), axle=_mirrored(axle))]


def _mirrored(end: End) -> End:
    spot = replace(end.spot, point=end.spot.point * MIRROR)
    held = end.seated and end.seated.mirrored()
    return replace(end, spot=spot, bolt=end.bolt * MIRROR, seated=held)
