"""The holes of a link mount's ears, as what links may sit in."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.families.ear import Ear
from partgen.families.leaning import aside
from partgen.fit.mount import Seat
from partgen.geometry.segment import Point
from partgen.plates.fold import Fold


def seats(
    eyes: Sequence[tuple[str, Point, str]],
    ears: Sequence[Ear],
    bends: Sequence[Fold],
    shared: float,
) -> tuple[Seat, ...]:
    """Return a seat for each hole.

    Args:
        eyes: name and place of each hole, and the hole it may stand in for.
        ears: which have those holes, in that order.
        bends: one for each ear where the ears lean, else none.
        shared: mean radius of both plates' middle layers in their bends [mm].
    """
    folds: list[Fold | None] = [*bends] or [None] * len(ears)
    seen = [(ear, fold, at) for ear, fold in zip(ears, folds, strict=True) for at in ear.holes]
    return tuple(
        Seat(name, at, ear.radius, other, aside(fold, at, shared) if fold else 0.0)
        for (name, _, other), (ear, fold, at) in zip(eyes, seen, strict=True)
    )
