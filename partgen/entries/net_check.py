"""Redundancy check of point-to-point readings by least squares.

The points are fitted to all readings. Each reading more than the points need is a spare: with none,
nothing can be checked; with one, a bad reading is noticed but not told from the others; with more,
the readings of the largest normalised residual are suspects. Nothing is ever corrected: a suspect
is measured again. Method: adjustment of observations and normalised residuals (W. Baarda, A Testing
Procedure for Use in Geodetic Networks, 1968, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, degrees, sqrt

import numpy as np
from numpy.typing import NDArray

from partgen.entries.net import Net
from partgen.errors import GeometryError

Array = NDArray[np.float64]
MOST_SUSPECTS = 3
STEPS = 200
CONTROLLED = 1e-6  # least share of a reading's error that shows in its residual
STARTS = 12  # places to start the fit from


@dataclass(frozen=True)
class Residual:
    """One reading against the fitted points.

    Attributes:
        start: point.
        end: point.
        reading: as typed [mm].
        residual: reading less fitted distance [mm].
        normalised: residual by its own spread, in tolerances; None where nothing checks it.
        error: how far off the reading would be if it alone were bad; None likewise [mm].
    """

    start: str
    end: str
    reading: float
    residual: float
    normalised: float | None
    error: float | None


@dataclass(frozen=True)
class NetCheck:
    """What the readings of a net say of each other.

    Attributes:
        spare: readings more than the points need.
        misfit: root of the squared residuals over the spares [mm]; 0 without spares.
        tolerance: what the misfit may be [mm].
        residuals: one for each reading, in the order typed.
        skew: angle at the first point of ``square``, less 90 degrees; None if not asked for.
        points: fitted places by name, free to turn and mirror [mm].
    """

    spare: int
    misfit: float
    tolerance: float
    residuals: list[Residual]
    skew: float | None
    points: dict[str, tuple[float, ...]]

    @property
    def consistent(self) -> bool:
        """Tell whether no normalised residual is over one tolerance, as far as there are spares."""
        return all((r.normalised or 0.0) <= 1.0 + 1e-9 for r in self.residuals)

    @property
    def suspects(self) -> list[Residual]:
        """The readings to measure again first; none where no reading can be told from another."""
        if self.consistent or self.spare < 2:
            return []
        ranked = sorted(
            (r for r in self.residuals if r.normalised is not None),
            key=lambda r: -(r.normalised or 0.0),
        )
        return ranked[:MOST_SUSPECTS]

    @property
    def verdict(self) -> str:
        """Say in words what the readings show."""
        if self.spare == 0:
            return "no spare reading: nothing can be checked; add a diagonal"
        if self.consistent:
            return "readings agree within the tolerance"
        if self.spare == 1:
            return (
                "a reading is bad, but one spare cannot tell which: measure again, or add a point "
                "with distances to all others"
            )
        return "a reading is bad: measure the suspects again; nothing was corrected"


def check_net(net: Net) -> NetCheck:
    """Return what the readings of a net say of each other.

    Raises:
        GeometryError: the readings do not hold the points together.
    """
    names = net.points
    index = {name: k for k, name in enumerate(names)}
    ends = np.array([[index[a], index[b]] for a, b, _ in net.readings])
    lengths = np.array([length for _, _, length in net.readings])
    places = _fit(ends, lengths, len(names), net.dimensions)
    jacobian, distances = _linear(places, ends)
    unknowns = _unknowns(len(names), net.dimensions)
    rank = int(np.linalg.matrix_rank(jacobian, tol=1e-7)) if len(ends) else 0
    if rank < unknowns:
        raise GeometryError(
            f"{len(names)} points need {unknowns} readings that hold them together, these hold "
            f"{rank}; add diagonals"
        )
    v = lengths - distances
    spare = len(lengths) - rank
    share = 1.0 - np.einsum("ij,ji->i", jacobian, np.linalg.pinv(jacobian))
    residuals = [
        _residual(reading, float(off), float(part), net.tolerance)
        for reading, off, part in zip(net.readings, v, share, strict=True)
    ]
    return NetCheck(
        spare=spare,
        misfit=sqrt(float(v @ v) / spare) if spare else 0.0,
        tolerance=net.tolerance,
        residuals=residuals,
        skew=_skew(places, [index[p] for p in net.square]) if net.square else None,
        points={name: tuple(map(float, places[k])) for name, k in index.items()},
    )


def _unknowns(points: int, dimensions: int) -> int:
    """Return how many distances fix a net of points, free to move and turn."""
    k = min(points - 1, dimensions)  # points span at most this many dimensions
    return points * k - k * (k + 1) // 2


def _residual(
    reading: tuple[str, str, float], off: float, part: float, tolerance: float
) -> Residual:
    a, b, length = reading
    if part < CONTROLLED:
        return Residual(a, b, length, off, None, None)
    return Residual(a, b, length, off, abs(off) / sqrt(part) / tolerance, off / part)


def _fit(ends: Array, lengths: Array, count: int, dimensions: int) -> Array:
    """Return the places that fit the readings best, tried from several starts."""
    start = _scaled(ends, lengths, count, dimensions)
    spread = float(lengths.max())
    noise = np.random.default_rng(1)
    best, least = start, np.inf
    for attempt in range(STARTS):
        shaken = start + (noise.normal(0.0, 0.2 * spread, start.shape) if attempt else 0.0)
        places, misfit = _gauss_newton(shaken, ends, lengths)
        if misfit < least - 1e-9:
            best, least = places, misfit
        if least < 1e-9:
            break
    return best


def _scaled(ends: Array, lengths: Array, count: int, dimensions: int) -> Array:
    """Return first places by classical scaling; unread distances by the shortest way round."""
    far = np.full((count, count), np.inf)
    np.fill_diagonal(far, 0.0)
    far[ends[:, 0], ends[:, 1]] = far[ends[:, 1], ends[:, 0]] = lengths
    for k in range(count):
        far = np.minimum(far, far[:, k : k + 1] + far[k : k + 1, :])
    if not np.isfinite(far).all():
        raise GeometryError("the readings do not join all points; measure across the groups")
    centre = np.eye(count) - 1.0 / count
    values, vectors = np.linalg.eigh(-0.5 * centre @ far**2 @ centre)
    top = np.argsort(values)[::-1][:dimensions]
    places = vectors[:, top] * np.sqrt(np.maximum(values[top], 0.0))
    wide = np.zeros((count, dimensions))
    wide[:, : places.shape[1]] = places
    return wide


def _gauss_newton(places: Array, ends: Array, lengths: Array) -> tuple[Array, float]:
    """Return fitted places and the sum of squared residuals, by damped Gauss-Newton steps."""
    damping = 1e-3
    jacobian, distances = _linear(places, ends)
    misfit = float(np.sum((lengths - distances) ** 2))
    for _ in range(STEPS):
        normal = jacobian.T @ jacobian
        step = np.linalg.solve(
            normal + damping * np.eye(len(normal)), jacobian.T @ (lengths - distances)
        )
        trial = places + step.reshape(places.shape)
        trial_jacobian, trial_distances = _linear(trial, ends)
        trial_misfit = float(np.sum((lengths - trial_distances) ** 2))
        if trial_misfit <= misfit:
            places, jacobian, distances = trial, trial_jacobian, trial_distances
            misfit, damping = trial_misfit, max(damping / 5, 1e-12)
            if float(np.abs(step).max()) < 1e-10 * float(lengths.max()):
                break
        else:
            damping *= 4
            if damping > 1e12:
                break
    return places, misfit


def _linear(places: Array, ends: Array) -> tuple[Array, Array]:
    """Return the change of each distance with each coordinate, and the distances."""
    arms = places[ends[:, 0]] - places[ends[:, 1]]
    distances = np.sqrt(np.sum(arms**2, axis=1))
    ways = arms / np.maximum(distances, 1e-12)[:, None]
    jacobian = np.zeros((len(ends), *places.shape))
    rows = np.arange(len(ends))
    jacobian[rows, ends[:, 0]] = ways
    jacobian[rows, ends[:, 1]] = -ways
    return jacobian.reshape(len(ends), -1), distances


def _skew(places: Array, corners: list[int]) -> float:
    """Return the angle at the first corner less 90 degrees."""
    a, b, _, d = (places[k] for k in corners)
    u, v = b - a, d - a
    size = float(np.linalg.norm(u) * np.linalg.norm(v))
    if size < 1e-9:
        raise GeometryError("square: two of its points lie in one place")
    return degrees(acos(max(-1.0, min(1.0, float(u @ v) / size)))) - 90.0
