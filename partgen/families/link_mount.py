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

from dataclasses import replace
from math import fsum
from typing import ClassVar, Literal

from pydantic import Field

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail, RailName
from partgen.entries.stock import PlateStock, Stock
from partgen.families.body import Body
from partgen.families.ear import Ear, EarEntry
from partgen.families.eared import ear_radius
from partgen.families.leaning import bend_marks, lean_of, leaning
from partgen.families.mount_fit import in_hand, mount_fits
from partgen.families.mount_solids import on_rail
from partgen.families.openings import RE_ENTRANT, HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import CORNER, Part
from partgen.families.rail_seams import rail_seams
from partgen.families.seats import seats
from partgen.families.side import Side
from partgen.fields import Angle, At, Length, Margin, Size
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import Fit
from partgen.fit.mount import Ears, Lean, Mount, Seat
from partgen.geometry.bending import RADIUS_PER_THICKNESS
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.fold import Fold
from partgen.plates.plate import Hole, Plate
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.shop import Shop

WELD_ROOM = 5.0  # mm of shelf for a fillet nobody named; common practice, no source


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
        shelf: from the rail's lower edge to the body's; default its corner radius + leg or 5 [mm].
        weld_leg: of the fillet along the body; default by the thinner plate's thickness [mm].
        ear_radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        root: half the ear's width where it leaves the body [mm].
        ear_angle: by which the ears lean outward, bent along a line [degrees].
        bend_radius: inside radius of that bend; default twice the thickness [mm].
        bend_drop: from the rail's lower edge down to where the bend begins [mm].
        blend: radius where an ear meets the body [mm].
        corner: radius of the body's corners [mm].
        ends: "square", "taper" (upper corners cut back) or "spear" (both cut back).
        taper: angle between the slanted ends and the rail [degrees].
        shift: how far outward of the rail's centre the joint should sit [mm].
        coating: paint or powder on each face beside the joint [mm].
        lean: how far each ear is expected to lean in by welding; 0: the dummy holds it [degrees].
        spacer_plates: most plates stacked in one spacer, 1 or 2.
        windows: openings in both plates.
        holes: bolt holes in both plates.
        inner: what only the inner plate has.
        outer: what only the outer plate has.
    """

    LIES: ClassVar[str] = "side"
    NO_SEAM: ClassVar[str] = ""  # its pads are welded in its place
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
    weld_leg: Size | None = None
    ear_radius: Size | None = None
    root: Size | None = None
    ear_angle: Angle = Field(default=0.0, ge=-45, le=45)
    bend_radius: Size | None = None
    bend_drop: Margin = 0.0
    blend: Margin = RE_ENTRANT
    corner: Margin = CORNER
    ends: Literal["square", "taper", "spear"] = "taper"
    taper: Angle = Field(default=45.0, ge=15, le=90)
    shift: Length = 0.0
    coating: Margin = 0.0
    lean: Angle = Field(default=0.0, ge=0, le=10)
    spacer_plates: Literal[1, 2] = 2
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
        near, far = self.stock(self.outer).thickness, self.stock(self.inner).thickness
        ears, fits = self._ears(rail, joint, shop), self._fits(shop)
        clamped = joint.width + 2 * fits[0].shim
        bolts = bolt_lengths(joint.bolt, near, clamped, far, joint.nut_height)
        return Mount(
            name=self.name, fits=fits, bolts=bolts, bolt=joint.bolt,
            hands=self.hands_in(shop),
            count=self.count,
            room=self._room(rail),
            body_diameter=joint.body_diameter,
            pivot=self.pivot,
            rail=self.rail,
            joints=1 + len(self.ears),
            rail_edge=(self.pivot[0], rail.lower.height(self.pivot[0])),
            rail_depth=rail.depth,
            ear_angle=self.ear_angle,
            seats=self._seats(shop),
            joint=joint,
            ears=ears,
            in_hand=in_hand(joint, bolts[0]),
            holes=tuple((h.name or str(k), h.at) for k, h in enumerate(self.holes, 1)),
            bend=self._bend(shop),
        )  # fmt: skip

    def _room(self, rail: Rail) -> float:
        return min(rail.room(hole) for _, hole, _ in self._eyes())

    def _fits(self, shop: Shop) -> list[Fit]:
        rail = shop.rail(self.rail)
        low = self._ears(rail, shop.joint(self.joint), shop).low
        return mount_fits(self, shop, max(self._room(rail) + low, 0.0))

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer plate, drawn for the left side.

        Raises:
            GeometryError: rail, joint and sizes do not go together; the message says why.
        """
        rail, joint = shop.rail(self.rail), shop.joint(self.joint)
        size, radius = joint.bolt.hole(joint.hole), self.ear(joint, shop)
        made = []
        for name, side in self._sides():
            ears, folds = self._ears_of(name, shop)
            outline = self._body(rail, radius).outline(ears)
            places = [hole for ear in ears for hole in ear.holes]
            eyes = tuple(
                Hole(eye, *at, size, joint.bolt, chosen)
                for (eye, _, chosen), at in zip(self._eyes(), places, strict=True)
            )
            marks, _ = bend_marks(outline, folds)
            made.append(replace(self._plate(name, side, outline, eyes), marks=marks))
        return made

    def _ears_of(self, name: str, shop: Shop) -> tuple[list[Ear], list[Fold]]:
        """Return one plate's ears as drawn flat, and their bends."""
        ears = self._all_ears(self.ear(shop.joint(self.joint), shop))
        if not self.ear_angle:
            return ears, []
        side = self.inner if name == "inner" else self.outer
        thickness = self.stock(side).thickness
        shared, gap = self._shared_radius(), self._fits(shop)[0].gap
        bent = [
            leaning(
                ear,
                shop.rail(self.rail).lower,
                angle=self.ear_angle,
                radius=self._bend_radius(side),
                thickness=thickness,
                drop=self.bend_drop,
                out=(gap + thickness) / 2 * (-1 if name == "inner" else 1),
                shared=shared,
            )
            for ear in ears
        ]
        return [ear for ear, _ in bent], [fold for _, fold in bent]

    def _bend(self, shop: Shop) -> Lean | None:
        folds = (self._ears_of(name, shop)[1][0] for name, _ in self._sides())
        return lean_of(*folds) if self.ear_angle else None

    def _seats(self, shop: Shop) -> tuple[Seat, ...]:
        ears = self._all_ears(self.ear(shop.joint(self.joint), shop))
        return seats(self._eyes(), ears, self._ears_of("inner", shop)[1], self._shared_radius())

    def _shared_radius(self) -> float:
        return fsum(self.middle_radius(side) for _, side in self._sides()) / 2

    def middle_radius(self, side: Side) -> float:
        """Return the radius of a plate's middle layer where its ears bend [mm]."""
        return self._bend_radius(side) + self.stock(side).thickness / 2

    def _bend_radius(self, side: Side) -> float:
        return self.bend_radius or RADIUS_PER_THICKNESS * self.stock(side).thickness

    def _eyes(self) -> list[tuple[str, Point, str]]:
        """Return name and place of every hole for a joint, and the hole it may stand in for."""
        named = [("joint", self.pivot, self.adjust)]
        named += [(e.name or f"joint-{k}", e.pivot, e.adjust) for k, e in enumerate(self.ears, 2)]
        return [
            (f"{name}-adjust-{k}", hole, name) if k else (name, hole, "")
            for name, pivot, adjust in named
            for k, hole in enumerate((pivot, *adjust))
        ]

    def stock(self, side: Side) -> Stock:
        """Return what one of the plates is cut from."""
        return side.plate or self.plate

    def ear(self, joint: Joint, shop: Shop) -> float:
        """Return the ear's radius [mm]: as asked, or from rule, washer and bolt, rounded up."""
        return ear_radius(joint.bolt, joint.bolt.hole(joint.hole), shop, self.ear_radius)

    def _ears(self, rail: Rail, joint: Joint, shop: Shop) -> Ears:
        low, height = self._body_heights(rail)
        ear = self.ear(joint, shop)
        body = self._body(rail, ear)
        return Ears(ear, low, low + height, rail.depth, rail.corner_radius, (body.x0 + body.x1) / 2)

    def leg(self, shop: Shop) -> float:
        """Return the leg of the fillet along the body, asked or usual [mm]."""
        edge = thinner = min(self.stock(side).thickness for _, side in self._sides())
        wall = shop.rail(self.rail).wall
        if wall is not None and not all(shop.mount(self.name).fit.spacers):
            thinner = min(thinner, wall)
        return self.weld_leg or shop.usual_leg(thinner, edge)

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edges on the rail; none where pads lie between."""
        pads = shop.mount(self.name).fit.spacers[0 if plate.name == "inner" else 1]
        return [] if pads else rail_seams(plate, self.rail, shop.rail(self.rail), self.leg(shop))

    def _body_heights(self, rail: Rail) -> tuple[float, float]:
        """Return how far above the rail's lower edge the body begins, and its height [mm]."""
        room = self.weld_leg or WELD_ROOM
        shelf = rail.corner_radius + room if self.shelf is None else self.shelf
        return shelf, rail.depth - 2 * shelf if self.height is None else self.height

    def _body(self, rail: Rail, ear: float) -> Body:
        """Return the body; ``ear`` is the ear's radius [mm]."""
        shelf, height = self._body_heights(rail)
        return Body(
            rail=rail,
            x0=self.pivot[0] - (4 * ear if self.rear is None else self.rear),
            x1=self.pivot[0] + (4 * ear if self.front is None else self.front),
            shelf=shelf, height=height, follows_top=self.height is None,
            ends=self.ends, taper=self.taper, corner=self.corner, blend=self.blend,
        )  # fmt: skip

    def _all_ears(self, radius: float) -> list[Ear]:
        own = Ear((self.pivot, *self.adjust), radius, self.root)
        return [own, *(e.ear(radius) for e in self.ears)]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the rail and the two plates; y from the middle of the rail, left side."""
        folds = {name: self._ears_of(name, shop)[1] for name, _ in self._sides()}
        return on_rail(self.finished(shop), shop.rail(self.rail), shop.mount(self.name), folds)

    def _sides(self) -> list[tuple[str, Side]]:
        return [("inner", self.inner), ("outer", self.outer)]

    def _plate(self, name: str, side: Side, outline: Outline, eyes: tuple[Hole, ...]) -> Plate:
        return Plate(
            part=self.name,
            name=name,
            outline=outline,
            holes=(*eyes, *holes_of((*self.holes, *side.holes))),
            windows=windows_of((*self.windows, *side.windows)),
            thickness=self.stock(side).thickness,
            material=self.stock(side).material,
            count=self.count,
        )
