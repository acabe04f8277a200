"""Instant centre, roll axis and anti-squat from the motion the links allow; information only.

The heave motion (no roll) turns about the side-view instant centre; the roll motion (no heave of
the axle's centre) turns about the roll axis, read in the plane y = 0. Both come from the null space
of the links' constraints, so any layout is covered. Anti-squat, for a beam axle driven at the rear:
AS = (e / d)(L / h), instant centre e above the ground and d ahead of the tyre's contact, wheelbase
L, centre of gravity h high (published as the line of no squat and no rise, slope h / L).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, hypot

import numpy as np

from partgen.linkage.axle import PITCH, ROLL, YAW, Body, Vec, X, Y, Z, turn_axes

LEVEL = 1e-9  # rad per mm; an axle that turns less than this in heave does not turn
MET = 1e-6  # share of a motion that the links may refuse and still allow it


@dataclass(frozen=True)
class Centres:
    """Centres of an axle's motion in one position.

    Attributes:
        instant_centre: side view (x, z) [mm]; None where the axle does not turn in heave.
        heave_slope: fore-aft shift per heave of the axle's centre [-].
        roll_centre: height of the roll axis above the axle centre's x, in vehicle axes [mm].
        roll_axis_slope: rise of the roll axis per length forward [-].
        anti_squat: share; None where there are no figures for it [-].
    """

    instant_centre: tuple[float, float] | None
    heave_slope: float
    roll_centre: float | None
    roll_axis_slope: float | None
    anti_squat: float | None

    @property
    def roll_axis_angle(self) -> float | None:
        """Slope of the roll axis, up forward [degrees]."""
        return None if self.roll_axis_slope is None else degrees(atan(self.roll_axis_slope))


def centres(
    body: Body,
    q: Vec,
    ground: float | None = None,
    wheelbase: float | None = None,
    cg_height: float | None = None,
) -> Centres:
    """Return the centres of ``body`` in motion ``q``.

    Args:
        body: a beam axle.
        q: where it is (size,) [mm, rad].
        ground: height of the ground in vehicle axes, at ride [mm].
        wheelbase: to the axle ahead [mm].
        cg_height: above the ground [mm].
    """
    place = body.centre + q[:3]
    heave, turn, _ = rates(body, q, Z, ROLL)
    centre = _instant_centre(place, heave, turn)
    roll_at, slope = _roll_axis(body, q, place)
    squat = None
    if centre is not None and None not in (ground, wheelbase, cg_height):
        d, e = centre[0] - place[0], centre[1] - (ground or 0.0)
        squat = (e / d) * ((wheelbase or 0.0) / (cg_height or 1.0)) if abs(d) > 1e-9 else None
    return Centres(centre, float(heave[0]), roll_at, slope, squat)


def rates(body: Body, q: Vec, driven: int, still: int | None = None) -> tuple[Vec, Vec, bool]:
    """Return velocity and turning rate (3,) of the motion with ``driven`` at rate 1.

    ``still`` is a coordinate that is held, if any. The last value tells whether the links allow it.
    """
    _, slopes = body.misfit(q)
    loose = [k for k in range(body.size) if k not in (driven, still)]
    weights = body.weights[loose]
    scaled, push = slopes[:, loose] / weights, slopes[:, driven]
    answer = np.linalg.lstsq(scaled, -push, rcond=1e-9)[0]
    against = float(np.linalg.norm(scaled @ answer + push))
    rate = np.zeros(body.size)
    rate[driven] = 1.0
    rate[loose] = answer / weights
    axes = turn_axes(q)
    turn = rate[YAW] * axes[0] + rate[PITCH] * axes[1] + rate[ROLL] * axes[2]
    return rate[[X, Y, Z]], turn, against <= MET * max(1.0, float(np.linalg.norm(push)))


def _instant_centre(place: Vec, velocity: Vec, turn: Vec) -> tuple[float, float] | None:
    if abs(turn[1]) <= LEVEL * max(1.0, hypot(*velocity)):
        return None
    return float(place[0] + velocity[2] / turn[1]), float(place[2] - velocity[0] / turn[1])


def _roll_axis(body: Body, q: Vec, place: Vec) -> tuple[float | None, float | None]:
    """Return height above the axle centre's x and slope of the line that roll turns about."""
    velocity, turn, met = rates(body, q, ROLL, Z)
    if not met:
        return None, None
    return float(place[2] + velocity[1] / turn[0]), float(turn[2] / turn[0])
