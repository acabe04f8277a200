"""The linkage in its cases: where the axle goes, and every link with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import acos, atan2, degrees

import numpy as np

from partgen.linkage.axle import PITCH, ROLL, YAW, Anchor, Body, Rod, Vec, X, Y, Z
from partgen.linkage.bracket import MIRROR
from partgen.linkage.cases import Case
from partgen.linkage.hold import Hold, hold
from partgen.linkage.misalignment import misalignment
from partgen.linkage.points import Layout, Link
from partgen.linkage.solve import Solution, solve

HINGE = 100.0  # mm, from a pivot to the second point of its hinge; any length does


@dataclass(frozen=True)
class LinkState:
    """A link in one case.

    Attributes:
        link: the link.
        start: its end at the frame (3,) [mm].
        end: its end at the axle (3,) [mm].
        frame_turn: how its bolt at the frame has turned since ride (3, 3).
        axle_turn: how its bolt at the axle has turned (3, 3).
    """

    link: Link
    start: Vec
    end: Vec
    frame_turn: Vec
    axle_turn: Vec

    @cached_property
    def way(self) -> Vec:
        """Unit vector from the frame to the axle (3,)."""
        away = self.end - self.start
        unit: Vec = away / np.linalg.norm(away)
        return unit

    @property
    def side_angle(self) -> float:
        """In the side view, axle end above the frame's end positive [degrees]."""
        return degrees(atan2(self.way[2], abs(self.way[0])))

    @property
    def rear_angle(self) -> float:
        """In the rear view, axle end above the frame's end positive [degrees]."""
        return degrees(atan2(self.way[2], abs(self.way[1])))

    @property
    def plan_angle(self) -> float:
        """Off straight fore and aft, seen from above, outward at the axle positive [degrees]."""
        out = -1.0 if self.link.side == "right" else 1.0
        return degrees(atan2(out * self.way[1], abs(self.way[0])))

    @property
    def frame_lean(self) -> float:
        """Angle between the link and the plane square to its bolt at the frame [degrees]."""
        return misalignment(self.frame_turn.T @ self.way, self.link.frame.bolt)

    @property
    def frame_misalignment(self) -> float:
        """What the joint at the frame has to give [degrees].

        Where the link is one piece with the axle, its housing was welded square to the bolt at
        ride, and only what has turned since counts.
        """
        if not self.link.fixed:
            return self.frame_lean
        bolt = self.link.frame.bolt
        return degrees(acos(min(1.0, abs(float((self.axle_turn @ bolt) @ bolt)))))

    @property
    def axle_misalignment(self) -> float:
        """What the joint at the axle has to give; nothing where it is one piece [degrees]."""
        if self.link.fixed:
            return 0.0
        return misalignment(self.axle_turn.T @ self.way, self.link.axle.bolt)


@dataclass(frozen=True)
class State:
    """The linkage in one case.

    Attributes:
        case: where the wheels are.
        motions: of the axle, or of the left and the right arm (size,) [mm, rad].
        links: every link.
        misfit: by how much the links are not met, where they hold the axle twice over [mm].
        relative: the same over the shortest link [-].
    """

    case: Case
    motions: tuple[Vec, ...]
    links: tuple[LinkState, ...]
    misfit: float
    relative: float

    def link(self, label: str) -> LinkState:
        """Return a link by its label."""
        return next(s for s in self.links if s.link.label == label)

    @property
    def shift(self) -> Vec:
        """Of the axle's centre, or of the left wheel (3,) [mm]."""
        moved: Vec = self.motions[0][[X, Y, Z]]
        return moved

    @property
    def steer(self) -> float:
        """Axle, or left wheel, turned to the left [degrees]."""
        return degrees(float(self.motions[0][YAW]))

    @property
    def pinion(self) -> float:
        """Nose of the axle turned up since ride [degrees]."""
        return -degrees(float(self.motions[0][PITCH]))

    @property
    def roll(self) -> float:
        """Axle, or left wheel, rolled: left side up [degrees]."""
        return degrees(float(self.motions[0][ROLL]))

    @property
    def camber(self) -> float:
        """Of the left wheel, top outward positive (ISO 8855) [degrees]."""
        return -self.roll


class Travel:
    """A linkage that can be put into cases.

    Args:
        layout: its points.
    """

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.track = 2 * layout.entry.wheel[1]
        self.beam = layout.entry.axle == "beam"
        self.bodies = self._beam() if self.beam else self._arms()

    def holds(self) -> list[Hold]:
        """Return what holds each body."""
        wanted = (Z, ROLL) if self.beam else (Z,)
        return [hold(body, wanted) for body in self.bodies]

    def states(self, cases: Iterable[Case]) -> list[State]:
        """Return the linkage in each case.

        Raises:
            GeometryError: the links cannot reach.
        """
        return [self.state(case) for case in cases]

    def state(self, case: Case) -> State:
        """Return the linkage in one case.

        Raises:
            GeometryError: the links cannot reach.
        """
        solutions = self._solutions(case)
        worst = max(solutions, key=lambda s: s.misfit)
        motions = tuple(s.q for s in solutions)
        links = tuple(self._link_state(link, motions) for link in self.layout.links)
        return State(case, motions, links, worst.misfit, worst.relative)

    def _solutions(self, case: Case) -> list[Solution]:
        if self.beam:
            (body,) = self.bodies
            return [solve(body, {Z: case.heave, ROLL: case.roll(self.track)})]
        travels = (case.left, case.right)
        return [solve(body, {Z: z}) for body, z in zip(self.bodies, travels, strict=True)]

    def _link_state(self, link: Link, motions: tuple[Vec, ...]) -> LinkState:
        number = 0 if self.beam or link.side != "right" else 1
        body, q = self.bodies[number], motions[number]
        frame, axle = link.frame.spot, link.axle.spot
        return LinkState(
            link=link,
            start=body.place(frame, q)[0],
            end=body.place(axle, q)[0],
            frame_turn=body.turn(frame, q),
            axle_turn=body.turn(axle, q),
        )

    def _beam(self) -> list[Body]:
        entry = self.layout.entry
        centre = np.array(entry.wheel) * [1.0, 0.0, 1.0]
        rods = tuple(
            Rod(link.label, link.frame.spot, link.axle.spot)
            for link in self.layout.links
            if not link.fixed
        )
        anchors = tuple(
            Anchor(link.label, link.frame.spot.point) for link in self.layout.links if link.fixed
        )
        return [Body(centre, rods, anchors, self.layout.levers, entry.wheel[1])]

    def _arms(self) -> list[Body]:
        wheel = np.array(self.layout.entry.wheel)
        bodies = []
        for side, centre in (("left", wheel), ("right", wheel * MIRROR)):
            anchors: list[Anchor] = []
            for link in self.layout.links:
                if link.side == side:
                    pivot, bolt = link.frame.spot.point, link.frame.bolt
                    anchors += [Anchor(link.label, pivot + HINGE * s * bolt) for s in (1, -1)]
            bodies.append(Body(centre, (), tuple(anchors), (), self.layout.entry.wheel[1]))
        return bodies
