r"""Gusset: a stiffener in an inside corner, or between the two plates of a mount.

    (0, height) __ toe
               |  \
               |    \            triangle: from the upper toe to the toe at the far end
        height |      \
               |       |  far    trapezoid: the far edge is high and welded too,
         snipe /_______|         so its corner is sniped as well
              width

With ``soft`` the free edge runs out beside the welded one, tangentially and at a slope of 2 to 1 or
gentler, as a gusset on a rail should: no weld ends square across the rail.

    (0, height) _
               | |
               | \         soft = "base": a curve of ``soft_radius`` to the toe at the base's end;
        height |  `\       soft = "both": to the upper toe as well
               |    `- ._____
         snipe /_____________|  toe
              width

The corner at (0, 0) is cut off by the snipe, so that it clears the weld that runs through it; the
toes are blunt, no thin point is left to burn. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import atan2, degrees
from typing import ClassVar, Literal, Self

from pydantic import model_validator

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.part import MountedPart
from partgen.families.web import faces, hangs_at, hung
from partgen.fields import Angle, Margin, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline, cos_sin
from partgen.geometry.segment import Point
from partgen.plates.edges import ON, edges_where
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.shop import Shop

SNIPE = 15.0  # mm, weld leg + 1/4 in and more; common practice, no source
TOE = 8.0  # mm; common practice, no source
CORNER = 3.0  # mm, radius of the corners off the welds; common practice, no source
SOFT_RADIUS = 40.0  # mm; common practice, no source
NOSE = 1.0  # mm of straight before the curve of a soft end
# A curve that turns from the rail to the free edge rises tan(turn / 2) over its run, so 2 to 1 over
# the curve is a turn of 53 degrees. Slope 2 to 1 or gentler: common practice, no source.
STEEPEST = degrees(2 * atan2(1, 2))


class Gusset(MountedPart):
    """``family = "gusset"``.

    Attributes:
        shape: "triangle" or "trapezoid".
        plate: thickness and material.
        width: along the base; default the gap between the ears of ``mount`` [mm].
        height: along the edge at x = 0 [mm].
        far_height: of a trapezoid at the far end [mm].
        snipe: leg cut off inside corners [mm].
        toe: blunt end of an edge that runs out; at a soft end no less than the least web [mm].
        corner: radius of the corners off the welds [mm].
        soft: ends that run out tangentially: "none", "base" or "both"; for a triangle.
        soft_radius: of the curve at a soft end [mm].
        lightening: diameter of a hole about the centre of area [mm].
        along: of its height at ``place``; default square to the rail; for the picture [degrees].
    """

    LIES: ClassVar[str] = "face"

    family: Literal["gusset"]
    shape: Literal["triangle", "trapezoid"] = "triangle"
    plate: PlateStock
    width: Size | None = None
    height: Size
    far_height: Size | None = None
    snipe: Margin = SNIPE
    toe: Size = TOE
    corner: Margin = CORNER
    soft: Literal["none", "base", "both"] = "none"
    soft_radius: Size = SOFT_RADIUS
    lightening: Size | None = None
    along: Angle | None = None

    @model_validator(mode="after")
    def _sizes_suit_shape(self) -> Self:
        if (self.shape == "trapezoid") != (self.far_height is not None):
            raise ValueError("'far_height' belongs to shape 'trapezoid', which needs it")
        if self.soft != "none" and self.shape != "triangle":
            raise ValueError("'soft' belongs to shape 'triangle'")
        if (self.width is None) == (self.mount is None):
            raise ValueError("give either 'width' or 'mount' (width is then the gap of its ears)")
        return self

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the gusset's plate.

        Raises:
            GeometryError: no such mount, or snipe and toes leave no edge to weld.
        """
        if self.soft != "none" and "toe" not in self.model_fields_set:
            toe = max(self.toe, shop.cutting.web(self.plate.thickness))
            return self.model_copy(update={"toe": toe})._plates(shop)
        return self._plates(shop)

    def _plates(self, shop: Shop) -> list[Plate]:
        width, each, bend = self.width, 1, None
        if self.mount is not None:
            mount = shop.mount(self.mount)
            width, each, bend = mount.fit.gap, mount.count, mount.bend
        outline = (
            self._leaning(shop.mount(self.mount or ""), shop)
            if bend
            else self.outline(width or 0.0)
        )
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

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return base and upright and, of a trapezoid, the far edge; a fillet on each face."""
        mates: list[tuple[str, str, float | None]]
        if self.mount is None:
            mates = [("base", "first member", None), ("upright", "second member", None)]
            mates.append(("far", "third member", None))
        else:
            mount = shop.mount(self.mount)
            wall = shop.rail(mount.rail).wall if mount.rail else None
            near, beyond = mount.bolts[0].far_ear, mount.bolts[0].near_ear
            mates = [("base", "rail or crossplate", wall), ("upright", f"{self.mount} plate", near)]
            mates.append(("far", f"{self.mount} plate", beyond))
        lies = self._lies(plate, shop)
        return [
            Seam(
                edge=edge,
                mate=mate,
                path=path,
                guessed=self.mount is None or edge == "base",
                beside=beside,
            )
            for (edge, mate, beside), on in zip(mates, lies, strict=False)
            for path in edges_where(plate.outline, on)
        ]

    def _lies(self, plate: Plate, shop: Shop) -> list[Callable[[Point], bool]]:
        """Return what tells whether a point is on the base, the upright and a far edge."""
        far, mount = plate.outline.box[2], shop.mount(self.mount) if self.mount else None
        sides: list[Callable[[Point], bool]] = [
            lambda p: abs(p[0]) <= ON,
            lambda p: abs(p[0] - far) <= ON,
        ]
        if mount is not None and mount.bend is not None:
            at = hangs_at(mount, self.place, shop)
            sides = [face.carries for face in faces(mount.bend, mount.fit.gap, at)]
        return [lambda p: abs(p[1]) <= ON, *sides[: 1 if self.far_height is None else 2]]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return a web as wide as the gap between its mount's ears; any other gusset by itself.

        At ``place``, or behind the joint's body; none without a place where there is no rail.

        Raises:
            GeometryError: the plate cannot exist with these numbers.
        """
        if self.mount is None:
            return super().solids(shop)
        way = None if self.along is None else cos_sin(self.along)
        mount = shop.mount(self.mount)
        return hung(self.name, self.finished(shop), mount, self.place, way, shop)

    def _leaning(self, mount: Mount, shop: Shop) -> Outline:
        """Return the outside edge between ears that lean; it follows them from where it hangs."""
        bend, width = mount.bend, mount.fit.gap
        if bend is None or self.soft != "none" or self.along is not None:
            raise GeometryError(
                f"the ears of '{mount.name}' lean: a web between them hangs square to their bends "
                "and has no soft ends; leave out 'soft' and 'along'"
            )
        inner, outer = faces(bend, width, hangs_at(mount, self.place, shop))
        base = inner.across(0.0), outer.across(0.0)
        far = self.toe if self.far_height is None else self.far_height
        far_snipe = 0.0 if self.far_height is None else self.snipe
        self._need("width", width, self.snipe + max(far_snipe, self.toe))
        shifts = inner.across(self.height), outer.across(far) - width
        lower = [replace(p, x=p.x + shifts[p.x > width / 2]) for p in self._upper(width, far)]
        ends = [Pin(base[0] + self.snipe, 0.0), Pin(base[1] - far_snipe, 0.0)]
        pins = [*ends, *outer.upper(far_snipe)]
        return belt([*pins, *lower, *reversed(inner.upper(self.snipe))])

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
        soft = self.soft != "none"
        pins += self._soft_edge(width) if soft else self._upper(width, far)
        if self.snipe:
            pins.append(Pin(0.0, self.snipe))
        outline = belt(pins)
        turns = [abs(degrees(s.sweep)) for s in outline.segments if s.bulge < 0]
        if max(turns, default=0.0) > STEEPEST + 1e-9:
            raise GeometryError(
                f"a soft end turns through {max(turns):.0f} degrees; {STEEPEST:.0f} at most (a "
                "slope of 2 to 1 over the curve): lengthen that leg or shorten the other"
            )
        return outline

    def _soft_edge(self, width: float) -> list[Pin]:
        """Return the free edge of a triangle whose ends run out along the welded edges."""
        toe, curve = self.toe, self.soft_radius
        base = [Pin(width, toe), Pin(width - NOSE, toe + curve, -curve)]
        if self.soft == "base":
            top = [Pin(toe, self.height, 0.0, min(self.corner, toe / 2))]
        else:
            top = [Pin(toe + curve, self.height - NOSE, -curve), Pin(toe, self.height)]
        return [*base, *top, Pin(0.0, self.height)]

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
