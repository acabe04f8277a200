"""Plates moved apart on two sheets laid end to end, bound to their priority and to each other."""

from __future__ import annotations

import random
from collections.abc import Sequence

from partgen.layout.budget import Budget
from partgen.layout.piece import Piece
from partgen.layout.placing import Spot
from partgen.layout.separation import Separation
from partgen.layout.shape import Shape
from partgen.layout.stock import Board


class Bound(Separation):
    """A separation in which some plates may not go just anywhere.

    On the first sheet stay those that are kept together and those of a higher priority than the
    least on both: none gives way to one of lower priority. Once one of those that are kept together
    on the second sheet goes to the first, all of them do.

    Args:
        board: of both sheets.
        options: the ways each item may be turned, by item.
        spots: a filling without overlap to start from.
        chance: decides the order of moves.
        pieces: by item.
        column: where the second sheet begins [-].
    """

    def __init__(
        self,
        board: Board,
        options: Sequence[list[Shape]],
        spots: Sequence[Spot],
        chance: random.Random,
        pieces: Sequence[Piece],
        column: int,
    ) -> None:
        super().__init__(board, options, spots, chance)
        self._column = column
        here = [pieces[s.item] for s in spots]
        least = min(piece.priority for piece in here)
        self._staying: set[int] = set()
        self._going: set[int] = set()
        self._groups: dict[str, list[int]] = {}
        for k, (spot, piece) in enumerate(zip(spots, here, strict=True)):
            if spot.column < column:
                if piece.together or piece.priority > least:
                    self._staying.add(k)
            elif piece.together:
                self._groups.setdefault(piece.together, []).append(k)

    def _reach(self, k: int) -> int | None:
        return self._column - 1 if k in self._staying or k in self._going else None

    def _shortened(self, limit: float, budget: Budget) -> bool:
        self._going.clear()
        while super()._shortened(limit, budget):
            gone = [
                k
                for group in self._groups.values()
                if any(self._at[k].column < self._column for k in group)
                for k in group
            ]
            if all(self._at[k].column < self._column for k in gone):
                return True
            self._going.update(gone)
        return False
