"""Edges that a job names as welded, for plates whose family cannot know what they meet."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from partgen.errors import GeometryError
from partgen.fields import At, Entry, Margin, Size, Text
from partgen.plates.edges import edge_at, is_closed
from partgen.plates.plate import Plate
from partgen.plates.seam import STOP, Seam, which_side

NEAR = 5.0  # mm from the point given to the edge it means


class WeldedEdge(Entry):
    """One welded edge, from corner to corner; of an opening or a disc, all round.

    Attributes:
        at: a point on the edge, in the part's drawing [mm].
        to: what it is welded to.
        sides: 1, a fillet along the plate's edge; 2, the edge stands on it, a fillet on each face.
        leg: of the fillets; default by thickness [mm].
        stop: by which the weld stops short of both ends [mm].
        plates: names of the part's plates that have it; default all.
    """

    at: At
    to: Text
    sides: Literal[1, 2] = 1
    leg: Size | None = None
    stop: Margin = STOP
    plates: tuple[Text, ...] = Field(default=(), max_length=20)

    def seam(self, plate: Plate) -> Seam:
        """Return the seam on a finished plate.

        Raises:
            GeometryError: no edge of the plate is near.
        """
        path, away = edge_at(plate.outlines, self.at)
        if away > NEAR:
            raise GeometryError(
                f"welded: no edge of {plate.key} within {NEAR:g} mm of ({self.at[0]:g}, "
                f"{self.at[1]:g}) mm, the nearest is {away:.1f} mm away; give a point on the edge"
            )
        ends = 0.0 if is_closed(path) else self.stop
        return Seam(
            edge=which_side(path),
            mate=self.to,
            path=path,
            sides=self.sides,
            lap=self.sides == 1,
            leg=self.leg,
            stops=(ends, ends),
        )
