"""The axle as a rigid body on links of fixed length: by how much they are not met, and its slopes.

A motion has six coordinates, zero at ride: x, y, z [mm] of the body's centre, yaw, pitch, roll
[rad] (ISO 8855), then one angle [rad] for each lever. Rotations: R = Rz(yaw) Ry(pitch) Rx(roll).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

import numpy as np
from numpy.typing import NDArray

Vec = NDArray[np.float64]
X, Y, Z, YAW, PITCH, ROLL = range(6)
SHORTEST = 1e-6  # mm; a link never has both ends at one point, a guess may
LEVER_ARM = 100.0  # mm; only weighs a lever's angle against lengths


@dataclass(frozen=True)
class Lever:
    """A body on one bolt.

    Attributes:
        name: of the lever.
        pivot: at ride (3,) [mm].
        axis: unit vector of its bolt at ride (3,).
        on_axle: whether the axle carries it; else the frame.
    """

    name: str
    pivot: Vec
    axis: Vec
    on_axle: bool


@dataclass(frozen=True)
class Spot:
    """A point and what carries it.

    Attributes:
        point: at ride (3,) [mm].
        on_axle: moves with the axle (or a lever on it); else with the frame.
        lever: number of the lever it sits on, or None.
    """

    point: Vec
    on_axle: bool
    lever: int | None = None


@dataclass(frozen=True)
class Rod:
    """A link: the distance between two spots stays.

    Attributes:
        name: of the link.
        frame: its end at the frame.
        axle: its end at the axle.
    """

    name: str
    frame: Spot
    axle: Spot

    @property
    def length(self) -> float:
        """Length to centres [mm]."""
        return float(np.linalg.norm(self.axle.point - self.frame.point))


@dataclass(frozen=True)
class Anchor:
    """A point of the axle that stays where it is on the frame: the pivot of a trailing arm.

    Attributes:
        name: of the arm.
        point: the pivot (3,) [mm].
    """

    name: str
    point: Vec


@dataclass(frozen=True)
class Body:
    """An axle, or a wheel's arm, and all that holds it.

    Attributes:
        centre: its reference point at ride (3,) [mm].
        rods: links.
        anchors: pivots of arms that are one piece with it.
        levers: levers that links sit on.
        half_track: weighs angles against lengths [mm].
    """

    centre: Vec
    rods: tuple[Rod, ...] = ()
    anchors: tuple[Anchor, ...] = ()
    levers: tuple[Lever, ...] = ()
    half_track: float = 1000.0

    @property
    def size(self) -> int:
        """How many coordinates a motion has."""
        return 6 + len(self.levers)

    @property
    def weights(self) -> Vec:
        """What turns each coordinate into a length (size,) [mm per coordinate]."""
        return np.array([1.0] * 3 + [self.half_track] * 3 + [LEVER_ARM] * len(self.levers))

    def place(self, spot: Spot, q: Vec) -> tuple[Vec, Vec]:
        """Return where a spot is (3,) [mm] and how it moves with each coordinate (3, size)."""
        way = np.zeros((3, self.size))
        point = spot.point
        turn_by: Vec | None = None
        if spot.lever is not None:
            lever = self.levers[spot.lever]
            arm = turned(lever.axis, float(q[6 + spot.lever])) @ (point - lever.pivot)
            point = lever.pivot + arm
            turn_by = cross(lever.axis, arm)
        if spot.on_axle:
            matrix = rotation(q)
            arm = matrix @ (point - self.centre)
            point = self.centre + q[:3] + arm
            way[:, :3] = np.eye(3)
            for k, axis in enumerate(turn_axes(q)):
                way[:, YAW + k] = cross(axis, arm)
            turn_by = None if turn_by is None else matrix @ turn_by
        if turn_by is not None and spot.lever is not None:
            way[:, 6 + spot.lever] = turn_by
        return point, way

    def turn(self, spot: Spot, q: Vec) -> Vec:
        """Return how a spot's carrier has turned since ride (3, 3)."""
        turn = rotation(q) if spot.on_axle else np.eye(3)
        if spot.lever is not None:
            turn = turn @ turned(self.levers[spot.lever].axis, float(q[6 + spot.lever]))
        return turn

    def misfit(self, q: Vec) -> tuple[Vec, Vec]:
        """Return how far each constraint is from being met (n,) [mm] and its slopes (n, size)."""
        values: list[Vec] = []
        slopes: list[Vec] = []
        for rod in self.rods:
            (start, a), (end, b) = self.place(rod.frame, q), self.place(rod.axle, q)
            away = end - start
            length = max(float(np.linalg.norm(away)), SHORTEST)
            values.append(np.array([length - rod.length]))
            slopes.append((away / length)[None, :] @ (b - a))
        for anchor in self.anchors:
            point, way = self.place(Spot(anchor.point, True), q)
            values.append(point - anchor.point)
            slopes.append(way)
        return np.concatenate(values), np.vstack(slopes)


def cross(a: Vec, b: Vec) -> Vec:
    """Return the cross product of two vectors (3,); numpy's own is slow on single ones."""
    return np.array(
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    )


def rotation(q: Vec) -> Vec:
    """Return the body's rotation (3, 3) in a motion."""
    x, y, z = np.eye(3)
    return turned(z, float(q[YAW])) @ turned(y, float(q[PITCH])) @ turned(x, float(q[ROLL]))


def turn_axes(q: Vec) -> tuple[Vec, Vec, Vec]:
    """Return the axes that yaw, pitch and roll turn about in a motion, each (3,)."""
    x, y, z = np.eye(3)
    about_z = turned(z, float(q[YAW]))
    return z, about_z @ y, about_z @ turned(y, float(q[PITCH])) @ x


def turned(axis: Vec, angle: float) -> Vec:
    """Return the rotation (3, 3) about a unit ``axis`` by ``angle`` [rad], right-handed."""
    x, y, z = axis
    c, s = cos(angle), sin(angle)
    v = 1.0 - c
    return np.array(
        [
            [c + x * x * v, x * y * v - z * s, x * z * v + y * s],
            [x * y * v + z * s, c + y * y * v, y * z * v - x * s],
            [x * z * v - y * s, y * z * v + x * s, c + z * z * v],
        ]
    )
