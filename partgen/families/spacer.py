r"""Spacer: a pad between a rail's face and a mount's plate, or any plain pad.

     __________
    /          \      rectangle, square or round, about (0, 0);
    |     o    |      a hole for a bolt if asked
    \__________/

With ``mount`` its thickness, its count and its hands come from that mount's fit: a wider joint
gives thicker spacers. Lengths in mm.
"""

from __future__ import annotations

from math import hypot
from typing import Literal, Self

from pydantic import model_validator

from partgen.entries.joint import BoltSize, HoleFit
from partgen.entries.stock import PlateStock, Stock
from partgen.families.pad_seams import pad_seams, pieces, stacks
from partgen.families.part import CORNER, MountedPart
from partgen.fields import Margin, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.plates.plate import Hole, Plate
from partgen.plates.seam import Seam
from partgen.plates.solid import FORWARD, UP, Frame, Solid, Vector
from partgen.shop import Shop


class Spacer(MountedPart):
    """``family = "spacer"``.

    Attributes:
        shape: "rectangle", "square" or "round".
        size: width and height of a rectangle [mm].
        side: of a square [mm].
        diameter: of a round one [mm].
        corner: radius of the corners, at most a quarter of the smaller side [mm].
        bolt: bolt of the hole in its middle, if any.
        hole: clearance of that bolt, close, normal or loose; or a diameter [mm].
        plate: thickness and material, where no ``mount`` gives them.
    """

    family: Literal["spacer"]
    shape: Literal["rectangle", "square", "round"] = "rectangle"
    size: tuple[Size, Size] | None = None
    side: Size | None = None
    diameter: Size | None = None
    corner: Margin = CORNER
    bolt: BoltSize | None = None
    hole: HoleFit = "normal"
    plate: PlateStock | None = None

    @model_validator(mode="after")
    def _sizes_suit_shape(self) -> Self:
        wanted = {"rectangle": "size", "square": "side", "round": "diameter"}[self.shape]
        given = [name for name in ("size", "side", "diameter") if getattr(self, name) is not None]
        if not given:
            raise ValueError(f"{wanted} is missing; shape '{self.shape}' takes it")
        if given != [wanted]:
            raise ValueError(
                f"shape '{self.shape}' takes '{wanted}' and no other size; given: "
                f"{', '.join(given)}"
            )
        if (self.mount is None) == (self.plate is None):
            raise ValueError("give either 'mount' (thickness from its fit) or 'plate'")
        return self

    def plates(self, shop: Shop) -> list[Plate]:
        """Return one plate, or an inner and an outer one where the mount's sides differ.

        Raises:
            GeometryError: no such mount, or the corner radius does not fit.
        """
        if self.plate is not None:
            return [self._plate("pad", self.plate, self.count)]
        mount = shop.mount(self.mount or "")
        made: dict[str, tuple[Stock, int]] = {}
        for name, pad in stacks(mount.fit):
            for piece, stock in zip(pieces(name, pad), pad, strict=True):
                made[piece] = stock, made.get(piece, (stock, 0))[1] + self.count * mount.count
        return [self._plate(piece, *stock_and_count) for piece, stock_and_count in made.items()]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return each edge once for what it meets: the rail, the next pad, or the mount's plate."""
        if self.mount is None:
            return []
        mount = shop.mount(self.mount)
        ear = min(mount.bolts[0].near_ear, mount.bolts[0].far_ear)
        rail = shop.rails.get(mount.rail_between)
        return pad_seams(plate, mount, ear, self.count * mount.count, rail.wall if rail else None)

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the pads beside the rail and along it, at ``place`` or in the plates' middle.

        Raises:
            GeometryError: no such mount, or the corner radius does not fit.
        """
        if self.mount is None:
            return super().solids(shop)
        mount = shop.mount(self.mount)
        if mount.ears is None and not mount.astride:
            return []
        fit, plates = mount.fit, {(p.thickness, p.material.name): p for p in self.finished(shop)}
        (x, z), along, up = self._on_rail(mount, shop)
        placed = []
        for pad, side in ((fit.inner, -1.0), (fit.outer, 1.0)):
            y = side * fit.rail_width / 2
            for k, stock in enumerate(pad):
                frame, apart = Frame((x, y, z), along, up), (0.0, side * (1 + 0.2 * k), 0.0)
                plate = plates[stock.thickness, stock.material.name]
                placed.append(Solid.of(plate, frame, -side * stock.thickness, apart, self.name))
                y += side * stock.thickness
        return placed

    def _on_rail(self, mount: Mount, shop: Shop) -> tuple[Point, Vector, Vector]:
        """Return the pad's middle in side view, and where its length and its height point."""
        ears = mount.ears
        if ears is None:
            return mount.seen(self.place or mount.pads), FORWARD, UP
        lower, (x0, _, x1, _) = shop.rail(mount.rail).lower, self.outline().box
        x = self.place[0] if self.place else ears.middle
        rise = lower.height(x + x1) - lower.height(x + x0)
        c, s = (x1 - x0) / hypot(x1 - x0, rise), rise / hypot(x1 - x0, rise)
        high = (ears.low + ears.high) / 2
        at = self.place or (x - s * high, lower.height(x) + c * high)
        return at, (c, 0.0, s), (-s, 0.0, c)

    def outline(self) -> Outline:
        """Return the outside edge.

        Raises:
            GeometryError: the corner radius does not fit.
        """
        if self.diameter is not None:
            return Outline.circle(0.0, 0.0, self.diameter)
        width, height = self.size or (self.side or 0.0, self.side or 0.0)
        return rectangle(width, height, min(self.corner, width / 4, height / 4))

    def _plate(self, name: str, stock: Stock, count: int) -> Plate:
        holes: tuple[Hole, ...] = ()
        if self.bolt is not None:
            holes = (Hole("bolt", 0.0, 0.0, self.bolt.hole(self.hole), self.bolt),)
        return Plate(
            part=self.name,
            name=name,
            outline=self.outline(),
            holes=holes,
            thickness=stock.thickness,
            material=stock.material,
            count=count,
        )
