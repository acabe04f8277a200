"""What every family shares: a name, a hand, a count, and plates as its answer."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field

from partgen.entries.fixed_place import FixedPlace
from partgen.entries.joint import BoltSize, Fit
from partgen.errors import GeometryError, nearest
from partgen.fields import Angle, At, Count, Entry, Margin, Name, Size
from partgen.fit.mount import Hands, Mount
from partgen.geometry.belt import rectangle
from partgen.plates.features import Features, without_sharp_corners
from partgen.plates.plate import Hole, Plate, Window
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.plates.turning import QUARTERS, Turns
from partgen.plates.welded import WeldedEdge
from partgen.shop import Shop

RE_ENTRANT = 10.0  # mm, radius of inside corners; common practice, no source
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
        welded: edges welded that the family does not know of; [] says that there are none.
        fixed: plates that have to lie at a place on a sheet; the others go round them.
    """

    # Said of a plate without a seam; empty where the seams of its mates say it.
    NO_SEAM: ClassVar[str] = "no seam named; name its edges: welded = [{ at = [x, y], to = '...' }]"

    name: Name
    family: str
    hands: Hands | None = None
    count: Count = 1
    features: Features = Features()
    inside_radius: Size = INSIDE
    sharp: bool = False
    turn: Turns = QUARTERS
    priority: Priority = 0
    together: Name | None = None
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
        """Return the plates with the part's features, inside corners rounded.

        Raises:
            GeometryError: a plate cannot exist with these numbers.
        """
        plates = self.features.on(self.plates(shop))
        if not self.sharp:
            plates = [without_sharp_corners(plate, self.inside_radius) for plate in plates]
        self._need_welded(plates)
        return plates

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edges of one of the finished plates that are welded, drawn for the left.

        What a family knows by itself; slots and edges that the job names come beside it.
        """
        return []

    def leg(self, shop: Shop) -> float | None:
        """Return the leg along its body on a rail, asked or usual; None if it lies on none [mm]."""
        return None

    def named_seams(self, plate: Plate) -> list[Seam]:
        """Return the edges of a finished plate that the job names as welded.

        Raises:
            GeometryError: no edge of the plate is near.
        """
        return [w.seam(plate) for w in self.welded or () if not w.plates or plate.name in w.plates]

    def _need_welded(self, plates: list[Plate]) -> None:
        """Refuse welded edges of plates that are not there, or far from any edge."""
        known = [plate.name for plate in plates]
        wrong = [name for w in self.welded or () for name in w.plates if name not in known]
        if wrong:
            raise GeometryError(
                [f"welded: plates = '{n}': no such plate; {nearest(n, known)}" for n in wrong]
            )
        for plate in plates:
            self.named_seams(plate)

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the plates of one left side placed in space; none if they have no known place."""
        return []

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


class WindowEntry(Entry):
    """A window with rounded corners.

    Attributes:
        at: centre [mm].
        size: width along x, height along y before turning [mm].
        radius: of its corners; at most half the smaller side [mm].
        angle: turned anticlockwise [degrees].
        name: shown in findings.
    """

    at: At
    size: tuple[Size, Size]
    radius: Margin = RE_ENTRANT
    angle: Angle = 0.0
    name: Name | None = None

    def window(self, number: int) -> Window:
        """Return the opening; ``number`` names it if it has no name.

        Raises:
            GeometryError: the corner radius does not fit.
        """
        outline = rectangle(*self.size, self.radius, self.at).turned(self.angle, self.at)
        return Window(self.name or str(number), outline)


class HoleEntry(Entry):
    """A bolt hole.

    Attributes:
        at: centre [mm].
        bolt: what goes through.
        fit: clearance: close, normal or loose.
        name: shown in findings.
    """

    at: At
    bolt: BoltSize
    fit: Fit = "normal"
    name: Name | None = None

    def hole(self, number: int) -> Hole:
        """Return the opening; ``number`` names it if it has no name."""
        return Hole(self.name or str(number), *self.at, self.bolt.hole(self.fit), self.bolt)
