r"""Tower: the two side plates and the back of a coil-over's upper mount on a rail.

            __
          /  o \         eye at (offset, height)
         /      |
        /       |        the back plate stands along this edge, as wide as the gap between the
       /        |        sides (the far edge, at x = base)
      |         |
      |_ _ _ _ _|  y = 0, the rail's upper edge
      |_________|  lap on the rail's side
          base

Lengths in mm; x along the rail from the tower's near foot. A bridge that names this part boxes it.
"""

from __future__ import annotations

from math import hypot
from typing import ClassVar, Literal

from pydantic import Field

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.base_seams import base_seams
from partgen.families.eared import EaredPart
from partgen.families.openings import RE_ENTRANT
from partgen.families.part import CORNER
from partgen.fields import Length, Margin, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.chain import Chain, length
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Segment
from partgen.plates.edges import LEAST, ON, edges_of, edges_on_line
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import KEEP_OUT, STOP, Seam, which_side
from partgen.plates.solid import LEFT, Frame, Solid
from partgen.shop import Shop

LAP = 40.0  # mm; common practice, no source
SETBACK = 6.0  # mm from a side's edge to the back plate's end: room for a weld; likewise
DRAIN = 12.0  # mm, at least 10; common practice, no source


class Tower(EaredPart):
    """``family = "tower"``.

    Attributes:
        height: of the eye above the rail's upper edge [mm].
        base: length along the rail [mm].
        offset: of the eye from the base's beginning; default its middle [mm].
        lap: how far the sides lie on the rail's side; 0 stands on top [mm].
        upright: height of the upright ends above the rail's upper edge [mm].
        corner: radius of the lower corners [mm].
        blend: radius where the upright ends turn to the ear [mm].
        back: thickness and material of the back plate; none leaves it out.
        drain: diameter of a hole at the back plate's foot; 0 for none [mm].
    """

    SITS_ON: ClassVar[str] = "rail"

    family: Literal["tower"]
    height: Size
    base: Size
    offset: Length | None = None
    lap: Margin = LAP
    upright: Margin = Field(default=RE_ENTRANT)
    corner: Margin = CORNER
    blend: Margin = RE_ENTRANT
    back: PlateStock | None = None
    drain: Margin = DRAIN

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return gap and bolt of the pair of sides.

        Raises:
            GeometryError: no such joint.
        """
        return self.pair(shop, self.height, (self._x(), self.height))

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer side, and the back plate.

        Raises:
            GeometryError: eye and base do not go together, or a back plate without a joint.
        """
        eye = self.eye(shop)
        outline = self.outline(eye.radius)
        at = [(self._x(), self.height)]
        made = [self.piece(name, outline, eye, at) for name in ("inner", "outer")]
        if self.back is not None:
            made.append(self._back(self.back, outline, shop))
        return made

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the sides astride y = 0, the back between them, flush with their far edges.

        Raises:
            GeometryError: the parts of it do not go together.
        """
        if self.joint is None:
            return []
        plates = self.finished(shop)
        sides = self.ears_in_space(shop, plates[:2])
        edge = _far_edge(self.outline(self.eye(shop).radius), self.upright)
        (x, z), (dx, dz) = edge.at(0.5), edge.direction(0.5)
        frame = Frame((x, 0.0, z), LEFT, (dx, 0.0, dz))
        return [*sides, *(Solid.of(p, frame, -p.thickness, (dz, 0.0, -dx)) for p in plates[2:])]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return a side's edges on the rail, or those of the back plate between the sides.

        Without a lap a side stands on the rail; with one it lies on the rail's side and its ends
        stop at the keep-out below the upper edge. The back plate is welded from outside.
        """
        if plate.name == "back":
            x0, _, x1, _ = plate.outline.box
            return [
                Seam(
                    edge=which_side(path),
                    mate=f"{self.name} side",
                    path=path,
                    sides=1,
                    beside=self.plate.thickness,
                )
                for at in (x0, x1)
                for path in edges_on_line(plate.outline, 0, at)
            ]
        if not self.lap:
            return base_seams(plate, "the rail's upper edge")
        return [self._on_rail(path) for path in lower_part(plate.outline)]

    def _on_rail(self, path: Chain) -> Seam:
        high = [KEEP_OUT if abs(p[1]) <= ON else STOP for p in (path[0].start, path[-1].end)]
        return Seam(edge=which_side(path), mate="the rail's side", path=path, sides=1, lap=True,
                    stops=(high[0], high[1]), depth=lambda p: -p[1])  # fmt: skip

    def outline(self, radius: float) -> Outline:
        """Return the outside edge of a side with an ear of ``radius`` [mm].

        Raises:
            GeometryError: the eye is too low, or ear and base do not go together.
        """
        if self.height - radius < self.upright:
            raise GeometryError(
                f"height = {self.height:g} mm: an ear of radius {radius:g} mm reaches below the "
                f"upright ends ({self.upright:g} mm); raise the eye"
            )
        low = -self.lap
        return belt(
            [
                Pin(0.0, low, 0.0, self.corner if self.lap else 0.0),
                Pin(self.base, low, 0.0, self.corner if self.lap else 0.0),
                Pin(self.base, self.upright, 0.0, self.blend),
                Pin(self._x(), self.height, radius),
                Pin(0.0, self.upright, 0.0, self.blend),
            ]
        )

    def _x(self) -> float:
        return self.base / 2 if self.offset is None else self.offset

    def _back(self, stock: PlateStock, outline: Outline, shop: Shop) -> Plate:
        """Return the back plate: as wide as the gap, as long as the far sloping edge."""
        if self.joint is None:
            raise GeometryError("back: its width follows from the joint's; give 'joint'")
        joint = shop.joint(self.joint)
        edge = _far_edge(outline, self.upright)
        length = hypot(edge.x1 - edge.x0, edge.y1 - edge.y0) - 2 * SETBACK
        width = joint.width + joint.side_clearance
        if length < width / 2:
            raise GeometryError(
                f"back: the sloping edge leaves a back plate {max(length, 0):.1f} mm long; make "
                "the tower higher"
            )
        drains: tuple[Window, ...] = ()
        if self.drain:
            low = 1.5 * self.drain - length / 2
            drains = (Window("drain", Outline.circle(0.0, low, self.drain)),)
        return Plate(
            part=self.name,
            name="back",
            outline=rectangle(width, length),
            windows=drains,
            thickness=stock.thickness,
            material=stock.material,
            count=self.count,
        )


def _far_edge(outline: Outline, above: float) -> Segment:
    """Return the straight edge on the far side that rises to the ear, above the upright ends."""
    rising = [s for s in outline.segments if not s.bulge and s.y1 > s.y0 >= above - 1e-6]
    if not rising:
        raise GeometryError("back: no straight edge rises to the ear; make the tower higher")
    return max(rising, key=lambda s: s.length)


def lower_part(outline: Outline) -> list[Chain]:
    """Return the edges below y = 0, those that go on above it cut off there."""
    found = []
    for path in edges_of(outline):
        kept = tuple(
            _below(s) if max(s.y0, s.y1) > ON else s
            for s in path
            if min(s.y0, s.y1) < -ON and not (s.bulge and max(s.y0, s.y1) > ON)
        )
        if kept and length(kept) >= LEAST:
            found.append(kept)
    return found


def _below(s: Segment) -> Segment:
    """Return the part of a line that lies below y = 0."""
    at = s.x0 - s.y0 * (s.x1 - s.x0) / (s.y1 - s.y0)
    return Segment(at, 0.0, s.x1, s.y1) if s.y0 > 0 else Segment(s.x0, s.y0, at, 0.0)
