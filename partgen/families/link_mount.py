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

from math import ceil, degrees, radians, tan
from typing import Literal

from pydantic import Field

from partgen.bolting import bolt_lengths
from partgen.crossing import turn_at
from partgen.errors import GeometryError
from partgen.families.ear import Ear, EarEntry, under
from partgen.families.part import CORNER, RE_ENTRANT, HoleEntry, Part, WindowEntry
from partgen.fields import Angle, At, Entry, Margin, Size
from partgen.fit import fit_options
from partgen.joint import Joint
from partgen.measure import per_unit
from partgen.mount import Mount
from partgen.outline import Outline, distance
from partgen.path import Path
from partgen.plate import Hole, Plate
from partgen.rail import Rail, RailName
from partgen.rounding import SHARP, Corner, rounded
from partgen.segment import Point, Segment, chain
from partgen.shop import Shop
from partgen.stock import PlateStock, Stock

EAR_PER_BOLT = 1.5  # ear radius over bolt diameter; common practice, no source
WELD_LEG = 5.0  # mm; common practice, no source


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
        rail: name of the rail it is welded to, or one for each side: { left = ..., right = ... }.
        joint: name of the joint its ears hold.
        pivot: the bolt's centre in the rail's side view [mm].
        adjust: further holes for the same bolt in the same ear, to choose from [mm].
        ears: more ears on the same plates.
        plate: thickness and material of both plates.
        rear: how far the body reaches behind the pivot [mm].
        front: how far it reaches ahead of the pivot [mm].
        height: of the body on the rail; default up to a weld shelf below the rail's top [mm].
        shelf: from the rail's lower edge to the body's; default corner radius + weld leg [mm].
        weld_leg: of the fillet along the body [mm].
        ear_radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        root: half the ear's width where it leaves the body [mm].
        blend: radius where an ear meets the body [mm].
        corner: radius of the body's corners [mm].
        ends: "square", "taper" (upper corners cut back) or "spear" (both cut back).
        taper: angle between the slanted ends and the rail [degrees].
        windows: openings in both plates.
        holes: bolt holes in both plates.
        inner: what only the inner plate has.
        outer: what only the outer plate has.
    """

    family: Literal["link-mount"]
    rail: RailName
    joint: str
    pivot: At
    adjust: tuple[At, ...] = Field(default=(), max_length=20)
    ears: tuple[EarEntry, ...] = Field(default=(), max_length=20)
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
            room=min(rail.room(hole) for _, hole in self._eyes()),
            body_diameter=joint.body_diameter,
            pivot=self.pivot,
            joints=1 + len(self.ears),
        )

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer plate, drawn for the left side.

        Raises:
            GeometryError: rail, joint and sizes do not go together; the message says why.
        """
        rail, joint = shop.rail(self.rail), shop.joint(self.joint)
        outline = self.outline(rail, self.ear(joint, shop))
        size = joint.bolt.hole(joint.hole)
        eyes = tuple(Hole(name, *at, size, joint.bolt) for name, at in self._eyes())
        return [self._plate(name, side, outline, eyes) for name, side in self._sides()]

    def _eyes(self) -> list[tuple[str, Point]]:
        """Return name and place of every hole for the joint's bolt."""
        named = [("joint", self.pivot, self.adjust)]
        named += [(e.name or f"joint-{k}", e.pivot, e.adjust) for k, e in enumerate(self.ears, 2)]
        return [
            (name if k == 0 else f"{name}-adjust-{k}", hole)
            for name, pivot, adjust in named
            for k, hole in enumerate((pivot, *adjust))
        ]

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

    def _body_heights(self, rail: Rail) -> tuple[float, float]:
        """Return how far above the rail's lower edge the body begins, and its height [mm]."""
        shelf = rail.corner_radius + self.weld_leg if self.shelf is None else self.shelf
        return shelf, rail.depth - 2 * shelf if self.height is None else self.height

    def outline(self, rail: Rail, ear: float) -> Outline:
        """Return the outside edge: body, ends and ears.

        Args:
            rail: the rail it lies on.
            ear: radius of the ear [mm].

        Raises:
            GeometryError: the body or an ear cannot exist.
        """
        low, high, tips = self._body(rail, ear)
        edge = under(low, self._all_ears(ear), self.corner, self.blend)
        back = [s.reversed() for s in reversed(high.segments)]
        front = [low.end, *tips[1], high.end]
        rear = [high.start, *tips[0], low.start]
        corners = [*edge, *self._lines(front), *((s, 0.0) for s in back), *self._lines(rear)]
        top = len(edge) + len(front) - 1
        corners[top] = (corners[top][0], self.corner)
        shown = [(s, self._inside(corners[k - 1][0], s, r)) for k, (s, r) in enumerate(corners)]
        return rounded(shown)

    def _lines(self, points: list[Point]) -> list[Corner]:
        return [(s, self.corner) for s in chain(points)]

    def _inside(self, before: Segment, s: Segment, radius: float) -> float:
        """Return the radius of a corner; a sharp inside kick of the rail is blended too."""
        return radius or (self.blend if degrees(turn_at(before, s)) < -SHARP else 0.0)

    def _body(self, rail: Rail, ear: float) -> tuple[Path, Path, tuple[list[Point], list[Point]]]:
        """Return the lower and the upper edge, and the points between them at rear and front."""
        shelf, height = self._body_heights(rail)
        if shelf + height > rail.depth:
            raise GeometryError(
                f"height = {height:g} mm and shelf = {shelf:g} mm are more than the rail's depth, "
                f"{rail.depth:g} mm"
            )
        x0 = self.pivot[0] - (4 * ear if self.rear is None else self.rear)
        x1 = self.pivot[0] + (4 * ear if self.front is None else self.front)
        low = rail.above(shelf, x0, x1)
        if self.height is None:
            high = rail.below(shelf, shelf + height, x0, x1)
        else:
            high = rail.above(shelf + height, x0, x1)
        self._need_height(rail, low, high, shelf)
        cut_low, cut_high = self._cut_back(distance(low.segments, high.segments))
        tips: tuple[list[Point], list[Point]] = ([], [])
        if self.ends == "spear":
            tips = (
                [(x0, (low.height(x0) + high.height(x0)) / 2)],
                [(x1, (low.height(x1) + high.height(x1)) / 2)],
            )
        if x1 - x0 <= 2 * max(cut_low, cut_high) + 1:
            raise GeometryError(
                f"the plate is {x1 - x0:g} mm long, too short for its slanted ends; reach further "
                "or set a larger taper"
            )
        return (
            low.between(x0 + cut_low, x1 - cut_low),
            high.between(x0 + cut_high, x1 - cut_high),
            tips,
        )

    def _need_height(self, rail: Rail, low: Path, high: Path, shelf: float) -> None:
        height = distance(low.segments, high.segments)
        middle = high.segments[len(high.segments) // 2].at(0.5)
        if middle[1] < low.height(middle[0]):
            height = -height
        if height < 2 * self.corner + 1:
            raise GeometryError(
                f"height on the rail is {height:g} mm; with corner = {self.corner:g} mm it needs "
                f"{2 * self.corner + 1:g} mm; lower the shelf ({shelf:g} mm) or the corner radius"
            )
        if rail.upper_edge is not None and rail.shelf_above(high) < -1e-6:
            raise GeometryError(
                f"the plate reaches {-rail.shelf_above(high):g} mm above the rail's measured upper "
                "edge; set a smaller height"
            )

    def _cut_back(self, height: float) -> tuple[float, float]:
        """Return how far the lower and the upper edge stop short of the body's reach [mm]."""
        run = height / tan(radians(self.taper)) if self.taper < 90 else 0.0
        return {"square": (0.0, 0.0), "taper": (0.0, run), "spear": (run / 2, run / 2)}[self.ends]

    def _all_ears(self, radius: float) -> list[Ear]:
        own = Ear((self.pivot, *self.adjust), radius, self.root)
        return [own, *(e.ear(radius) for e in self.ears)]

    def _sides(self) -> list[tuple[str, Side]]:
        return [("inner", self.inner), ("outer", self.outer)]

    def _plate(self, name: str, side: Side, outline: Outline, eyes: tuple[Hole, ...]) -> Plate:
        stock = self.stock(side)
        windows = (*self.windows, *side.windows)
        holes = (*self.holes, *side.holes)
        return Plate(
            part=self.name,
            name=name,
            outline=outline,
            holes=(*eyes, *(h.hole(k) for k, h in enumerate(holes, 1))),
            windows=tuple(w.window(k) for k, w in enumerate(windows, 1)),
            thickness=stock.thickness,
            material=stock.material,
            count=self.count,
        )
