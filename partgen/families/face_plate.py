r"""Face plate: the face of a boxed crossmember, with ears, arches and openings.

     _______________________________________________
    |  o                                         o  |
    |          ( shaft )        __________          |    height, from y = 0 up
    |  o                       |__________|      o  |
    |____        ___________          ______________|
         \  o  /            \  ____  /                   ears hang below the lower edge,
          `---'              `      '                    arches rise from it

x runs from 0 to ``length``. Ears hold links or a strap; arches are rounded reliefs for a shaft or
an exhaust; every corner that turns inward is blended. Lengths in mm.
"""

from __future__ import annotations

from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from partgen.entries.joint import BoltSize, HoleFit
from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.eared import ear_radius
from partgen.families.openings import RE_ENTRANT, HoleEntry, WindowEntry, holes_of, windows_of
from partgen.families.part import CORNER, Part
from partgen.families.pattern import BoltPattern
from partgen.fields import Entry, Length, Margin, Name, Size
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline
from partgen.plates.edges import edges_on_line
from partgen.plates.plate import Hole, Plate, Window
from partgen.plates.seam import Seam, which_side
from partgen.shop import Shop

MATES = {"upper": "the box's top plate", "lower": "its bottom plate", "ends": "the end's plate"}
FLANK = 0.5  # how much an ear widens to its root, per length of flank; common practice, no source


class HungEar(Entry):
    """An ear below the lower edge.

    Attributes:
        at: of its eye along the plate [mm].
        drop: from the lower edge down to the eye [mm].
        bolt: what goes through.
        fit: clearance of its hole, close, normal or loose; or a diameter [mm].
        radius: metal round the bolt; default from the rule set, the washer and 1.5 bolts [mm].
        root: half its width where it leaves the plate [mm].
        name: shown in findings.
    """

    at: Length
    drop: Margin
    bolt: BoltSize
    fit: HoleFit = "close"
    radius: Size | None = None
    root: Size | None = None
    name: Name | None = None


class Arch(Entry):
    """A rounded relief in the lower edge.

    Attributes:
        at: of its middle along the plate [mm].
        radius: of its round top [mm].
        rise: from the lower edge up to the centre of that radius; default the plate's corner [mm].
        mouth: half its width at the lower edge; default straight sides [mm].
    """

    at: Length
    radius: Size
    rise: Size | None = None
    mouth: Size | None = None


class RoundOpening(Entry):
    """A round opening.

    Attributes:
        at: centre along and above the lower edge [mm].
        diameter: as cut [mm].
        name: shown in findings.
    """

    at: tuple[Length, Length]
    diameter: Size
    name: Name | None = None


