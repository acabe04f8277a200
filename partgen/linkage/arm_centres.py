"""Instant centres and roll centre of a wheel on its own arm, from the motion the arm allows.

The arm turns about its bolts' line. Seen from behind, in the plane across through the wheel's
centre, the wheel turns about the point where that line pierces the plane; the roll centre is where
the line from the tyre's contact through that point, square to the contact's way, meets the middle
of the vehicle (Gillespie, Fundamentals of Vehicle Dynamics, ch. 7; Milliken, Race Car Vehicle
Dynamics, ch. 17; both from memory). Side view likewise. Anti-squat of a driven arm with its drive
unit on the frame: the line of no squat is raised by the loaded tyre's radius r,
AS = ((e - r) / d)(L / h). Information only.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from partgen.linkage.axle import Body, Vec, X, Z
from partgen.linkage.centres import rates
from partgen.linkage.entry import LinkageEntry

STILL = 1e-9  # of the wheel's travel; what moves less does not move
TURNING = 1e-9  # rad per mm; an arm that turns less about an axis does not turn about it


@dataclass(frozen=True)
class ArmCentres:
    """Centres of the left wheel's motion at ride, in vehicle axes.

    Attributes:
        side: instant centre in side view (x, z); None where it has none [mm].
        rear: instant centre in rear view (y, z); None where it has none [mm].
        roll_centre: height in the middle of the vehicle; None with no tyre radius [mm].
        camber: per travel of the wheel, top outward positive, ISO 8855 [degrees per mm].
        steer: per travel of the wheel, to the left positive [degrees per mm].
        anti_squat: share, drive unit on the frame; None where there are no figures for it [-].
    """

    side: tuple[float, float] | None
    rear: tuple[float, float] | None
    roll_centre: float | None
    camber: float
    steer: float
    anti_squat: float | None


def arm_centres(body: Body, entry: LinkageEntry) -> ArmCentres:
    """Return the centres of the left wheel's arm at ride.

    Args:
        body: the arm, its centre the wheel's.
        entry: ``[linkage]``.
    """
    velocity, turn, _ = rates(body, np.zeros(body.size), Z)
    x, y, z = body.centre
    rear = side = None
    if abs(turn[0]) > TURNING:
        rear = float(y - velocity[2] / turn[0]), float(z + velocity[1] / turn[0])
    if abs(turn[1]) > TURNING:
        side = float(x + velocity[2] / turn[1]), float(z - velocity[0] / turn[1])
    return ArmCentres(
        side=side,
        rear=rear,
        roll_centre=_roll_centre(body, velocity, turn, entry.tyre_radius),
        camber=-float(np.degrees(turn[0])),
        steer=float(np.degrees(turn[2])),
        anti_squat=_anti_squat(side, body.centre, entry),
    )


def _roll_centre(body: Body, velocity: Vec, turn: Vec, radius: float | None) -> float | None:
    """Return where the line square to the way of the tyre's contact meets the middle [mm]."""
    if radius is None:
        return None
    down = np.array([0.0, 0.0, -radius])
    way = velocity + np.cross(turn, down)
    if abs(way[2]) <= STILL:
        return None
    return float(body.centre[2] - radius + way[1] * body.centre[1] / way[2])


def _anti_squat(side: tuple[float, float] | None, wheel: Vec, entry: LinkageEntry) -> float | None:
    if side is None or None in (entry.tyre_radius, entry.wheelbase, entry.cg_height):
        return None
    d, above_hub = side[0] - wheel[X], side[1] - wheel[Z]
    if abs(d) < STILL:
        return None
    return float(above_hub / d * (entry.wheelbase or 0.0) / (entry.cg_height or 1.0))
