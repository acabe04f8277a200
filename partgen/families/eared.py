"""What families with ears share: the bolt hole, the metal round it, the pair as a mount."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, fsum
from typing import ClassVar, Self

from pydantic import Field, model_validator

from partgen.entries.joint import BoltSize, HoleFit
from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.mount_fit import in_hand
from partgen.families.openings import HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import Part
from partgen.fields import Size
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import Fit
from partgen.fit.mount import Mount
from partgen.geometry.outline import Outline, cos_sin
from partgen.geometry.segment import Point
from partgen.measure import per_unit
from partgen.plates.plate import Hole, Plate, Window
from partgen.plates.solid import FORWARD, UP, Frame, Solid, Vector, extents
from partgen.reference.bolt import Bolt
from partgen.shop import Shop

RUN_ON = 40.0  # mm of tube or rail beyond the plates in the assembly's picture
EAR_PER_BOLT = 1.5  # ear radius over bolt diameter; common practice, no source


@dataclass(frozen=True)
class Eye:
    """The opening of an ear and the metal round it.

    Attributes:
        bolt: what goes through; none for a bushing's bore.
        diameter: of the opening [mm].
        radius: of the ear [mm].
    """

    bolt: Bolt | None
    diameter: float
    radius: float


def ear_radius(bolt: Bolt, diameter: float, shop: Shop, asked: float | None = None) -> float:
    """Return an ear's radius: as asked, else by rule set, washer and 1.5 bolts, rounded up [mm].

    Raises:
        GeometryError: as asked it leaves no metal round the hole.
    """
    if asked is not None:
        return with_metal(asked, diameter)
    rule = shop.rule_set.edge_distance(bolt, diameter).value or 0.0
    least = max(rule, EAR_PER_BOLT * bolt.diameter, bolt.washer_diameter / 2)
    step = 1.0 if shop.unit == "mm" else per_unit("in") / 16
    return ceil(least / step - 1e-9) * step


def tube_under(ears: Sequence[Solid], diameter: float, height: float) -> Solid:
    """Return the round tube across the vehicle that ears sit on, run on beyond them.

    Args:
        ears: as placed.
        diameter: outside [mm].
        height: of its centre [mm].
    """
    (_, low, z0), (_, high, z1) = extents(p for ear in ears for p in ear.box)
    start = high + RUN_ON
    edge, away = Outline.circle(0.0, 0.0, diameter), 1.0 if z0 + z1 < 2 * height else -1.0
    parted = tuple(start - fsum(y for _, y, _ in ear.box) / 2 for ear in ears)
    return Solid(
        "tube",
        (edge,),
        Frame((0.0, start, height), FORWARD, UP),
        start - low + RUN_ON,
        (0.0, 0.0, away),
        parted_at=parted,
    )


def need_wall(wall: float | None, tube: float | None) -> None:
    """Refuse a wall of half a tube's diameter and more.

    Raises:
        ValueError: it is.
    """
    if wall is not None and tube is not None and wall >= tube / 2:
        raise ValueError(f"wall = {wall:g} mm must be less than half the tube, {tube / 2:g} mm")


def with_metal(asked: float, diameter: float) -> float:
    """Return an ear's radius as asked, if it is larger than the hole's [mm].

    Raises:
        GeometryError: no metal is left round the hole.
    """
    if asked <= diameter / 2:
        raise GeometryError(
            f"ear_radius = {asked:g} mm leaves no metal round the hole of {diameter:g} mm; "
            f"give more than {diameter / 2:g} mm, or none for the default"
        )
    return asked


class EaredPart(Part):
    """A part with a bolt hole in an ear.

    Attributes:
        joint: name of the joint that the ears hold.
        bolt: the bolt, where no ``joint`` gives it.
        fit: clearance of that bolt's hole, close, normal or loose; or a diameter [mm].
        plate: thickness and material.
        bore: diameter of a plain opening for a bushing, in place of the bolt's hole [mm].
        ear_radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        windows: more openings.
        holes: more bolt holes.
    """

    LIES: ClassVar[str] = "side"

    SITS_ON: ClassVar[str] = "base"

    joint: str | None = None
    bolt: BoltSize | None = None
    fit: HoleFit = "close"
    plate: PlateStock
    bore: Size | None = None
    ear_radius: Size | None = None
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)

    @model_validator(mode="after")
    def _joint_or_bolt(self) -> Self:
        given = (self.joint is not None) + (self.bolt is not None)
        if given > 1 or not (given or self.bore):
            raise ValueError("give either 'joint' (a joint of this job), or 'bolt', or a 'bore'")
        return self

    def eye(self, shop: Shop) -> Eye:
        """Return bolt, hole and radius of the ear.

        Raises:
            GeometryError: no such joint.
        """
        bolt, fit = self.bolt, self.fit
        if self.joint is not None:
            bolt, fit = shop.joint(self.joint).bolt, shop.joint(self.joint).hole
        if self.bore is not None or bolt is None:
            bore = self.bore or 0.0
            wall = shop.cutting.web(self.plate.thickness)
            return Eye(None, bore, with_metal(self.ear_radius or bore / 2 + wall, bore))
        diameter = bolt.hole(fit)
        return Eye(bolt, diameter, ear_radius(bolt, diameter, shop, self.ear_radius))

    def pair(
        self, shop: Shop, room: float, pivot: Point, near: float | None = None
    ) -> Mount | None:
        """Return the sums across two ears that stand a joint and its clearance apart.

        Args:
            shop: the job.
            room: from the bolt's centre to what the ears are welded to [mm].
            pivot: the bolt's centre [mm].
            near: what the bolt goes through at its head; default the other ear [mm].
        """
        if self.joint is None:
            return None
        joint, thickness = shop.joint(self.joint), self.plate.thickness
        gap = joint.width + joint.side_clearance
        bolts = bolt_lengths(
            joint.bolt, near or thickness, joint.width, thickness, joint.nut_height
        )
        return Mount(
            name=self.name,
            fits=[Fit(gap, joint.width, joint.side_clearance)],
            bolts=bolts,
            bolt=joint.bolt,
            hands=self.hands_in(shop),
            count=self.count,
            room=room,
            body_diameter=joint.body_diameter,
            pivot=pivot,
            joint=joint,
            in_hand=in_hand(joint, bolts[0]),
            sits_on=self.SITS_ON,
            ear_radius=self.eye(shop).radius,
        )

    def across(self, shop: Shop, ears: int) -> list[float]:
        """Return the middle plane of each ear off the middle of the pair, outward [mm].

        Raises:
            GeometryError: no such joint, or a pair without one.
        """
        if ears == 1:
            return [0.0]
        if self.joint is None:
            raise GeometryError(
                "how far its ears stand apart follows from the joint's width; give 'joint'"
            )
        joint = shop.joint(self.joint)
        half = (joint.width + joint.side_clearance + self.plate.thickness) / 2
        return [-half, half]

    def ears_in_space(
        self, shop: Shop, ears: Sequence[Plate], skew: float = 0.0, name: str = ""
    ) -> list[Solid]:
        """Return ears placed: inner and outer astride y = 0, one in the middle.

        Args:
            shop: the job.
            ears: as drawn.
            skew: by which they are turned in plan, the front outward [degrees].
            name: in the picture; default each ear's own.

        Raises:
            GeometryError: no such joint.
        """
        c, s = cos_sin(skew)
        u: Vector = (c, s, 0.0)
        placed = []
        for ear, out in zip(ears, self.across(shop, len(ears)), strict=True):
            way = 0.0 if len(ears) == 1 else 1.0 if out > 0 else -1.0
            edge = out - ear.thickness / 2  # its face nearer the vehicle's middle
            frame = Frame((-edge * s, edge * c, 0.0), u, UP)
            apart = (-way * s, way * c, 0.0)
            placed.append(Solid.of(ear, frame, -ear.thickness, apart, name))
        plain = self.plain(shop)
        if not plain:
            return placed
        return [replace(s, seated=p.outline) for s, p in zip(placed, plain, strict=True)]

    def plain(self, shop: Shop) -> list[Plate]:
        """Return the plates as they are without tabs; none where there are none."""
        return []

    def piece(self, name: str, outline: Outline, eye: Eye, at: Sequence[Point]) -> Plate:
        """Return a plate of this part with its eyes at points and the openings asked for."""
        names = ["joint"] if len(at) == 1 else [f"joint-{k}" for k in range(1, len(at) + 1)]
        eyes = list(zip(names, at, strict=True))
        bores = [Window(n, Outline.circle(*p, eye.diameter)) for n, p in eyes if not eye.bolt]
        holes = [Hole(n, *p, eye.diameter, eye.bolt) for n, p in eyes if eye.bolt]
        return Plate(
            part=self.name,
            name=name,
            outline=outline,
            holes=(*holes, *holes_of(self.holes)),
            windows=(*bores, *windows_of(self.windows)),
            thickness=self.plate.thickness,
            material=self.plate.material,
            count=self.count,
        )
