r"""Skid plate: a bent plate, drawn flat, with its bend lines.

      ______________________________________
     |   :                        :         |
     |   :  flat 2                : flat 3  |     width, about y = 0
     |   :                        :         |
     |___:________________________:_________|
      bend 1                    bend 2            x from the edge of flat 1

Developed length = flats from tangent to tangent + bend allowances. ``flats`` are given so, or as
outside measures to where the faces would meet (``measured = "outside"``). Lengths in mm.
"""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.openings import HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import CORNER, Part
from partgen.fields import Angle, Margin, Size
from partgen.geometry.belt import belt, corners
from partgen.geometry.bending import RADIUS_PER_THICKNESS, allowance, k_factor, setback
from partgen.geometry.outline import Outline
from partgen.plates.developed import Bend, DevelopedFrame
from partgen.plates.plate import Mark, Plate
from partgen.plates.solid import FORWARD, LEFT, UP, Solid
from partgen.shop import Shop

MARK_CLEAR = 3.0  # mm from a mark to a cut edge; common practice, no source


class FlatHole(HoleEntry):
    """A bolt hole in one flat; ``at`` is from that flat's beginning, and from the middle line.

    Attributes:
        flat: number of the flat, 1 first.
    """

    flat: int = Field(default=1, ge=1, strict=True)


class FlatWindow(WindowEntry):
    """A window in one flat; ``at`` is from that flat's beginning, and from the middle line.

    Attributes:
        flat: number of the flat, 1 first.
    """

    flat: int = Field(default=1, ge=1, strict=True)


class SkidPlate(Part):
    """``family = "skid-plate"``.

    Attributes:
        plate: thickness and material.
        flats: lengths of the flats, one more than there are bends [mm].
        angles: through which each bend turns, up positive [degrees].
        width: across, all along [mm].
        end_width: across at the far end, where it differs [mm].
        radius: inside radius of the bends; default two thicknesses [mm].
        k_factor: place of the layer that keeps its length; default .33 or .50 by the radius [-].
        measured: "flat" (between tangents) or "outside" (to where the outside faces would meet).
        corner: radius of the corners [mm].
        holes: bolt holes in the flats.
        windows: openings in the flats: drains, access.
    """

    NO_SEAM: ClassVar[str] = "bolted on; if it is welded, name its edges in welded"
    family: Literal["skid-plate"]
    plate: PlateStock
    flats: tuple[Size, ...] = Field(min_length=1, max_length=20)
    angles: tuple[Angle, ...] = Field(default=(), max_length=19)
    width: Size
    end_width: Size | None = None
    radius: Size | None = None
    k_factor: float | None = Field(default=None, gt=0, le=0.5, allow_inf_nan=False)
    measured: Literal["flat", "outside"] = "flat"
    corner: Margin = CORNER
    holes: tuple[FlatHole, ...] = Field(default=(), max_length=200)
    windows: tuple[FlatWindow, ...] = Field(default=(), max_length=200)

    @model_validator(mode="after")
    def _bends_between_flats(self) -> Self:
        if len(self.angles) != len(self.flats) - 1:
            raise ValueError(
                f"{len(self.flats)} flats have {len(self.flats) - 1} bends between them, but "
                f"'angles' has {len(self.angles)}"
            )
        if any(not 1 <= abs(a) <= 170 for a in self.angles):
            raise ValueError("a bend turns through 1 to 170 degrees, either way")
        used = [*(h.flat for h in self.holes), *(w.flat for w in self.windows)]
        if used and max(used) > len(self.flats):
            raise ValueError(f"flat = {max(used)}: there are {len(self.flats)} flats")
        return self

    @property
    def bend_radius(self) -> float:
        """Inside radius of the bends [mm]."""
        return self.radius or RADIUS_PER_THICKNESS * self.plate.thickness

    def allowances(self) -> list[float]:
        """Return the developed length of each bend [mm]."""
        t, r = self.plate.thickness, self.bend_radius
        k = self.k_factor or k_factor(r, t)
        return [allowance(a, r, t, k) for a in self.angles]

    def straights(self) -> list[float]:
        """Return the flats from tangent to tangent [mm].

        Raises:
            GeometryError: the bends take more than a flat has.
        """
        flats = list(self.flats)
        if self.measured == "outside":
            for k, angle in enumerate(self.angles):
                back = setback(angle, self.bend_radius, self.plate.thickness)
                flats[k] -= back
                flats[k + 1] -= back
        for k, flat in enumerate(flats, 1):
            if flat < 1.0:
                raise GeometryError(
                    f"flat {k}: the bends leave {flat:.1f} mm of it; make it longer or the radius "
                    f"({self.bend_radius:g} mm) smaller"
                )
        return flats

    def starts(self) -> list[float]:
        """Return where each flat begins on the developed plate, and its length last [mm].

        Raises:
            GeometryError: the bends take more than a flat has.
        """
        starts = [0.0]
        for flat, bend in zip(self.straights(), [*self.allowances(), 0.0], strict=True):
            starts.append(starts[-1] + flat + bend)
        return starts

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the developed plate with its bend lines.

        Raises:
            GeometryError: the bends take more than a flat has, or openings leave the plate.
        """
        starts = self.starts()
        holes = [h.model_copy(update={"at": self._laid(h, starts)}) for h in self.holes]
        windows = [w.model_copy(update={"at": self._laid(w, starts)}) for w in self.windows]
        plate = Plate(
            part=self.name,
            name="skid",
            outline=self.outline(starts[-1]),
            holes=holes_of(holes),
            windows=windows_of(windows),
            marks=self.bend_lines(starts),
            thickness=self.plate.thickness,
            material=self.plate.material,
            count=self.count,
        )
        return [plate]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the plate as it is bent, its first flat level.

        Raises:
            GeometryError: the bends take more than a flat has.
        """
        (plate,), starts = self.finished(shop), self.starts()
        radius = self.bend_radius + plate.thickness / 2
        bends = [
            Bend(starts[k] - length, length, angle, radius)
            for k, (angle, length) in enumerate(zip(self.angles, self.allowances(), strict=True), 1)
        ]
        frame = DevelopedFrame((0.0, 0.0, 0.0), FORWARD, LEFT, tuple(bends), plate.thickness / 2)
        return [Solid.of(plate, frame, plate.thickness, UP, self.name)]

    def _laid(self, entry: FlatHole | FlatWindow, starts: list[float]) -> tuple[float, float]:
        return starts[entry.flat - 1] + entry.at[0], entry.at[1]

    def _half(self, x: float, length: float) -> float:
        """Return half the width at ``x`` of the developed plate [mm]."""
        end = self.width if self.end_width is None else self.end_width
        return (self.width + (end - self.width) * x / length) / 2

    def outline(self, length: float) -> Outline:
        """Return the outside edge of the developed plate.

        Raises:
            GeometryError: the corner radius does not fit.
        """
        near, far = self._half(0.0, length), self._half(length, length)
        points = [(0.0, -near), (length, -far), (length, far), (0.0, near)]
        return belt(corners(points, self.corner))

    def bend_lines(self, starts: list[float]) -> tuple[Mark, ...]:
        """Return a line in the middle of each bend, short of the edges."""
        lines = []
        for k, (angle, bend) in enumerate(zip(self.angles, self.allowances(), strict=True), 1):
            x = starts[k] - bend / 2
            half = self._half(x, starts[-1]) - MARK_CLEAR
            lines.append(Mark("bend", ((x, -half), (x, half)), self.bend_radius, angle))
        return tuple(lines)
