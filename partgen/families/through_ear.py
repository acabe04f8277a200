r"""Through ear: one ear on a link mount's inner plate; its bolt goes right through the rail.

      ear   joint  plate  rail   plate        seen along the rail, inner side left
       |   .-----.   |  ________   |
      =|===|=====|===|=|========|==|=         one bolt through ear, joint, both plates and the rail;
       |   '-----'   | |________|  |          a crush sleeve in the rail, between the plates
       |_____________|
           webs

The ear is drawn as by the family "ear": eye at (offset, height), base at y = 0. Webs as wide as the
gap ("gusset" with ``mount``) join it to the plate. The plates' holes are the link mount's ``holes``
of that name. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Literal, Self

from pydantic import model_validator

from partgen.errors import GeometryError
from partgen.families.single_ear import SingleEar
from partgen.fields import Margin, Name, Size
from partgen.fit.mount import Hands, Mount
from partgen.fit.sleeve import PLAY, Through, crush_sleeve
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam
from partgen.plates.solid import FORWARD, UP, Frame, Solid
from partgen.shop import Shop


class ThroughEar(SingleEar):
    """``family = "through-ear"``.

    Attributes:
        mount: name of the link mount whose plates and rail the bolt goes through.
        hole: name of the bolt's hole in both of those plates.
        sleeve: outside diameter of the crush sleeve; default that of the bolt's washer [mm].
        play: by which the sleeve is shorter than the plates stand apart [mm].
    """

    NO_SEAM: ClassVar[str] = "held by its webs: parts of family gusset that name it as their mount"
    family: Literal["through-ear"]  # type: ignore[assignment]
    joint: str
    mount: Name
    hole: Name
    sleeve: Size | None = None
    play: Margin = PLAY

    @model_validator(mode="after")
    def _beside_its_mount(self) -> Self:
        if self.stands is not None:
            raise ValueError("'stands' belongs to ears on a plate; this one is beside its mount")
        return self

    def hands_in(self, shop: Shop) -> Hands:
        """Return the hands asked for, else the link mount's.

        Raises:
            GeometryError: no such mount.
        """
        return self.hands or shop.mount(self.mount).hands

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return gap, bolt and crush sleeve.

        Raises:
            GeometryError: no such joint or mount, or a sleeve without length or wall.
        """
        on, joint = shop.mount(self.mount), shop.joint(self.joint)
        if not on.rail:
            raise GeometryError(
                f"mount = '{self.mount}' is on no rail; name a part of family link-mount"
            )
        plates = on.bolts[0].near_ear + on.bolts[0].far_ear
        pair = self.pair(shop, self.height, (self.offset, self.height), plates + on.fit.gap)
        sleeve = crush_sleeve(
            on.fit.gap, joint.bolt, joint.hole, outside=self.sleeve, play=self.play
        )
        face = on.faces[0] - on.bolts[0].far_ear
        at = dict(on.holes).get(self.hole)
        height = at[1] - shop.rail(on.rail).lower.height(at[0]) if at else 0.0
        return pair and replace(
            pair,
            through=Through(on.name, on.rail, self.hole, sleeve, at, height),
            y=face - pair.fit.gap / 2,
            origin=(at[0] - self.offset, at[1] - self.height) if at else (0.0, 0.0),
            bolt_name=self.hole,
            beside=on,
        )

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the ear beside the link mount's inner plate, on the bolt through the rail.

        Raises:
            GeometryError: no such joint or mount.
        """
        mount = shop.mount(self.name)
        if mount.through is None or mount.through.at is None:
            return []
        (x, z), (y, _) = mount.origin, mount.faces
        frame = Frame((x, y, z), FORWARD, UP)
        placed = []
        for plate in self.finished(shop):
            ear = Solid.of(plate, frame, plate.thickness, (0.0, -4.0, 0.0), self.name)
            holes = tuple((self.hole if n == "joint" else n, p) for n, p in ear.holes)
            placed.append(replace(ear, holes=holes))
        return [*placed, self._sleeve(mount.through, shop)]

    def _sleeve(self, through: Through, shop: Shop) -> Solid:
        """Return the crush sleeve in the rail."""
        sleeve, (x, z) = through.sleeve, through.at or (0.0, 0.0)
        edges = (Outline.circle(0, 0, sleeve.bore), Outline.circle(0, 0, sleeve.outside))
        y = shop.mount(through.mount).middle + sleeve.length / 2
        frame = Frame((x, y, z), FORWARD, UP)
        on_bolt = ((self.hole, (0.0, 0.0)),)
        out = (0.0, 1.0, 0.0)
        return Solid("sleeve", edges, frame, sleeve.length, out, on_bolt, is_inside=True)

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the crush sleeve's ends in the rail's walls; the ear itself is held by its webs.

        The sleeve goes through both walls and is welded to each from outside, all round, before
        the plates go on; the weld is ground flat, so that they lie on the rail.
        """
        through = shop.mount(self.name).through
        if through is None:
            return []
        sleeve, wall = through.sleeve, shop.rail(through.rail).wall
        own = (sleeve.outside - sleeve.bore) / 2
        return [
            Seam(
                edge="each end, all round",
                mate="the rail's wall, before the plates go on",
                path=Outline.circle(self.offset, self.height, sleeve.outside).segments,
                sides=1,
                beside=own if wall is None else min(own, wall),
                count=2 * plate.count,
                stops=(0.0, 0.0),
                piece="crush-sleeve",
                first=True,
                note="ground flat: the plates lie on it",
            )
        ]
