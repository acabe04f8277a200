"""A plate as it lies on the table, and its closed cuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partgen.cut.kerf import torch_path
from partgen.errors import GeometryError, PartgenError
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.plate import Mark, Plate


@dataclass(frozen=True)
class Lying:
    """One plate where it lies.

    Attributes:
        name: label of the plate, and which copy.
        openings: name and edge of each [mm].
        edge: outside edge [mm].
        holes: centres of its bolt holes, cut or to be drilled [mm].
        marks: lines that are not cut [mm].
    """

    name: str
    openings: tuple[tuple[str, Outline], ...]
    edge: Outline
    holes: tuple[Point, ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class Loop:
    """One closed cut.

    Attributes:
        plate: name of the plate as it lies.
        name: "outside edge", or which opening.
        inside: whether it is an opening.
        nominal: the finished edge [mm].
        path: where the torch's centre runs; ``nominal`` if nothing is compensated [mm].
        ears: centres of the plate's bolt holes [mm].
    """

    plate: str
    name: str
    inside: bool
    nominal: Outline
    path: Outline
    ears: tuple[Point, ...]

    @property
    def label(self) -> str:
        """Plate and cut, for messages."""
        return f"{self.plate}: {self.name}"


def lying(plate: Plate, holes: Sequence[Point] | None = None) -> Lying:
    """Return a plate where it is drawn; ``holes`` are the centres of all its bolt holes [mm]."""
    centres = tuple((h.x, h.y) for h in plate.holes) if holes is None else tuple(holes)
    return Lying(plate.label, plate.named_openings, plate.outline, centres, plate.marks)


def placed(plate: Lying, x: float, y: float, turn: float, copy: str = "") -> Lying:
    """Return a plate turned about (0, 0) by ``turn`` [degrees], then moved by (x, y) [mm]."""
    centres = [Mark("drill", (at,)).turned(turn).moved(x, y).path[0] for at in plate.holes]
    return Lying(
        plate.name + copy,
        tuple((name, o.turned(turn).moved(x, y)) for name, o in plate.openings),
        plate.edge.turned(turn).moved(x, y),
        tuple(centres),
        tuple(mark.turned(turn).moved(x, y) for mark in plate.marks),
    )


def loops(plates: Sequence[Lying], kerf: float) -> list[Loop]:
    """Return every closed cut of the plates, compensated for ``kerf`` [mm]; 0 for none.

    Raises:
        PartgenError: features that the kerf would swallow, one line for each.
    """
    found: list[Loop] = []
    problems: list[str] = []
    for plate in plates:
        for name, outline in (*plate.openings, ("outside edge", plate.edge)):
            inside = outline is not plate.edge
            try:
                path = torch_path(outline, kerf, inside=inside, name=f"{plate.name}: {name}")
            except GeometryError as error:
                problems += error.problems
                continue
            found.append(Loop(plate.name, name, inside, outline, path, plate.holes))
    if problems:
        raise PartgenError(list(dict.fromkeys(problems)))
    return found
