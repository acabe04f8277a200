r"""From DXF: an outline drawn elsewhere, mended, as a plate of this job.

      drawing.dxf          ____________
        one piece   ->    /    o       \     gaps up to ``heal`` closed, lines drawn twice dropped,
        or several        \____________/     facets on a circle made arcs; all of it said

The file lies in the job file's folder or below it. Each outside edge is a plate, each outline in it
an opening; ``bolts`` says which round openings take one. What cannot be mended is refused, with the
place. Lengths in mm.
"""

from __future__ import annotations

from math import dist
from typing import ClassVar, Literal

from pydantic import Field

from partgen.dxf.healing import TOLERANCE
from partgen.dxf.read import read_healed
from partgen.entries.dxf_file import DxfFile
from partgen.entries.joint import BoltSize
from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError, PartgenError
from partgen.families.part import Part
from partgen.fields import At, Entry, Margin, Name, Size
from partgen.geometry.outline import Outline
from partgen.plates.plate import Hole, Plate, Window
from partgen.shop import Shop

ROUND_THERE = 1.0  # mm that ``at`` may lie off the middle of the opening meant


class BoltThere(Entry):
    """Says which bolt a round opening takes.

    Attributes:
        at: its middle, as drawn [mm].
        bolt: what goes through.
        name: shown in findings.
    """

    at: At
    bolt: BoltSize
    name: Name | None = None


class FromDxf(Part):
    """``family = "from-dxf"``.

    Attributes:
        plate: thickness and material.
        file: the drawing.
        unit: "mm" or "in", for a drawing that states no unit.
        heal: widest gap that is closed; 0 takes the drawing only as it is [mm].
        piece: which outside edge, from left to right; default every one.
        bolts: round openings that take a bolt.
        drawn_thickness: of the plate the drawing was made for; a warning where it differs [mm].
    """

    LIES: ClassVar[str] = "flat-across"

    family: Literal["from-dxf"]
    plate: PlateStock
    file: DxfFile
    unit: Literal["mm", "in"] | None = None
    heal: Margin = Field(default=TOLERANCE, le=2)
    piece: int | None = Field(default=None, ge=1, le=10_000, strict=True)
    bolts: tuple[BoltThere, ...] = Field(default=(), max_length=200)
    drawn_thickness: Size | None = None

    def plates(self, shop: Shop) -> list[Plate]:
        """Return a plate for each outside edge, or for the one asked for.

        Raises:
            GeometryError: the drawing cannot be read or mended; place and distance are named.
        """
        pieces, report = self._pieces()
        if self.piece is not None:
            if self.piece > len(pieces):
                raise GeometryError(f"piece = {self.piece}: {self.file.name} has {len(pieces)}")
            pieces = [pieces[self.piece - 1]]
        taken: set[int] = set()
        made = [self._plate(k, piece, len(pieces), taken) for k, piece in enumerate(pieces, 1)]
        for k, entry in enumerate(self.bolts):
            if k not in taken:
                raise GeometryError(
                    f"bolts: no round opening at ({entry.at[0]:g}, {entry.at[1]:g}) mm in "
                    f"{self.file.name}"
                )
        notes = [f"{self.file.name} mended: {line}" for line in report]
        if self.drawn_thickness and abs(self.drawn_thickness - self.plate.thickness) > 1e-6:
            notes.append(f"drawn for plate of {self.drawn_thickness:g} mm")
        return [_noted(plate, notes) for plate in made]

    def _pieces(self) -> tuple[list[tuple[Outline, ...]], tuple[str, ...]]:
        """Return outlines from left to right, openings first, and what was mended."""
        try:
            pieces, report = read_healed(
                self.file.data,
                where=self.file.name,
                unit=self.unit,
                tolerance=max(self.heal, 1e-3),
            )
        except PartgenError as error:
            raise GeometryError(error.problems) from None
        if self.heal == 0 and report:
            raise GeometryError(f"{self.file.name} needs mending, but heal = 0: {report[0]}")
        return sorted(pieces, key=lambda piece: piece[-1].box), report

    def _plate(self, number: int, piece: tuple[Outline, ...], of: int, taken: set[int]) -> Plate:
        holes, windows = [], []
        for k, opening in enumerate(piece[:-1], 1):
            bolt = self._bolt_at(opening, taken)
            if bolt is None:
                windows.append(Window(str(k), opening))
            else:
                x, y, diameter = opening.circle_of or (0.0, 0.0, 0.0)
                holes.append(Hole(bolt.name or str(k), x, y, diameter, bolt.bolt))
        return Plate(
            part=self.name,
            name="drawn" if of == 1 else f"drawn-{number}",
            outline=piece[-1],
            holes=tuple(holes),
            windows=tuple(windows),
            thickness=self.plate.thickness,
            material=self.plate.material,
            count=self.count,
        )

    def _bolt_at(self, opening: Outline, taken: set[int]) -> BoltThere | None:
        if opening.circle_of is None:
            return None
        x, y, diameter = opening.circle_of
        for k, entry in enumerate(self.bolts):
            if dist((x, y), entry.at) > ROUND_THERE:
                continue
            if diameter < entry.bolt.diameter:
                raise GeometryError(
                    f"bolts: the opening at ({x:g}, {y:g}) mm is {diameter:.2f} mm wide, too small "
                    f"for {entry.bolt.size}"
                )
            taken.add(k)
            return entry
        return None


def _noted(plate: Plate, notes: list[str]) -> Plate:
    for note in notes:
        plate = plate.with_note(note)
    return plate
