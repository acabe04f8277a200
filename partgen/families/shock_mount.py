r"""Shock mount: a pair of tabs for a shock's or coil-over's eye, with holes to choose the height.

          __
        / o  \      ``holes`` bolt holes, ``pitch`` apart, the first at (offset, height), the
       |  o   |     others along ``lean`` from the vertical
       |  o   |
      /        \
     |          |   foot
     |__________|   base at y = 0, flat; or a ``tube`` of that diameter, which the base lies on
         base

Lengths in mm.
"""

from __future__ import annotations

from dataclasses import replace
from math import asin, ceil, cos, hypot, inf, radians, sin, sqrt, tan
from typing import Literal, Self

from pydantic import Field, model_validator
from shapely import Point as Point2

from partgen.errors import GeometryError
from partgen.families.eared import Eye, need_wall, tube_under
from partgen.families.single_ear import SingleEar
from partgen.fields import Angle, Margin, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt
from partgen.geometry.ellipse import spliced
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point
from partgen.measure import per_unit
from partgen.plates.edges import ON, edges_where
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.shop import Shop

FIT_GAP = per_unit("in") / 64  # mm between tube and edge, 0 to 1/32 in; common practice, no source
SPACING = 3.0  # preferred distance of holes over bolt diameter: AISC 360-16 J3.3
SPAN = 0.85  # most of the tube's radius that half the base may take: no thin points at its ends


