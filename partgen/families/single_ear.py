r"""Ear: one plate that holds a bolt, a bushing or a pin, welded on by its base.

              __
            /    \      radius about the eye at (offset, height)
           |  o   |
          /        \
         /          \
        |            |  foot
        |____________|
            base            base from -base/2 to base/2, at y = 0

Lengths in mm. The face you see is the one towards the middle of the vehicle.
"""

from __future__ import annotations

from typing import Literal

from partgen.errors import GeometryError
from partgen.families.base_seams import base_seams
from partgen.families.eared import EaredPart
from partgen.families.part import RE_ENTRANT
from partgen.fields import Length, Margin, Size
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam
from partgen.shop import Shop

FOOT = 6.0  # mm; common practice, no source


class SingleEar(EaredPart):
    """``family = "ear"``.

    Attributes:
        height: from the base to the eye [mm].
        base: length of the welded edge; default three ear radii [mm].
        offset: of the eye from the base's middle [mm].
        foot: height of the base's upright ends [mm].
        blend: radius of a corner that turns inward [mm].
    """

    family: Literal["ear"]
    height: Size
    base: Size | None = None
    offset: Length = 0.0
    foot: Margin = FOOT
    blend: Margin = RE_ENTRANT

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the ear.

        Raises:
            GeometryError: ear and base do not go together.
        """
        eye = self.eye(shop)
        return [self.piece("ear", self.outline(eye.radius), eye, [(self.offset, self.height)])]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the base."""
        return base_seams(plate)

    def outline(self, radius: float) -> Outline:
        """Return the outside edge with an ear of ``radius`` [mm].

        Raises:
            GeometryError: the eye is too near the base, or foot and ear collide.
        """
        if self.height < radius:
            raise GeometryError(
                f"height = {self.height:g} mm is less than the ear's radius, {radius:g} mm; raise "
                "the eye"
            )
        half = (3 * radius if self.base is None else self.base) / 2
        pins = [Pin(-half, 0.0), Pin(half, 0.0)]
        if self.foot:
            pins.append(Pin(half, self.foot, 0.0, self.blend))
        pins.append(Pin(self.offset, self.height, radius))
        if self.foot:
            pins.append(Pin(-half, self.foot, 0.0, self.blend))
        return belt(pins)
