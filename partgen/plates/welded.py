"""Edges that a job names as welded, for plates whose family cannot know what they meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
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

    def naming(self, seam: Seam) -> Seam:
        """Return a seam that a family knows, with what the job says of it."""
        said = self.model_fields_set
        return replace(
            seam,
            mate=self.to,
            guessed=False,
            leg=self.leg if "leg" in said else seam.leg,
            sides=self.sides if "sides" in said else seam.sides,
            lap=self.sides == 1 if "sides" in said else seam.lap,
            stops=(self.stop, self.stop) if "stop" in said else seam.stops,
        )


def together(plate: Plate, known: Sequence[Seam], named: Sequence[WeldedEdge]) -> list[Seam]:
    """Return a finished plate's seams, every edge once.

    What the job names of an edge whose mate its family only guesses at, or of that same mate,
    counts in place of what the family says.

    Args:
        plate: the plate.
        known: what its family knows.
        named: what the job names.

    Raises:
        GeometryError: an edge has two mates, or no edge of the plate is near.
    """
    seams, said, wrong = list(known), list[Seam](), list[str]()
    for entry in named:
        new = entry.seam(plate)
        twice = next((s for s in said if s.shares(new.path)), None)
        if twice is not None:
            wrong += [_two_mates(plate, twice, new)] if twice != new else []
            continue
        said.append(new)
        met = [n for n, s in enumerate(seams) if s.kind != "slot" and s.shares(new.path)]
        mine = [n for n in met if seams[n].mate == entry.to] or met
        wrong += [
            _two_mates(plate, seams[n], new)
            for n in mine[:1]
            if seams[n].mate != entry.to and not seams[n].guessed
        ]
        for n in mine:
            seams[n] = entry.naming(seams[n])
        if not met:
            seams.append(new)
    if wrong:
        raise GeometryError(wrong)
    return seams


def _two_mates(plate: Plate, one: Seam, other: Seam) -> str:
    what = f"'{one.mate}' and '{other.mate}'" if one.mate != other.mate else f"'{one.mate}' twice"
    return (
        f"welded: edge '{other.edge}' of {plate.key} is welded to {what}; every edge has one entry "
        "and one mate: leave one out, or name both in one: to = 'A and B', sides = 2"
    )
