"""Where a body goes when some of its coordinates are given: link lengths kept exactly.

Least-squares steps with exact slopes, walked out from ride in small moves so that the links never
jump over to their other side. A body held twice over cannot meet every length: what is left is the
misfit that rubber, or a bent bracket, would have to give.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from partgen.errors import GeometryError
from partgen.linkage.axle import Body, Vec

STEPS = 60
MOVE = 25.0  # mm, or its like in angle, of one move out from ride
STILL = 1e-9  # mm; a step smaller than this is the last


@dataclass(frozen=True)
class Solution:
    """A motion that the links allow.

    Attributes:
        q: coordinates (size,) [mm, rad].
        misfit: greatest distance by which a link or pivot is not met [mm].
        relative: the same, over the shortest link [-].
    """

    q: Vec
    misfit: float
    relative: float


def solve(
    body: Body, given: Mapping[int, float], held: Sequence[int] = (), start: Vec | None = None
) -> Solution:
    """Return the motion with the ``given`` coordinates.

    Args:
        body: the axle and its links.
        given: coordinate number to its value [mm, rad].
        held: coordinates kept at zero and not solved for.
        start: a motion near by; default ride.

    Raises:
        GeometryError: the links cannot reach.
    """
    q = np.zeros(body.size) if start is None else start.copy()
    fixed = {**dict.fromkeys(held, 0.0), **given}
    loose = [k for k in range(body.size) if k not in fixed]
    weights = body.weights
    far = max((abs(v - q[k]) * weights[k] for k, v in fixed.items()), default=0.0)
    moves = max(1, int(np.ceil(far / MOVE)))
    first = {k: float(q[k]) for k in fixed}
    for step in range(1, moves + 1):
        for k, value in fixed.items():
            q[k] = first[k] + (value - first[k]) * step / moves
        _settle(body, q, loose, weights[loose])
    values, _ = body.misfit(q)
    shortest = min((rod.length for rod in body.rods), default=body.half_track)
    worst = float(np.max(np.abs(values)))
    return Solution(q, worst, worst / shortest)


def _settle(body: Body, q: Vec, loose: list[int], weights: Vec) -> None:
    """Move the loose coordinates of ``q``, in place, to the least misfit."""
    scale = max(body.half_track, 1.0)
    for _ in range(STEPS):
        values, slopes = body.misfit(q)
        try:
            step = np.linalg.lstsq(slopes[:, loose] / weights, -values, rcond=1e-9)[0]
        except np.linalg.LinAlgError:
            break
        size = float(np.linalg.norm(step))
        if not np.isfinite(size):
            break
        q[loose] += step / weights * min(1.0, scale / max(size, scale))
        if size <= STILL:
            return
    raise GeometryError(
        "the links cannot follow the whole travel: they run out of reach; "
        "check the points, or ask for less bump, droop or roll"
    )
