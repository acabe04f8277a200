r"""Link mount: an inner and an outer plate on the sides of a rail, each with its ear.

    end     _______________________________________    end
           /                                       \       height on the rail
          /________________           ______________\      shelf above the rail's lower edge
             rear          \  root  /      front
                            \  o   /   ear: radius about the pivot
                             ``--''

The body follows the rail's lower edge, set up by the weld shelf; the ear is part of the plate.
Side view of the rail: +x forward (right), +y up; lengths in mm. The face you see is the one towards
the middle of the vehicle, on both hands.
"""

from __future__ import annotations

from math import ceil, radians, tan
from typing import Literal

from pydantic import Field

from partgen.belt import Pin, belt, corners
from partgen.bolting import bolt_lengths
from partgen.errors import GeometryError
from partgen.families.part import CORNER, RE_ENTRANT, HoleEntry, Part, WindowEntry
from partgen.fields import Angle, At, Entry, Margin, Size
from partgen.fit import fit_options
from partgen.joint import Joint
from partgen.measure import per_unit
from partgen.mount import Mount
from partgen.outline import Outline
from partgen.plate import Hole, Plate
from partgen.rail import Rail, chain, height_at
from partgen.segment import Point
from partgen.shop import Shop
from partgen.stock import PlateStock, Stock

EAR_PER_BOLT = 1.5  # ear radius over bolt diameter; common practice, no source
WELD_LEG = 5.0  # mm; common practice, no source
FLANK = 0.5  # how much an ear widens to its root, per length of flank; common practice, no source


class Side(Entry):
    """What one of the two plates has that the other lacks.

    Attributes:
        plate: its own thickness and material.
        windows: openings in this plate only, in the rail's side view.
        holes: bolt holes in this plate only, in the rail's side view.
    """

    plate: PlateStock | None = None
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)


