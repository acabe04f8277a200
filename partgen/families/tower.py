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

Sides that lap lie on the rail's two sides: their gap is the rail's width and the spacers that a
wider joint needs (a ``spacer`` with this part as its ``mount`` makes them); a rail wider than the
joint leaves room that bosses or the joint's own end spacers fill. Sides that stand on top (``lap``
= 0) have the joint's gap. Lengths in mm; x along the rail from the tower's near foot. A bridge that
names this part boxes it.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, inf
from typing import ClassVar, Literal

from pydantic import Field

from partgen.entries.rail import Rail, RailName
from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.base_seams import base_seams
from partgen.families.eared import RUN_ON, EaredPart
from partgen.families.mount_fit import in_hand
from partgen.families.openings import RE_ENTRANT
from partgen.families.part import CORNER
from partgen.families.rail_seams import lower_part
from partgen.fields import Length, Margin, Size
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import fit_options
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.chain import Chain
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.plates.edges import ON, edges_on_line
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import KEEP_OUT, STOP, Seam, which_side
from partgen.plates.solid import FORWARD, LEFT, UP, Frame, Solid
from partgen.shop import Shop

LAP = 40.0  # mm; common practice, no source
SETBACK = 6.0  # mm from a side's edge to the back plate's end: room for a weld; likewise
DRAIN = 12.0  # mm, at least 10; common practice, no source


class Tower(EaredPart):
    """``family = "tower"``.

    Attributes:
        height: of the eye above the rail's upper edge [mm].
        base: length along the rail [mm].
        rail: name of the rail it is on, or one for each side; a pair that laps needs it.
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
    rail: RailName | None = None
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
        found = self.pair(shop, self.height, (self._x(), self.height))
        if found is None or self.joint is None or not self.lap:
            return found
        rail = self._lapped(shop)
        joint = shop.joint(self.joint)
        fits = fit_options(rail.width, joint.width, joint.side_clearance, shop.rack)
        t, clamped = self.plate.thickness, joint.width + 2 * fits[0].shim
        bolts = bolt_lengths(joint.bolt, t, clamped, t, joint.nut_height)
        return replace(
            found,
            fits=fits,
            bolts=bolts,
            in_hand=in_hand(joint, bolts[0]),
            astride=self.rail or "",
            pads=(self.base / 2, -self.lap / 2),
        )

    def _mount(self, shop: Shop) -> Mount:
        """Return the pair's sums, as they are made.

        Raises:
            GeometryError: no joint, or it and the rail do not go together.
        """
        found = shop.mounts.get(self.name) or self.as_mount(shop)
        if found is None:
            raise GeometryError("its gap follows from the joint; give 'joint'")
        return found

    def _lapped(self, shop: Shop) -> Rail:
        """Return the rail whose sides the pair lies on.

        Raises:
            GeometryError: none is named, or the lap reaches its lower corners.
        """
        if self.rail is None:
            raise GeometryError(
                f"lap = {self.lap:g} mm: the sides lie on the rail's sides, so the gap between "
                "them follows from the rail; give 'rail', or lap = 0 to stand on top of it"
            )
        rail = shop.rail(self.rail)
        most = rail.depth - rail.corner_radius
        if self.lap > most:
            raise GeometryError(
                f"lap = {self.lap:g} mm reaches beyond the flat of the rail's side; at most "
                f"{most:g} mm"
            )
        return rail

    def across(self, shop: Shop, ears: int) -> list[float]:
        """Return the middle plane of each side off the rail's middle, outward [mm].

        Raises:
            GeometryError: no such joint, or a pair without one.
        """
        if not self.lap or self.joint is None:
            return super().across(shop, ears)
        inner, outer = self._mount(shop).faces
        half = self.plate.thickness / 2
        return [inner - half, outer + half]

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
        """Return the rail, the sides astride it, the back between them, flush with their far edges.

        Raises:
            GeometryError: the parts of it do not go together.
        """
        if self.joint is None:
            return []
        plates = self.finished(shop)
        sides = self.ears_in_space(shop, plates[:2])
        if self.lap:  # pads may lie between them and the rail
            sides = [replace(s, apart=(0.0, 2 * s.apart[1], 0.0)) for s in sides]
        edge = _far_edge(self.outline(self.eye(shop).radius), self.upright)
        (x, z), (dx, dz) = edge.at(0.5), edge.direction(0.5)
        frame = Frame((x, self._mount(shop).middle, z), LEFT, (dx, 0.0, dz))
        return [
            *self._member(shop),
            *sides,
            *(Solid.of(p, frame, -p.thickness, (dz, 0.0, -dx)) for p in plates[2:]),
        ]

    def _member(self, shop: Shop) -> list[Solid]:
        """Return the stretch of rail under the tower, taken as straight."""
        if self.rail is None:
            return []
        rail = shop.rail(self.rail)
        x0, x1 = -RUN_ON, self.base + RUN_ON
        side = Frame((0.0, rail.width / 2, 0.0), FORWARD, UP)
        shape = rectangle(x1 - x0, rail.depth, 0.0, ((x0 + x1) / 2, -rail.depth / 2))
        return [Solid("rail", (shape,), side, rail.width)]

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
        rail = None if self.rail is None else shop.rail(self.rail)
        wall = rail.wall if rail else None
        hollow = f"rail {self.rail}" if rail else ""
        if not self.lap:
            found = base_seams(plate, "the rail's upper edge", wall)
            return [replace(seam, hollow=hollow) for seam in found]
        if self.joint and self._mount(shop).fit.spacers[0 if plate.name == "inner" else 1]:
            return []  # its pads are welded in its place
        return [self._on_rail(path, rail, hollow) for path in lower_part(plate.outline)]

    def _on_rail(self, path: Chain, rail: Rail | None, hollow: str) -> Seam:
        high = [KEEP_OUT if abs(p[1]) <= ON else STOP for p in (path[0].start, path[-1].end)]
        low = rail.depth if rail else inf

        def depth(p: Point) -> float:
            return min(-p[1], low + p[1])

        return Seam(edge=which_side(path), mate="the rail's side", path=path, sides=1, lap=True,
                    stops=(high[0], high[1]), depth=depth, hollow=hollow,
                    beside=rail.wall if rail else None)  # fmt: skip

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
        edge = _far_edge(outline, self.upright)
        length = hypot(edge.x1 - edge.x0, edge.y1 - edge.y0) - 2 * SETBACK
        width = self._mount(shop).fit.gap
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
