"""What a link mount means for the parts around it: its fit, its bolt, its ears."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal

from partgen.entries.joint import Joint
from partgen.fit.bolting import BoltFit, best_bolt
from partgen.fit.fit import Fit
from partgen.fit.sleeve import Sleeve, Through
from partgen.geometry.segment import Point
from partgen.plates.fold import Fold
from partgen.reference.bolt import Bolt

Hands = Literal["both", "left", "right"]


@dataclass(frozen=True)
class Ears:
    """How a mount's plates sit on the rail; heights are above the rail's lower edge.

    Attributes:
        radius: of the ears about the bolt [mm].
        low: lower edge of the plates' body, where the weld is [mm].
        high: upper edge of the plates' body [mm].
        rail_depth: outside height of the rail [mm].
        rail_corner: outside corner radius of the rail [mm].
        middle: x of the middle of the plates' body [mm].
    """

    radius: float
    low: float
    high: float
    rail_depth: float
    rail_corner: float
    middle: float = 0.0


@dataclass(frozen=True)
class Lean:
    """How a mount's two plates bend, below the rail, so that their ears lean.

    Attributes:
        angle: of both, outward positive [degrees].
        down: unit direction in side view square to the bends' lines, into the ears.
        start: where the bends begin, below the pivot's place on the rail [mm].
        inner: radius of the inner plate's face towards the gap [mm].
        outer: radius of the outer plate's face towards the gap [mm].
        spread: by how much the outer plate's middle layer bends wider than the inner one's [mm].
        folds: the bends of the inner and of the outer plate, at the first ear.
    """

    angle: float
    down: Point
    start: Point
    inner: float
    outer: float
    spread: float = 0.0
    folds: tuple[Fold, ...] = ()


@dataclass(frozen=True)
class Seat:
    """A bolt hole in the ears of a part, which a link's end may sit in.

    Attributes:
        name: of the hole.
        at: the joint's centre, seen from the side [mm].
        ear: metal round it: the ear's radius [mm].
        instead_of: name of the hole whose bolt it takes when the mount is adjusted.
        aside: how far outward of the plates' middle the joint sits, where they lean [mm].
    """

    name: str
    at: Point
    ear: float
    instead_of: str = ""
    aside: float = 0.0

    @property
    def bolt(self) -> str:
        """Name of the bolt: of all holes to choose from for one bolt the same."""
        return self.instead_of or self.name


@dataclass(frozen=True)
class Mount:
    """A link mount's sums across the vehicle.

    Attributes:
        name: of the part.
        fits: ways to fill the gap, best first; the first is the one that is made.
        bolts: every stock length of the joint's bolt, shortest first.
        bolt: the joint's bolt.
        hands: "both", "left" or "right".
        count: mounts on each side of the vehicle.
        room: from the bolt's centre to the rail's lower edge [mm].
        body_diameter: of the joint [mm].
        pivot: the bolt's centre in the rail's side view [mm].
        rail: name of the rail it is on.
        joints: in each pair of plates, one to an ear.
        rail_edge: the rail's lower edge at the pivot, in side view [mm].
        rail_depth: outside height of the rail [mm].
        ear_angle: by which the ears lean outward [degrees].
        seats: its holes for joints, the pivot's first; empty where its plates alone tell.
        joint: the joint itself, where it is known.
        ears: how the plates sit on the rail, where it is known.
        in_hand: the bolt in hand, where its length was typed.
        through: the rail that the bolt goes on through, if it does.
        y: of the rail's middle, or of the gap's where there is no rail, in its own space [mm].
        origin: of its ears' drawing in that space, x and z [mm].
        holes: further bolt holes in both plates, by name: centre [mm].
        bend: how its plates bend, where the ears lean.
        bolt_name: of its bolt's hole in the ears.
        ear_radius: metal round the bolt, where it is known [mm].
        beside: the link mount whose plates its bolt goes through, if it does.
        skew: by which its ears are turned in plan, the front outward [degrees].
        sits_on: what its plates are welded to, in one word.
        astride: the rail whose sides its plates lie on, where they are not drawn in its side view.
        pads: middle of the pads beside such a rail, in its ears' drawing [mm].
    """

    name: str
    fits: list[Fit]
    bolts: list[BoltFit]
    bolt: Bolt
    hands: Hands
    count: int
    room: float
    body_diameter: float
    pivot: Point
    rail: str = ""
    joints: int = 1
    rail_edge: Point = (0.0, 0.0)
    rail_depth: float = 0.0
    ear_angle: float = 0.0
    seats: tuple[Seat, ...] = ()
    joint: Joint | None = None
    ears: Ears | None = None
    in_hand: BoltFit | None = None
    through: Through | None = None
    y: float = 0.0
    origin: Point = (0.0, 0.0)
    holes: tuple[tuple[str, Point], ...] = ()
    bend: Lean | None = None
    bolt_name: str = "joint"
    ear_radius: float = 0.0
    beside: Mount | None = None
    skew: float = 0.0
    sits_on: str = "rail"
    astride: str = ""
    pads: Point = (0.0, 0.0)

    @property
    def fit(self) -> Fit:
        """The way the gap is filled."""
        return self.fits[0]

    @property
    def faces(self) -> tuple[float, float]:
        """Y of the two faces of its gap in its own space, inner first [mm]."""
        half, (inner, outer) = self.fit.rail_width / 2, self.fit.spacers
        return self.y - half - inner, self.y + half + outer

    @property
    def middle(self) -> float:
        """Y of the middle of its gap in its own space [mm]."""
        return (self.faces[0] + self.faces[1]) / 2

    def seen(self, point: Point) -> Point:
        """Return where a point of its ears' drawing is in the side view of its own space [mm]."""
        return point[0] + self.origin[0], point[1] + self.origin[1]

    @property
    def ears_text(self) -> str:
        """Between what the joint sits, in words."""
        return "plate and ear" if self.through else "the ears"

    @property
    def rail_between(self) -> str:
        """Name of the rail that its two plates lie on the sides of; empty where there is none."""
        return self.rail or self.astride

    @property
    def gap_text(self) -> str:
        """What sets the gap, in words."""
        return "rail and spacers" if self.rail_between else "joint and side clearance"

    @property
    def ear_gap(self) -> float:
        """Clear distance between the ears, square to them [mm]."""
        plates = (self.bolts[0].near_ear + self.bolts[0].far_ear) / 2
        less = closer(self.bend.angle, self.bend.spread) if self.bend else 0.0
        return (self.fit.gap + plates) * cos(radians(self.ear_angle)) - plates - less

    @property
    def bolt_fit(self) -> BoltFit | None:
        """The bolt in hand if it does, else the one to buy; none if no stock length does."""
        own = best_bolt([self.in_hand]) if self.in_hand else None
        return own or best_bolt(self.bolts)

    @property
    def pieces(self) -> int:
        """How many joints the vehicle has in this mount."""
        return self.count * self.joints * (2 if self.hands == "both" else 1)

    @property
    def dummy(self) -> Sleeve:
        """The dummy spacer to weld with: a sleeve in the joint's place."""
        typed = self.joint.hole if self.joint and not self.bolt.holes else "close"
        bore = self.bolt.hole(typed)
        return Sleeve(self.ear_gap - 2 * self.fit.shim, self.bolt.washer_diameter, bore)


def closer(angle: float, spread: float) -> float:
    """Return how much closer ears come, square to them, whose bends are not of one radius [mm].

    Args:
        angle: of both, outward positive [degrees].
        spread: by how much the outer plate's middle layer bends wider than the inner one's [mm].

    Examples:
        >>> round(closer(14, 5), 4), round(closer(-14, 5), 4)
        (0.1485, -0.1485)
    """
    side = 1.0 if angle > 0 else -1.0
    return side * spread * (1 - cos(radians(angle)))


def pull_in(arm: float, angle: float) -> float:
    """Return how much two ears close the gap at the bolt when each leans in [mm].

    Args:
        arm: from the weld to the bolt [mm].
        angle: lean of each ear [degrees].

    Examples:
        >>> round(pull_in(4 * 25.4, 1) / 2 / 25.4, 3)  # one ear
        0.07
    """
    return 2 * arm * sin(radians(angle))
