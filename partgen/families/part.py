"""What every family shares: a name, a hand, a count, and plates as its answer."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from partgen.entries.fixed_place import FixedPlace
from partgen.errors import GeometryError, nearest
from partgen.families.space import Spot
from partgen.fields import At, Count, Entry, Name, Size
from partgen.fit.mount import Hands, Mount
from partgen.linkage.trimming import applied
from partgen.plates.features import Features, without_sharp_corners
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import Seam
from partgen.plates.solid import LYING, Frame, Solid
from partgen.plates.turning import QUARTERS, Turns
from partgen.plates.welded import WeldedEdge, together
from partgen.shop import Shop

INSIDE = 3.0  # mm, least radius a cutter leaves well; common practice, no source
CORNER = 6.0  # mm, radius of outside corners; common practice, no source
Priority = Annotated[int, Field(ge=-100, le=100, strict=True)]


class Part(Entry):
    """``[[part]]``: what the job asks for; each family adds its own parameters.

    Attributes:
        name: unique in the job.
        family: which kind of part.
        hands: both sides of the vehicle, or one; default both.
        count: pieces on each side.
        features: slots, drains, openings, cutouts, snipes and notches cut into its plates.
        inside_radius: of inside corners that would be sharp [mm].
        sharp: true leaves them sharp.
        turn: on the sheet: a step, "any", or the angles allowed, as [0] for one way only [degrees].
        priority: parts with a higher one are laid out first, on the first sheets.
        together: plates of parts that share this word go on one sheet.
        space: where its pieces lie in an assembly, one entry for each; for the picture only.
        welded: edges welded that the family does not know of; [] says that there are none.
        fixed: plates that have to lie at a place on a sheet; the others go round them.
    """

    # Said of a plate without a seam; empty where the seams of its mates say it.
    NO_SEAM: ClassVar[str] = "no seam named; name its edges: welded = [{ at = [x, y], to = '...' }]"

    name: Name
    LIES: ClassVar[str] = "flat-along"  # how its drawing lies in space
    SHARES_BOLTS: ClassVar[bool] = False  # whether a bolt goes through two of its pieces

    family: str
    hands: Hands | None = None
    count: Count = 1
    features: Features = Features()
    inside_radius: Size = INSIDE
    sharp: bool = False
    turn: Turns = QUARTERS
    priority: Priority = 0
    together: Name | None = None
    space: tuple[Spot, ...] = Field(default=(), max_length=200)
    welded: tuple[WeldedEdge, ...] | None = Field(default=None, max_length=100)
    fixed: tuple[FixedPlace, ...] = Field(default=(), max_length=1000)

    def hands_in(self, shop: Shop) -> Hands:
        """Return the hands to make."""
        return self.hands or "both"

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the plates of one side, drawn for the left.

        Raises:
            GeometryError: a plate cannot exist with these numbers.
        """
        raise NotImplementedError

    def cuts(self, shop: Shop) -> dict[str, tuple[Window, ...]]:
        """Return what this part needs cut into other parts' plates, by the plate's key."""
        return {}

    def finished(self, shop: Shop) -> list[Plate]:
        """Return the plates with the part's features, inside corners rounded, others' slots cut.

        Once the links are worked out, cut back where they need room.

        Raises:
            GeometryError: a plate cannot exist with these numbers.
        """
        plates = self.features.on(self.plates(shop))
        if not self.sharp:
            plates = [without_sharp_corners(plate, self.inside_radius) for plate in plates]
        self._need_welded(plates, shop)
        plates = [plate.with_windows(shop.cuts.get(plate.key, ())) for plate in plates]
        return applied(plates, shop.linkage.trims) if shop.linkage else plates

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edges of one of the finished plates that are welded, drawn for the left.

        What a family knows by itself; slots and edges that the job names come beside it.
        """
        return []

    def leg(self, shop: Shop) -> float | None:
        """Return the leg along its body on a rail, asked or usual; None if it lies on none [mm]."""
        return None

    def all_seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return every welded edge of a finished plate, what the job names of it too, each once.

        Raises:
            GeometryError: no edge of the plate is near one that is named, or one has two mates.
        """
        named = [w for w in self.welded or () if not w.plates or plate.name in w.plates]
        return together(plate, self.seams(plate, shop), named)

    def _need_welded(self, plates: list[Plate], shop: Shop) -> None:
        """Refuse welded edges of plates that are not there, or far from any edge."""
        if not self.welded:
            return
        known = [plate.name for plate in plates]
        wrong = [name for w in self.welded for name in w.plates if name not in known]
        if wrong:
            raise GeometryError(
                [f"welded: plates = '{n}': no such plate; {nearest(n, known)}" for n in wrong]
            )
        for plate in plates:
            self.all_seams(plate, shop)

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the plates of one left side placed in space; none if they have no known place.

        A single plate lies as its family is drawn, its (0, 0) at (0, 0, 0).

        Raises:
            GeometryError: a plate cannot exist with these numbers.
        """
        plates = self.finished(shop)
        if len(plates) != 1:
            return []
        frame, still = Frame((0.0, 0.0, 0.0), *LYING[self.LIES]), (0.0, 0.0, 0.0)
        return [Solid.of(p, frame, p.thickness, still, self.name) for p in plates]

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return the sums across the vehicle, if the part is a link mount."""
        return None


class MountedPart(Part):
    """A part that belongs to a link mount and follows it.

    Attributes:
        mount: name of the mount.
        place: where it sits in the mount's side view; for the assembly's picture only [mm].
    """

    mount: Name | None = None
    place: At | None = None

    def hands_in(self, shop: Shop) -> Hands:
        """Return the hands asked for, else the mount's.

        Raises:
            GeometryError: no such mount.
        """
        if self.hands is None and self.mount is not None:
            return shop.mount(self.mount).hands
        return super().hands_in(shop)
