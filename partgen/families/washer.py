r"""Washer: a disc cut from plate, to build up a hole or to fill a gap.

      .---.
     /     \      diameter, about (0, 0)
    |   o   |     hole for a bolt, or of a given size
     \     /
      `---'

Lengths in mm.
"""

from __future__ import annotations

from math import ceil
from typing import ClassVar, Literal, Self

from pydantic import model_validator

from partgen.entries.joint import BoltSize, HoleFit
from partgen.entries.stock import PlateStock
from partgen.families.on_bolt import disc, gap_ends
from partgen.families.part import MountedPart
from partgen.fields import Size
from partgen.geometry.outline import Outline
from partgen.measure import per_unit
from partgen.plates.plate import Plate, Window
from partgen.plates.solid import Solid
from partgen.shop import Shop


class Washer(MountedPart):
    """``family = "washer"``.

    Attributes:
        plate: thickness and material.
        bolt: what goes through.
        fit: clearance of that bolt's hole, close, normal or loose; or a diameter [mm].
        hole: diameter of the hole, where no ``bolt`` gives it [mm].
        diameter: outside; default the bolt's washer, and two least webs more than the hole [mm].
        mount: whose ears they lie outside of, in turn on the outer and the inner one.
    """

    NO_SEAM: ClassVar[str] = "lies loose under a bolt; if it is welded on, name its edge in welded"
    family: Literal["washer"]
    plate: PlateStock
    bolt: BoltSize | None = None
    fit: HoleFit = "normal"
    hole: Size | None = None
    diameter: Size | None = None

    @model_validator(mode="after")
    def _one_hole(self) -> Self:
        if (self.bolt is None) == (self.hole is None):
            raise ValueError("give either 'bolt' or 'hole' (a diameter)")
        return self

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the washer.

        Raises:
            GeometryError: the hole is as large as the washer.
        """
        hole = self.bolt.hole(self.fit) if self.bolt else self.hole or 0.0
        return [
            Plate(
                part=self.name,
                name="washer",
                outline=Outline.circle(0.0, 0.0, self.diameter or self._least(hole, shop)),
                windows=(Window("hole", Outline.circle(0.0, 0.0, hole)),),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count,
            )
        ]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the washers on the bolt of ``mount``; one by itself, flat, without one."""
        if self.mount is None:
            return super().solids(shop)
        (plate,), mount = self.finished(shop), shop.mount(self.mount)
        stack, (inner, outer) = mount.bolts[0], gap_ends(mount)
        outside = [(outer + stack.near_ear, 1.0), (inner - stack.far_ear, -1.0)]
        placed = []
        for k in range(self.count):
            face, way = outside[k % 2]
            deep, apart = way * plate.thickness, (0.0, way * (3.0 + k // 2), 0.0)
            placed.append(disc(plate, mount, face + k // 2 * deep, deep, self.name, apart))
        return placed

    def _least(self, hole: float, shop: Shop) -> float:
        bought = self.bolt.washer_diameter if self.bolt else 0.0
        step = 1.0 if shop.unit == "mm" else per_unit("in") / 16
        least = max(bought, hole + 2 * shop.cutting.web(self.plate.thickness))
        return ceil(least / step - 1e-9) * step
