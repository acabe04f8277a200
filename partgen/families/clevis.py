r"""Clevis: a pair of equal ears for a joint, welded on by their bases, on a base plate if asked.

              __
            /    \      two of these, a joint and its clearance apart
           |  o   |
          /        \         ________________
         |__________|       |  ____________  |   base plate under them: gap + both ears + shelf
             base           |________________|

An ear is drawn as by the family "ear"; its eye is at (offset, height), its base at y = 0. A bridge
that names this part puts its slots into the ears. Lengths in mm.
"""

from __future__ import annotations

from typing import Literal, Self

from pydantic import model_validator

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.base_seams import UNDER, base_seams
from partgen.families.part import CORNER
from partgen.families.single_ear import SingleEar
from partgen.fields import Margin
from partgen.fit.mount import Mount
from partgen.geometry.belt import rectangle
from partgen.plates.edges import edges_of
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam, which_side
from partgen.plates.solid import DOWN, FORWARD, LEFT, Frame, Solid
from partgen.shop import Shop

EARS = 2
SHELF = 12.0  # mm from an ear to the base plate's edge, for a fillet; common practice, no source


class Clevis(SingleEar):
    """``family = "clevis"``.

    Attributes:
        base_plate: thickness and material of a plate under the ears; none if not given.
        shelf: from the ears to the base plate's edge, all round [mm].
        corner: radius of the base plate's corners [mm].
    """

    family: Literal["clevis"]  # type: ignore[assignment]
    base_plate: PlateStock | None = None
    shelf: Margin = SHELF
    corner: Margin = CORNER

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return gap and bolt of the pair.

        Raises:
            GeometryError: no such joint.
        """
        return self.pair(shop, self.height, (self.offset, self.height))

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer ear, and the base plate.

        Raises:
            GeometryError: ear and base do not go together, or a base plate without a joint.
        """
        eye = self.eye(shop)
        outline = self.outline(eye.radius)
        at = [(self.offset, self.height)]
        made = self.on_tabs([self.piece(n, outline, eye, at) for n in ("inner", "outer")], shop)
        if self.base_plate is not None:
            made.append(self._base(self.base_plate, made[0], shop))
        return made

    @model_validator(mode="after")
    def _on_one_plate(self) -> Self:
        if self.base_plate is not None and self.stands is not None:
            raise ValueError("give 'base_plate' or 'stands', not both")
        return self

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the pair astride y = 0, the base plate under it.

        Raises:
            GeometryError: a pair without a joint.
        """
        if self.joint is None:
            return []
        plates = self.finished(shop)
        under = Frame((0.0, 0.0, 0.0), FORWARD, LEFT)
        base = [Solid.of(plate, under, -plate.thickness, DOWN) for plate in plates[EARS:]]
        return [*base, *self.ears_in_space(shop, plates[:EARS])]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the base of an ear, or the edges of the base plate."""
        if self.base_plate is None:
            return super().seams(plate, shop)
        if plate.name != "base":
            return base_seams(plate, f"{self.name} base", self.base_plate.thickness)
        return [
            Seam(edge=which_side(path), mate=UNDER, path=path, sides=1, lap=True, guessed=True)
            for path in edges_of(plate.outline)
        ]

    def _base(self, stock: PlateStock, ear: Plate, shop: Shop) -> Plate:
        if self.joint is None:
            raise GeometryError("base_plate: its width follows from the joint's; give 'joint'")
        joint = shop.joint(self.joint)
        across = joint.width + joint.side_clearance + 2 * self.plate.thickness + 2 * self.shelf
        x0, _, x1, _ = ear.outline.box
        base = [v.x for v in ear.outline.vertices if abs(v.y) < 1e-9] or [x0, x1]
        along = max(base) - min(base) + 2 * self.shelf
        middle = (max(base) + min(base)) / 2
        return Plate(
            part=self.name,
            name="base",
            outline=rectangle(along, across, self.corner, (middle, 0.0)),
            thickness=stock.thickness,
            material=stock.material,
            count=self.count,
        )