class ShockMount(SingleEar):
    """``family = "shock-mount"``.

    Attributes:
        eyes: bolt holes one above the other.
        pitch: from hole to hole; default so that a spanner clears a bolt in the next [mm].
        lean: of the row of holes from the vertical, forward positive [degrees].
        tube: outside diameter of a tube that the base sits on; none for a flat base [mm].
        wall: thickness of that tube's wall, for the leg of the weld [mm].
        fit_gap: between tube and base [mm].
        tabs: 2 for a pair, 1 for a single tab.
    """

    family: Literal["shock-mount"]  # type: ignore[assignment]
    eyes: int = Field(default=1, ge=1, le=12, strict=True)
    pitch: Size | None = None
    lean: Angle = Field(default=0.0, ge=-60, le=60)
    tube: Size | None = None
    wall: Size | None = None
    fit_gap: Margin = Field(default=FIT_GAP, le=5)
    tabs: Literal[1, 2] = 2

    @model_validator(mode="after")
    def _flat_where_it_stands(self) -> Self:
        if self.tube is not None and self.stands is not None:
            raise ValueError("give 'tube' (a round base) or 'stands' (a flat one), not both")
        if self.wall is not None and self.tube is None:
            raise ValueError("'wall' is a tube's; give 'tube' too")
        need_wall(self.wall, self.tube)
        return self

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return gap and bolt of the pair, at its lowest hole; nothing for a single tab.

        Raises:
            GeometryError: no such joint.
        """
        if self.tabs == 1:
            return None
        found = self.pair(shop, self._room(self.eye(shop).radius), (self.offset, self.height))
        return found and replace(
            found,
            bolt_name="joint" if self.eyes == 1 else "joint-1",
            sits_on="base" if self.tube is None else "tube",
        )

    def centres(self, eye: Eye) -> list[Point]:
        """Return the middles of the holes, lowest first [mm]."""
        pitch = self.pitch or _pitch(eye)
        dx, dy = sin(radians(self.lean)) * pitch, cos(radians(self.lean)) * pitch
        return [(self.offset + k * dx, self.height + k * dy) for k in range(self.eyes)]

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer tab, or the one.

        Raises:
            GeometryError: eye and base do not go together.
        """
        eye = self.eye(shop)
        outline = self.outline(eye)
        names = ("inner", "outer") if self.tabs == 2 else ("tab",)
        made = [self.piece(name, outline, eye, self.centres(eye)) for name in names]
        return self.on_tabs(made, shop)

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the tabs, on their tube where they have one.

        Raises:
            GeometryError: a pair without a joint.
        """
        if self.tabs == 2 and self.joint is None:
            return []
        tabs = self.ears_in_space(shop, self.finished(shop))
        if self.tube is None:
            return tabs
        half = self._half(self.eye(shop).radius)
        return [tube_under(tabs, self.tube, -self._sunk(self.tube, half)), *tabs]

    def _sunk(self, tube: float, half: float) -> float:
        """Return how far the tube's centre lies below the base's ends [mm]."""
        return sqrt(self._bore(tube, half) ** 2 - half * half)

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the base: flat, or the arc on its tube; a fillet on each face."""
        if self.tube is None:
            return super().seams(plate, shop)
        half = self._half(self.eye(shop).radius)
        bore = self._bore(self.tube, half)
        sunk = sqrt(bore * bore - half * half)

        def on_tube(p: Point) -> bool:
            return abs(hypot(p[0], p[1] + sunk) - bore) <= ON and p[1] < sunk + bore

        return [
            Seam(
                edge="base",
                mate=f"tube of {self.tube:g} mm",
                path=path,
                beside=self.wall,
                hollow=f"the tube of {self.tube:g} mm",
                share=self.tube / 2 / bore,
                gap=self.fit_gap,
            )
            for path in edges_where(plate.outline, on_tube)
        ]

    def outline(self, eye: Eye) -> Outline:  # type: ignore[override]
        """Return the outside edge with an ear round every hole.

        Raises:
            GeometryError: the eye is too near the base, or the base does not lie on its tube.
        """
        radius = eye.radius
        if self.height < radius:
            raise GeometryError(
                f"height = {self.height:g} mm is less than the ear's radius, {radius:g} mm; raise "
                "the eye"
            )
        half = self._half(radius)
        shape = self._round_all(eye, half)
        if self.tube is None:
            return shape
        bulge = -tan(asin(half / self._bore(self.tube, half)) / 2)
        return spliced(shape, [Vertex(-half, 0.0, bulge), Vertex(half, 0.0)])

    def _half(self, radius: float) -> float:
        """Return half the base; by default three ear radii, as far as a tube carries them [mm]."""
        if self.base is not None:
            return self.base / 2
        most = inf if self.tube is None else SPAN * (self.tube / 2 + self.fit_gap)
        return min(1.5 * radius, most)

    def _round_all(self, eye: Eye, half: float) -> Outline:
        """Return the belt round feet and ears; the lowest ear is a pin only where it sticks out."""
        centres, radius = self.centres(eye), eye.radius
        low, high = Pin(*centres[0], radius), Pin(*centres[-1], radius)
        feet = [Pin(x, self.foot, 0.0, self.blend) for x in (half, -half)] if self.foot else []
        first, last = [Pin(half, 0.0), *feet[:1]], [*feet[1:], Pin(-half, 0.0)]
        if self.eyes == 1:
            return belt([*first, low, *last])
        tries = ([high], [low, high], [high, low], [low, high, low])
        found, why = [], GeometryError("the row of holes leaves its base; make the base wider")
        for ears in tries:
            try:
                shape = belt([*first, *ears, *last])
            except GeometryError as error:
                why = error
                continue
            inside = shape.polygon("outside")
            if all(
                inside.contains(Point2(*p)) and shape.distance(p) >= radius - 1e-6 for p in centres
            ):
                found.append(shape)
        if not found:
            raise why
        return min(found, key=lambda shape: shape.area)

    def _bore(self, tube: float, half: float) -> float:
        """Return the radius of the base on a tube [mm]."""
        radius = tube / 2 + self.fit_gap
        if half > SPAN * radius:
            raise GeometryError(
                f"base = {2 * half:g} mm is too wide for a tube of {tube:g} mm; it takes at most "
                f"{2 * SPAN * radius:.1f} mm"
            )
        return radius

    def _room(self, radius: float) -> float:
        """Return the distance from the lowest hole to what the tabs are welded to [mm]."""
        if self.tube is None:
            return self.height
        sunk = self._sunk(self.tube, self._half(radius))
        return hypot(self.offset, self.height + sunk) - self.tube / 2


def _pitch(eye: Eye) -> float:
    """Return a distance of holes that leaves room for the spanner, or metal round a bore [mm].

    Never under 3 bolt diameters, the preferred spacing of AISC 360-16 J3.3.
    """
    if eye.bolt is None:
        return 2 * eye.radius
    bolt = eye.bolt
    widest = max(bolt.washer_diameter, bolt.head_corners, bolt.nut_corners)
    return float(ceil(max((bolt.tool_diameter + widest) / 2, SPACING * bolt.diameter)))
