r"""Gusset: a stiffener in an inside corner, or between the two plates of a mount.

    (0, height) __ toe
               |  \
               |    \            triangle: from the upper toe to the toe at the far end
        height |      \
               |       |  far    trapezoid: the far edge is high and welded too,
         snipe /_______|         so its corner is sniped as well
              width

The corner at (0, 0) is cut off by the snipe, so that it clears the weld that runs through it; the
toes are blunt, no thin point is left to burn. Lengths in mm.
"""

from __future__ import annotations

from typing import Literal, Self

from pydantic import model_validator

from partgen.belt import Pin, belt
from partgen.errors import GeometryError
from partgen.families.part import MountedPart
from partgen.fields import Margin, Size
from partgen.outline import Outline
from partgen.plate import Plate, Window
from partgen.segment import Point
from partgen.shop import Shop
from partgen.solid import DOWN, LEFT, Frame, Solid
from partgen.stock import PlateStock

SNIPE = 15.0  # mm, weld leg + 1/4 in and more; common practice, no source
TOE = 8.0  # mm; common practice, no source
BEHIND = 8.0  # mm from the joint's body, in the assembly's picture
CORNER = 3.0  # mm, radius of the corners off the welds; common practice, no source


class Gusset(MountedPart):
    """``family = "gusset"``.

    Attributes:
        shape: "triangle" or "trapezoid".
        plate: thickness and material.
        width: along the base; default the gap between the ears of ``mount`` [mm].
        height: along the edge at x = 0 [mm].
        far_height: of a trapezoid at the far end [mm].
        snipe: leg cut off inside corners [mm].
        toe: blunt end of an edge that would run out to a point [mm].
        corner: radius of the corners off the welds [mm].
        lightening: diameter of a hole about the centre of area [mm].
    """

    family: Literal["gusset"]
    shape: Literal["triangle", "trapezoid"] = "triangle"
    plate: PlateStock
    width: Size | None = None
    height: Size
    far_height: Size | None = None
    snipe: Margin = SNIPE
    toe: Size = TOE
    corner: Margin = CORNER
    lightening: Size | None = None

    @model_validator(mode="after")
    def _sizes_suit_shape(self) -> Self:
        if (self.shape == "trapezoid") != (self.far_height is not None):
            raise ValueError("'far_height' belongs to shape 'trapezoid', which needs it")
        if (self.width is None) == (self.mount is None):
            raise ValueError("give either 'width' or 'mount' (width is then the gap of its ears)")
        return self

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the gusset's plate.

        Raises:
            GeometryError: no such mount, or snipe and toes leave no edge to weld.
        """
        width, each = self.width, 1
        if self.mount is not None:
            mount = shop.mount(self.mount)
            if mount.ear_angle:
                raise GeometryError(
                    f"the ears of '{mount.name}' lean by {mount.ear_angle:g} degrees, a web "
                    "between them is not square: give it a width and no mount, fit it by hand"
                )
            width, each = mount.fit.gap, mount.count
        outline = self.outline(width or 0.0)
        return [
            Plate(
                part=self.name,
                name="gusset",
                outline=outline,
                windows=self._lightening(outline),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count * each,
            )
        ]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return a web as wide as the gap, hung from the rail between the ears.

        At ``place``, or behind the joint's body.
        """
        if self.mount is None or self.width is not None:
            return []
        mount = shop.mount(self.mount)
        x, z = self.place or (mount.pivot[0] - mount.body_diameter / 2 - BEHIND, mount.rail_edge[1])
        left = -mount.fit.rail_width / 2 - mount.fit.spacers[0]
        frame = Frame((x, left, z), LEFT, DOWN)
        return [
            Solid.of(plate, frame, plate.thickness, (0.0, 0.0, -1.0), self.name)
            for plate in self.finished(shop)
        ]

    def outline(self, width: float) -> Outline:
        """Return the outside edge of a gusset ``width`` wide [mm].

        Raises:
            GeometryError: snipe and toes leave no edge to weld.
        """
        far = self.toe if self.far_height is None else self.far_height
        far_snipe = 0.0 if self.far_height is None else self.snipe
        self._need("width", width, self.snipe + max(far_snipe, self.toe))
        self._need("height", self.height, self.snipe + self.toe)
        if self.far_height is not None:
            self._need("far_height", self.far_height, self.snipe + self.toe)
        base: list[Point] = [(self.snipe, 0.0), (width - far_snipe, 0.0)]
        if far_snipe:
            base.append((width, far_snipe))
        pins = [Pin(*p) for p in base]
        pins += self._upper(width, far)
        if self.snipe:
            pins.append(Pin(0.0, self.snipe))
        return belt(pins)

    def _upper(self, width: float, far: float) -> list[Pin]:
        """Return the free edge from the far end to x = 0: blunt at its higher end."""
        ends = [Pin(width, far, 0.0, self.corner), Pin(0.0, self.height, 0.0, self.corner)]
        if far > self.height:
            ends[:1] = [Pin(width, far), Pin(width - self.toe, far, 0.0, self.corner)]
        elif far < self.height:
            ends[1:] = [Pin(self.toe, self.height, 0.0, self.corner), Pin(0.0, self.height)]
        return ends

    def _need(self, name: str, length: float, taken: float) -> None:
        if length < taken + self.toe:
            raise GeometryError(
                f"{name} = {length:g} mm: snipe and toes take {taken:g} mm of it and leave less "
                f"than {self.toe:g} mm to weld; make it longer or the snipe ({self.snipe:g} mm) "
                "smaller"
            )

    def _lightening(self, outline: Outline) -> tuple[Window, ...]:
        if self.lightening is None:
            return ()
        return (Window("lightening", Outline.circle(*outline.centroid, self.lightening)),)