class LinkMount(Part):
    """``family = "link-mount"``.

    Attributes:
        rail: name of the rail it is welded to.
        joint: name of the joint its ears hold.
        pivot: the bolt's centre in the rail's side view [mm].
        plate: thickness and material of both plates.
        rear: how far the body reaches behind the pivot [mm].
        front: how far it reaches ahead of the pivot [mm].
        height: of the body on the rail; default up to a weld shelf below the rail's top [mm].
        shelf: from the rail's lower edge to the body's; default corner radius + weld leg [mm].
        weld_leg: of the fillet along the body [mm].
        ear_radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        root: half the ear's width where it leaves the body [mm].
        blend: radius where the ear meets the body, and at kicks of the rail [mm].
        corner: radius of the body's corners [mm].
        ends: "square", "taper" (upper corners cut back) or "spear" (both cut back).
        taper: angle between the slanted ends and the rail [degrees].
        windows: openings in both plates.
        holes: bolt holes in both plates.
        inner: what only the inner plate has.
        outer: what only the outer plate has.
    """

    family: Literal["link-mount"]
    rail: str
    joint: str
    pivot: At
    plate: PlateStock
    rear: Size | None = None
    front: Size | None = None
    height: Size | None = None
    shelf: Margin | None = None
    weld_leg: Size = WELD_LEG
    ear_radius: Size | None = None
    root: Size | None = None
    blend: Margin = RE_ENTRANT
    corner: Margin = CORNER
    ends: Literal["square", "taper", "spear"] = "taper"
    taper: Angle = Field(default=45.0, ge=15, le=90)
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)
    inner: Side = Side()
    outer: Side = Side()

    def as_mount(self, shop: Shop) -> Mount:
        """Return gap, spacers and bolt of this mount.

        Raises:
            GeometryError: no such rail or joint.
        """
        rail, joint = shop.rail(self.rail), shop.joint(self.joint)
        fits = fit_options(rail.width, joint.width, joint.side_clearance, shop.rack)
        near, far = self.stock(self.outer).thickness, self.stock(self.inner).thickness
        clamped = joint.width + 2 * fits[0].shim
        return Mount(
            name=self.name,
            fits=fits,
            bolts=bolt_lengths(joint.bolt, near, clamped, far, joint.nut_height),
            bolt=joint.bolt,
            hands=self.hands_in(shop),
            count=self.count,
            room=rail.room(self.pivot),
            body_diameter=joint.body_diameter,
            pivot=self.pivot,
            rail=self.rail,
            joint=joint,
            ear=self.ear(joint, shop),
        )

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer plate, drawn for the left side.

        Raises:
            GeometryError: rail, joint and sizes do not go together; the message says why.
        """
        rail, joint = shop.rail(self.rail), shop.joint(self.joint)
        outline = self.outline(rail, self.ear(joint, shop))
        eye = Hole("joint", *self.pivot, joint.bolt.hole(joint.hole), joint.bolt)
        return [self._plate(name, side, outline, eye) for name, side in self._sides()]

    def stock(self, side: Side) -> Stock:
        """Return what one of the plates is cut from."""
        return side.plate or self.plate

    def ear(self, joint: Joint, shop: Shop) -> float:
        """Return the ear's radius [mm]: as asked, or from rule, washer and bolt, rounded up."""
        if self.ear_radius is not None:
            return self.ear_radius
        bolt = joint.bolt
        rule = shop.rule_set.edge_distance(bolt, bolt.hole(joint.hole)).value or 0.0
        least = max(rule, EAR_PER_BOLT * bolt.diameter, bolt.washer_diameter / 2)
        step = 1.0 if shop.unit == "mm" else per_unit("in") / 16
        return ceil(least / step - 1e-9) * step

    def outline(self, rail: Rail, ear: float) -> Outline:
        """Return the outside edge: body, ends and ear, as a belt round pins.

        Args:
            rail: the rail it lies on.
            ear: radius of the ear [mm].

        Raises:
            GeometryError: the body or the ear cannot exist.
        """
        shelf = rail.corner_radius + self.weld_leg if self.shelf is None else self.shelf
        height = rail.depth - 2 * shelf if self.height is None else self.height
        if shelf + height > rail.depth:
            raise GeometryError(
                f"height = {height:g} mm and shelf = {shelf:g} mm are more than the rail's depth, "
                f"{rail.depth:g} mm"
            )
        if height < 2 * self.corner + 1:
            raise GeometryError(
                f"height on the rail is {height:g} mm; with corner = {self.corner:g} mm it needs "
                f"{2 * self.corner + 1:g} mm; lower the shelf ({shelf:g} mm) or the corner radius"
            )
        x0, x1 = (
            self.pivot[0] - self._reach(self.rear, ear),
            self.pivot[0] + self._reach(self.front, ear),
        )
        low, high = self._cut_back(height)
        lower = rail.edge(shelf, x0 + low, x1 - low)
        upper = rail.edge(shelf + height, x0 + high, x1 - high)
        pins = [*self._under(lower, ear), *self._end(rail, shelf + height / 2, x1, 1)]
        pins += [*self._body(upper)[::-1], *self._end(rail, shelf + height / 2, x0, -1)]
        return belt(pins)

    def _reach(self, asked: float | None, ear: float) -> float:
        return 4 * ear if asked is None else asked

    def _cut_back(self, height: float) -> tuple[float, float]:
        """Return how far the lower and the upper edge stop short of the body's reach [mm]."""
        run = height / tan(radians(self.taper)) if self.taper < 90 else 0.0
        return {"square": (0.0, 0.0), "taper": (0.0, run), "spear": (run / 2, run / 2)}[self.ends]

    def _end(self, rail: Rail, middle: float, x: float, way: int) -> list[Pin]:
        if self.ends != "spear":
            return []
        inside = x - way * 1.0
        path = rail.edge(middle, min(x, inside), max(x, inside))
        return corners([path[-1] if way > 0 else path[0]], self.corner)

    def _body(self, edge: list[Point]) -> list[Pin]:
        """Return the pins along one long edge: corners at its ends, blends at the kicks."""
        return [
            *corners(edge[:1], self.corner),
            *corners(edge[1:-1], self.blend),
            *corners(edge[-1:], self.corner),
        ]

    def _under(self, lower: list[Point], ear: float) -> list[Pin]:
        """Return the pins of the lower edge, with the ear let in."""
        px, py = self.pivot
        if (
            py - height_at(lower, px) >= ear
            and min(s.distance(self.pivot) for s in chain(lower)) >= ear
        ):
            return self._body(lower)
        root = self.root
        if root is None:
            root = ear + FLANK * max(height_at(lower, px) - py, 0.0)
        left, right = px - root, px + root
        if left <= lower[0][0] or right >= lower[-1][0]:
            raise GeometryError(
                f"the ear's root (x = {left:g} to {right:g} mm) is wider than the body's lower "
                f"edge (x = {lower[0][0]:g} to {lower[-1][0]:g} mm); "
                "reach further or set a smaller root"
            )
        before = [p for p in lower if p[0] < left]
        after = [p for p in lower if p[0] > right]
        roots = [(left, height_at(lower, left)), (right, height_at(lower, right))]
        return [
            *corners(before[:1], self.corner),
            *corners([*before[1:], roots[0]], self.blend),
            Pin(px, py, ear),
            *corners([roots[1], *after[:-1]], self.blend),
            *corners(after[-1:], self.corner),
        ]

    def _sides(self) -> list[tuple[str, Side]]:
        return [("inner", self.inner), ("outer", self.outer)]

    def _plate(self, name: str, side: Side, outline: Outline, eye: Hole) -> Plate:
        stock = self.stock(side)
        windows = (*self.windows, *side.windows)
        holes = (*self.holes, *side.holes)
        return Plate(
            part=self.name,
            name=name,
            outline=outline,
            holes=(eye, *(h.hole(k) for k, h in enumerate(holes, 1))),
            windows=tuple(w.window(k) for k, w in enumerate(windows, 1)),
            thickness=stock.thickness,
            material=stock.material,
            count=self.count,
        )
