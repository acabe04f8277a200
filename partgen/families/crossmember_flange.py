r"""Crossmember flange: the plate at a crossmember's end, bolted to the rail.

     ___________________
    /  o             o  \
    |      _______      |     rectangle or round, about (0, 0)
    |     |       |     |     bore: round or rectangular, for the tube or to save weight
    |     |_______|     |     bolts: in a circle, a rectangle or two rows
    \__o_____________o__/

Lengths in mm.
"""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from partgen.entries.stock import PlateStock
from partgen.families.openings import RE_ENTRANT, HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import CORNER, Part
from partgen.families.pattern import BoltPattern
from partgen.fields import Margin, Size
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import Seam
from partgen.shop import Shop

LOOSE = 4.0  # mm that an opening may be wider than a tube through it; common practice, no source


class CrossmemberFlange(Part):
    """``family = "crossmember-flange"``.

    Attributes:
        plate: thickness and material.
        size: width and height of a rectangular flange [mm].
        diameter: of a round flange [mm].
        corner: radius of the corners [mm].
        bolts: the bolt pattern.
        bore: diameter of a round opening in the middle [mm].
        opening: width and height of a rectangular opening in the middle [mm].
        opening_radius: of that opening's corners [mm].
        tube: outside diameter of a round crossmember [mm].
        tube_size: outside width and height of a rectangular crossmember [mm].
        windows: more openings.
        holes: more bolt holes.
    """

    LIES: ClassVar[str] = "side"
    NO_SEAM: ClassVar[str] = (
        "no seam named: give the crossmember's tube or tube_size, or welded = [...]"
    )
    family: Literal["crossmember-flange"]
    plate: PlateStock
    size: tuple[Size, Size] | None = None
    diameter: Size | None = None
    corner: Margin = CORNER
    bolts: BoltPattern
    bore: Size | None = None
    opening: tuple[Size, Size] | None = None
    opening_radius: Margin = RE_ENTRANT
    tube: Size | None = None
    tube_size: tuple[Size, Size] | None = None
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        if (self.size is None) == (self.diameter is None):
            raise ValueError("give either 'size' (a rectangle) or 'diameter' (round)")
        if self.bore is not None and self.opening is not None:
            raise ValueError("give 'bore' (round) or 'opening' (rectangular), not both")
        if self.tube is not None and self.tube_size is not None:
            raise ValueError("give 'tube' (round) or 'tube_size' (rectangular), not both")
        return self

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the flange.

        Raises:
            GeometryError: an opening leaves the plate or meets another, or a radius does not fit.
        """
        extra = holes_of(self.holes)
        windows = windows_of(self.windows)
        return [
            Plate(
                part=self.name,
                name="flange",
                outline=self.outline(),
                holes=(*self.bolts.holes(), *extra),
                windows=(*self._middle(), *windows),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count,
            )
        ]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return where the crossmember's tube meets the flange, all round.

        A tube that fits the opening goes through, and is welded to its edge; another stands on the
        flange's face.
        """
        if self.tube is not None:
            through = self.bore is not None and 0 <= self.bore - self.tube <= LOOSE
            face = Outline.circle(0.0, 0.0, self.tube)
        elif self.tube_size is not None:
            gaps = [a - b for a, b in zip(self.opening or (0.0, 0.0), self.tube_size, strict=True)]
            through = all(0 <= gap <= LOOSE for gap in gaps)
            face = rectangle(*self.tube_size)
        else:
            return []
        path = self._middle()[0].outline if through else face
        return [
            Seam(
                edge="opening, all round" if through else "face, all round the tube",
                mate="crossmember tube",
                guessed=True,
                path=path.segments,
                sides=1,
                stops=(0.0, 0.0),
            )
        ]

    def outline(self) -> Outline:
        """Return the outside edge.

        Raises:
            GeometryError: the corner radius does not fit.
        """
        if self.size is None:
            return Outline.circle(0.0, 0.0, self.diameter or 0.0)
        return rectangle(*self.size, self.corner)

    def _middle(self) -> list[Window]:
        if self.bore is not None:
            return [Window("bore", Outline.circle(0.0, 0.0, self.bore))]
        if self.opening is not None:
            return [Window("opening", rectangle(*self.opening, self.opening_radius))]
        return []
