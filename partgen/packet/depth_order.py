"""Which of two pieces is drawn first: a plane between them tells, whichever way they are turned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from partgen.plates.solid import FORWARD, LEFT, UP, Solid, Vector, dot

SLACK = 1e-6  # mm
VIEW: Vector = (1.0, 1.0, 1.0)  # towards the viewer
EDGE_ON = 1e-6  # a plane seen so hides nothing


@dataclass(frozen=True)
class Body:
    """A piece as far as the order of drawing needs it.

    Attributes:
        points: of both faces' outside edges, rows x, y, z [mm].
        axes: square to planes that may part it from others, towards the viewer.
    """

    points: NDArray[np.float64]
    axes: tuple[Vector, ...]

    @classmethod
    def of(cls, solid: Solid) -> Body:
        """Return a piece's body."""
        plain = solid.unbent
        loops = [plain.loop(plain.outlines[-1], out) for out in (0.0, plain.depth)]
        frame = plain.frame
        axes = (FORWARD, LEFT, UP, frame.u, frame.v, frame.normal)
        turned = tuple(_to_viewer(a) for a in axes if abs(dot(a, VIEW)) > EDGE_ON)
        return cls(np.array([p for loop in loops for p in loop]), turned)

    def is_before(self, other: Body) -> bool:
        """Tell whether it must be drawn before another: some plane has it behind, none ahead.

        Where tabs are in slots no plane parts them; then the one they come out of most easily does.
        """
        gaps = list(self._gaps(other))
        behind, ahead = max(g for g, _ in gaps), max(g for _, g in gaps)
        if behind < -SLACK and ahead < -SLACK:
            return behind > ahead
        return behind >= -SLACK and ahead < -SLACK

    def _gaps(self, other: Body) -> Iterator[tuple[float, float]]:
        """Yield by how much the other lies ahead of it, and it of the other, plane by plane."""
        axes = np.array([*self.axes, *other.axes]).T
        mine, its = self.points @ axes, other.points @ axes
        ahead, behind = its.min(axis=0) - mine.max(axis=0), mine.min(axis=0) - its.max(axis=0)
        yield from zip(ahead.round(6).tolist(), behind.round(6).tolist(), strict=True)


def _to_viewer(axis: Vector) -> Vector:
    x, y, z = axis
    return axis if dot(axis, VIEW) > 0 else (-x, -y, -z)
