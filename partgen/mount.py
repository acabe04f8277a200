"""What a link mount means for the parts around it: its fit, its bolt, its ears."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians
from typing import Literal

from partgen.bolt import Bolt
from partgen.bolting import BoltFit, best_bolt
from partgen.fit import Fit
from partgen.joint import Joint
from partgen.segment import Point

Hands = Literal["both", "left", "right"]


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
        joint: the joint itself, where it is known.
        ear: radius of its ears about the bolt [mm].
        joints: in each pair of plates, one to an ear.
        rail_edge: the rail's lower edge at the pivot, in side view [mm].
        rail_depth: outside height of the rail [mm].
        ear_angle: by which the ears lean outward [degrees].
        aside: how far outward of the plates' middle the joint sits, where they lean [mm].
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
    joint: Joint | None = None
    ear: float = 0.0
    joints: int = 1
    rail_edge: Point = (0.0, 0.0)
    rail_depth: float = 0.0
    ear_angle: float = 0.0
    aside: float = 0.0

    @property
    def fit(self) -> Fit:
        """The way the gap is filled."""
        return self.fits[0]

    @property
    def ear_gap(self) -> float:
        """Clear distance between the ears, square to them [mm]."""
        plates = (self.bolts[0].near_ear + self.bolts[0].far_ear) / 2
        return (self.fit.gap + plates) * cos(radians(self.ear_angle)) - plates

    @property
    def bolt_fit(self) -> BoltFit | None:
        """The bolt to buy, or none if no stock length does."""
        return best_bolt(self.bolts)

    @property
    def pieces(self) -> int:
        """How many joints the vehicle has in this mount."""
        return self.count * self.joints * (2 if self.hands == "both" else 1)
