"""What the links hold and what they leave free, at ride: by the rank of their constraints.

An axle on links should have two motions left, heave and roll; an arm for one wheel should have one,
heave. A motion more, and something is not held; a constraint more, and something binds unless
rubber gives. Source: rank and null space of the constraint slopes (linear algebra).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from partgen.linkage.axle import ROLL, Body, Vec, Z

MOTIONS = ("fore-aft", "sideways", "heave", "steer", "pinion turn", "roll")
RANK = 1e-7  # a singular value smaller than this share of the greatest is none
WEAK = 0.05  # a motion held by less than this share is weakly held; common practice, no source


@dataclass(frozen=True)
class Hold:
    """What the links do to a body.

    Attributes:
        constraints: how many lengths or pivots hold it.
        rank: how many of them count.
        motions: how many coordinates it has.
        loose: motions that nothing holds, beyond those that are wanted.
        locked: wanted motions that the links do not allow.
        weak: motions that are held, but barely.
    """

    constraints: int
    rank: int
    motions: int
    loose: tuple[str, ...]
    locked: tuple[str, ...]
    weak: tuple[str, ...]

    @property
    def spare(self) -> int:
        """Constraints beyond those that count: the body binds by so many."""
        return self.constraints - self.rank

    @property
    def free(self) -> int:
        """Motions left."""
        return self.motions - self.rank

    @property
    def text(self) -> str:
        """Say it in words."""
        lines = [f"{self.constraints} constraints, {self.rank} of them count, {self.free} free"]
        if self.loose:
            lines.append(f"not held: {', '.join(self.loose)}")
        if self.locked:
            lines.append(f"locked: {', '.join(self.locked)}")
        if self.spare:
            lines.append(f"held {self.spare} times over: it binds unless rubber or metal gives")
        if self.weak:
            lines.append(f"barely held: {', '.join(self.weak)}")
        return "; ".join(lines)


def hold(body: Body, wanted: tuple[int, ...] = (Z, ROLL)) -> Hold:
    """Return what holds ``body`` at ride.

    Args:
        body: the axle, or one wheel's arm.
        wanted: coordinates that should be free.
    """
    _, slopes = body.misfit(np.zeros(body.size))
    slopes = slopes / body.weights
    rank = _rank(slopes)
    kept = [k for k in range(body.size) if k not in wanted]
    free = _null(slopes)
    return Hold(
        constraints=_independent_rows(body),
        rank=rank,
        motions=body.size,
        loose=_loose(body, slopes, kept),
        locked=_locked(free, wanted),
        weak=_weak(body, slopes, kept),
    )


def _locked(free: Vec, wanted: tuple[int, ...]) -> tuple[str, ...]:
    """Return the wanted motions that are not free, or that they come only together."""
    stuck = [k for k in wanted if not free.size or np.linalg.norm(free[k]) < 1e-6]
    if stuck:
        return tuple(MOTIONS[k] for k in stuck)
    if free.shape[1] < len(wanted):
        return (" without ".join(MOTIONS[k] for k in wanted),)
    return ()


def _independent_rows(body: Body) -> int:
    """Return how many constraints there are; a hinge's two points share one."""
    names = [a.name for a in body.anchors]
    hinges = sum(names.count(name) == 2 for name in dict.fromkeys(names))
    return len(body.rods) + 3 * len(names) - hinges


def _rank(matrix: Vec) -> int:
    sizes = np.linalg.svd(matrix, compute_uv=False)
    return int(np.sum(sizes > RANK * max(float(sizes[0]), 1e-12)))


def _null(matrix: Vec) -> Vec:
    """Return the null space (columns)."""
    _, sizes, right = np.linalg.svd(matrix)
    rank = int(np.sum(sizes > RANK * max(float(sizes[0]), 1e-12)))
    empty: Vec = right[rank:].T
    return empty


def _loose(body: Body, slopes: Vec, kept: list[int]) -> tuple[str, ...]:
    null = _null(slopes[:, kept])
    return tuple(dict.fromkeys(_named(body, kept, null[:, k]) for k in range(null.shape[1])))


def _weak(body: Body, slopes: Vec, kept: list[int]) -> tuple[str, ...]:
    _, sizes, right = np.linalg.svd(slopes[:, kept], full_matrices=False)
    top = max(float(sizes[0]), 1e-12)
    hits = [k for k, s in enumerate(sizes) if RANK * top < s < WEAK * top]
    return tuple(dict.fromkeys(_named(body, kept, right[k]) for k in hits))


def _named(body: Body, kept: list[int], way: Vec) -> str:
    k = kept[int(np.argmax(np.abs(way)))]
    return MOTIONS[k] if k < len(MOTIONS) else f"lever {body.levers[k - 6].name}"
