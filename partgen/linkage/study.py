"""Everything a linkage comes to: its cases, what holds it, its centres, what mounts must clear."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import atan2, degrees, dist

import numpy as np

from partgen.errors import GeometryError, nearest
from partgen.linkage.arm_centres import ArmCentres, arm_centres
from partgen.linkage.cases import grid, named_cases, sweeps
from partgen.linkage.centres import Centres, centres
from partgen.linkage.ends import EndStudy, end_studies, with_edges
from partgen.linkage.entry import LinkageEntry, ObstacleEntry
from partgen.linkage.hold import Hold
from partgen.linkage.mount_swing import MountSwing, Surroundings, Trims, edges, swings
from partgen.linkage.points import Layout, layout
from partgen.linkage.travel import State, Travel
from partgen.linkage.turning import turnings

TRIANGLE = 40.0  # degrees in all between a triangulated pair; common practice, no source
SAME_HEIGHT = 1.0  # mm
BOUND = 1e-6  # mm; a misfit above this binds


@dataclass(frozen=True)
class Study:
    """A linkage worked through.

    Attributes:
        layout: its points.
        holds: what holds the axle, or each arm.
        named: ride, full bump, full droop, twist both ways.
        states: those and the grid between them.
        heave: states of pure heave, in order.
        roll: states of pure roll, in order.
        centres: of a beam axle at ride; None for arms.
        arm: centres of the left arm at ride; None for a beam axle.
        ends: both ends of every link.
        swings: of every link at a mount.
        triangles: plan angle between the links of each pair by name [degrees].
        trims: how parts in the way are cut back, by part.
    """

    layout: Layout
    holds: tuple[Hold, ...]
    named: tuple[State, ...]
    states: tuple[State, ...]
    heave: tuple[State, ...]
    roll: tuple[State, ...]
    centres: Centres | None
    arm: ArmCentres | None
    ends: tuple[EndStudy, ...]
    swings: tuple[MountSwing, ...]
    triangles: Mapping[str, float]
    trims: Trims

    @property
    def entry(self) -> LinkageEntry:
        """What the job file says."""
        return self.layout.entry

    @property
    def misfit(self) -> float:
        """Greatest distance by which a link is not met, over all states [mm]."""
        return max(s.misfit for s in (*self.states, *self.heave, *self.roll))

    @property
    def relative(self) -> float:
        """The same over the shortest link [-]."""
        return max(s.relative for s in (*self.states, *self.heave, *self.roll))

    @property
    def binds(self) -> State | None:
        """Where the links ask most of rubber or metal; None if they all keep their length."""
        worst = max(self.states, key=lambda s: s.misfit)
        return worst if worst.misfit > BOUND else None

    def at_mount(self, name: str) -> list[MountSwing]:
        """Return what every link at a mount does there."""
        return [swing for swing in self.swings if swing.mount == name]

    @property
    def needs_triangle(self) -> bool:
        """A beam axle that only triangulated links hold sideways."""
        links = self.layout.links
        return self.entry.axle == "beam" and not any(k.lateral or k.fixed for k in links)


def study(entry: LinkageEntry, around: Surroundings) -> Study:
    """Return a linkage worked through.

    Args:
        entry: ``[linkage]``.
        around: mounts, rails, joints and plates of the job.

    Raises:
        GeometryError: points are wrong, something is not held, or the links cannot reach.
    """
    problems = _wrong_names(entry, around)
    try:
        points = layout(entry, around.brackets, around.joints)
    except GeometryError as error:
        raise GeometryError([*problems, *error.problems]) from None
    travel = Travel(points)
    holds = travel.holds()
    problems += _loose(holds)
    if problems:
        raise GeometryError(list(dict.fromkeys(problems)))
    named = travel.states(named_cases(entry))
    states = [*named, *travel.states(grid(entry))]
    heave, roll = (travel.states(cases) for cases in sweeps(entry))
    ends = end_studies(points, states)
    turning, trims = swings(entry, turnings(points, states), around)
    return Study(
        layout=points,
        holds=tuple(holds),
        named=tuple(named),
        states=tuple(states),
        heave=tuple(heave),
        roll=tuple(roll),
        centres=_centres(travel),
        arm=None if travel.beam else arm_centres(travel.bodies[0], entry),
        ends=tuple(with_edges(ends, edges(turning))),
        swings=tuple(turning),
        triangles=_triangles(points),
        trims=trims,
    )


def _wrong_names(entry: LinkageEntry, around: Surroundings) -> list[str]:
    parts = {plate.part for plate in around.plates}
    problems = []
    for name in entry.rail:
        if name not in around.rails:
            problems.append(f"rail.{name}: no such rail in this job")
    for name in entry.place:
        if name not in around.brackets:
            problems.append(
                f"place.{name}: no such part with a bolt hole; {nearest(name, around.brackets)}"
            )
    for k, thing in enumerate(entry.obstacle, 1):
        if thing.mount not in around.brackets:
            problems.append(
                f"obstacle[{k}]: mount = '{thing.mount}': no such part with a bolt hole; "
                f"{nearest(thing.mount, around.brackets)}"
            )
        if thing.part is not None and thing.part not in parts:
            problems.append(
                f"obstacle[{k}]: part = '{thing.part}': no such part, or no plate of it"
            )
        elif thing.trim in ("edge", "notch"):
            problems += [f"obstacle[{k}]: {line}" for line in _wrong_height(thing, around)]
    return problems


def _wrong_height(thing: ObstacleEntry, around: Surroundings) -> list[str]:
    """Return what is wrong with the line of a part that is to be trimmed."""
    mine = [p for p in around.plates if p.part == thing.part]
    if any(p.bends for p in mine):
        return [
            f"part '{thing.part}' is bent and is not trimmed along a line; leave out trim, then "
            "check says how near the link comes, where and when"
        ]
    height = max(p.outline.box[3] for p in mine)
    long = dist(*thing.line) if thing.line else 0.0
    if abs(long - height) <= SAME_HEIGHT:
        return []
    return [
        f"line is {long:.4g} mm long, but part '{thing.part}' is {height:.4g} mm high from its "
        "edge at the rail; to be trimmed the line shows it all"
    ]


def _loose(holds: Iterable[Hold]) -> list[str]:
    return [
        f"the axle is not held: {', '.join(hold.loose)} ({hold.text}); "
        "add a link, a lateral bar, or triangulate a pair"
        for hold in holds
        if hold.loose
    ]


def _centres(travel: Travel) -> Centres | None:
    if not travel.beam:
        return None
    entry, body = travel.layout.entry, travel.bodies[0]
    ground = None if entry.tyre_radius is None else entry.wheel[2] - entry.tyre_radius
    return centres(body, np.zeros(body.size), ground, entry.wheelbase, entry.cg_height)


def _triangles(points: Layout) -> dict[str, float]:
    """Return the plan angle between left and right of each pair that runs along the vehicle."""
    found = {}
    for link in points.links:
        if link.side == "left" and not link.lateral:
            along = link.axle.spot.point - link.frame.spot.point
            found[link.name] = 2 * degrees(atan2(abs(along[1]), abs(along[0])))
    return found
