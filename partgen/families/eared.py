"""What families with ears share: the bolt hole, the metal round it, the pair as a mount."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Self

from pydantic import Field, model_validator

from partgen.entries.joint import BoltSize, Fit
from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.mount_fit import in_hand
from partgen.families.openings import HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import Part
from partgen.fields import Size
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import Fit as GapFit
from partgen.fit.mount import Mount
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.measure import per_unit
from partgen.plates.plate import Hole, Plate, Window
from partgen.reference.bolt import Bolt
from partgen.shop import Shop

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
        fit: clearance of that bolt's hole: close, normal or loose.
        plate: thickness and material.
        bore: diameter of a plain opening for a bushing, in place of the bolt's hole [mm].
        ear_radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        windows: more openings.
        holes: more bolt holes.
    """

    joint: str | None = None
    bolt: BoltSize | None = None
    fit: Fit = "close"
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
            fits=[GapFit(gap, joint.width, joint.side_clearance)],
            bolts=bolts,
            bolt=joint.bolt,
            hands=self.hands_in(shop),
            count=self.count,
            room=room,
            body_diameter=joint.body_diameter,
            pivot=pivot,
            joint=joint,
            in_hand=in_hand(joint, bolts[0]),
        )

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