class FacePlate(Part):
    """``family = "face-plate"``.

    Attributes:
        plate: thickness and material.
        length: along the crossmember [mm].
        height: across it [mm].
        corner: radius of the outside corners [mm].
        blend: radius where ears and arches meet the lower edge [mm].
        ears: below the lower edge.
        arches: in the lower edge.
        bolts: bolt patterns.
        rounds: round openings, for a shaft or a pipe.
        edges: those welded to the box's other plates: "upper", "lower", "ends"; [] for none.
        windows: more openings.
        holes: more bolt holes.
    """

    LIES: ClassVar[str] = "face"
    SHARES_BOLTS: ClassVar[bool] = True

    family: Literal["face-plate"]
    plate: PlateStock
    length: Size
    height: Size
    corner: Margin = CORNER
    blend: Margin = RE_ENTRANT
    ears: tuple[HungEar, ...] = Field(default=(), max_length=20)
    arches: tuple[Arch, ...] = Field(default=(), max_length=20)
    bolts: tuple[BoltPattern, ...] = Field(default=(), max_length=20)
    rounds: tuple[RoundOpening, ...] = Field(default=(), max_length=50)
    edges: tuple[Literal["upper", "lower", "ends"], ...] = Field(
        default=("upper", "lower", "ends"), max_length=3
    )
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)
    holes: tuple[HoleEntry, ...] = Field(default=(), max_length=200)

    @model_validator(mode="after")
    def _something_along(self) -> Self:
        for arch in self.arches:
            rise = self._rise(arch)
            if rise + arch.radius >= self.height:
                raise ValueError(
                    f"arches: radius {arch.radius:g} mm and rise {rise:g} mm reach through the "
                    f"height, {self.height:g} mm"
                )
        return self

    def _rise(self, arch: Arch) -> float:
        return arch.rise if arch.rise is not None else max(self.corner, 1.0)

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the face plate.

        Raises:
            GeometryError: ears, arches and ends do not go together, or openings meet.
        """
        eyes = tuple(
            Hole(e.name or f"ear-{k}", e.at, -e.drop, e.bolt.hole(e.fit), e.bolt)
            for k, e in enumerate(self.ears, 1)
        )
        patterns = [h for k, p in enumerate(self.bolts, 1) for h in p.holes(f"bolt-{k}")]
        rounds = [
            Window(r.name or f"round-{k}", Outline.circle(*r.at, r.diameter))
            for k, r in enumerate(self.rounds, 1)
        ]
        extra = holes_of(self.holes)
        windows = windows_of(self.windows)
        return [
            Plate(
                part=self.name,
                name="face",
                outline=self.outline(shop),
                holes=(*eyes, *patterns, *extra),
                windows=(*rounds, *windows),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count,
            )
        ]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edges on the box's other plates, ears and arches left out."""
        x0, _, x1, _ = plate.outline.box
        lines = {"upper": [(1, self.height)], "lower": [(1, 0.0)], "ends": [(0, x0), (0, x1)]}
        return [
            Seam(
                edge=which_side(path),
                mate=MATES[name],
                path=path,
                sides=1,
                lap=True,
                guessed=True,
            )
            for name in dict.fromkeys(self.edges)
            for axis, at in lines[name]
            for path in edges_on_line(plate.outline, axis, at)
        ]

    def outline(self, shop: Shop) -> Outline:
        """Return the outside edge.

        Raises:
            GeometryError: ears and arches meet each other or an end.
        """
        runs = [self._ear(e, shop) for e in self.ears] + [self._arch(a) for a in self.arches]
        pins = [Pin(0.0, 0.0, 0.0, self.corner)]
        reached = 0.0
        for low, high, what, bent in sorted(runs, key=lambda run: run[0]):
            if low <= reached:
                raise GeometryError(
                    f"{what} begins at x = {low:g} mm, where the plate is taken up to "
                    f"x = {reached:g} mm; move it"
                )
            pins += bent
            reached = high
        if reached >= self.length:
            raise GeometryError(
                f"ears and arches reach x = {reached:g} mm, beyond the length, {self.length:g} mm"
            )
        pins += [
            Pin(self.length, 0.0, 0.0, self.corner),
            Pin(self.length, self.height, 0.0, self.corner),
            Pin(0.0, self.height, 0.0, self.corner),
        ]
        return belt(pins)

    def _ear(self, ear: HungEar, shop: Shop) -> tuple[float, float, str, list[Pin]]:
        radius = ear.radius or ear_radius(ear.bolt, ear.bolt.hole(ear.fit), shop)
        root = ear.root or radius + FLANK * ear.drop
        low, high = ear.at - root, ear.at + root
        pins = [
            Pin(low, 0.0, 0.0, self.blend),
            Pin(ear.at, -ear.drop, radius),
            Pin(high, 0.0, 0.0, self.blend),
        ]
        return low, high, f"the ear at x = {ear.at:g} mm", pins

    def _arch(self, arch: Arch) -> tuple[float, float, str, list[Pin]]:
        mouth = arch.mouth or arch.radius
        low, high = arch.at - mouth, arch.at + mouth
        pins = [
            Pin(low, 0.0, 0.0, self.corner),
            Pin(arch.at, self._rise(arch), -arch.radius),
            Pin(high, 0.0, 0.0, self.corner),
        ]
        return low, high, f"the arch at x = {arch.at:g} mm", pins
