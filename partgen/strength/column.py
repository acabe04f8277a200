"""A link tube or bar in compression: Euler, and J. B. Johnson where it is short.

Handbook formulas (Shigley, Faires): Pcr = pi^2 E A/(L/r)^2 beyond the transition
sqrt(2 pi^2 E/Sy), else A Sy (1 - Sy (L/r)^2/(4 pi^2 E)). A common misprint has 2 pi^2 E in the last
denominator; 4 is right. Not covered: bent or dented links, end moments, impact, threads.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, pi, sqrt

from partgen.errors import MeasureError
from partgen.strength.capacity import Capacity, need_positive

SLACK = 1e-9  # mm
STEEL = 200_000.0  # MPa, elastic modulus; common practice, no source
ENDS = {  # effective length over length, by theory
    "pinned": 1.0,
    "fixed": 0.5,
    "fixed-pinned": 0.699,
    "fixed-free": 2.0,
}


@dataclass(frozen=True)
class Tube:
    """A round tube or bar.

    Attributes:
        diameter: outside [mm].
        wall: thickness; half the diameter for a bar [mm].
    """

    diameter: float
    wall: float

    def __post_init__(self) -> None:
        """Refuse a wall thicker than half the diameter.

        Raises:
            MeasureError: naming the size.
        """
        need_positive(diameter=self.diameter, wall=self.wall)
        if self.wall > self.diameter / 2 + SLACK:
            raise MeasureError(
                f"wall {self.wall:g} mm is more than half the diameter, {self.diameter:g} mm"
            )

    @property
    def bore(self) -> float:
        """Inside diameter [mm]."""
        return max(self.diameter - 2 * self.wall, 0.0)

    @property
    def area(self) -> float:
        """Section [mm2]."""
        return pi * self.wall * (self.diameter - self.wall)

    @property
    def inertia(self) -> float:
        """Second moment of area [mm4]."""
        return self.area * self.gyration**2

    @property
    def modulus(self) -> float:
        """Elastic section modulus [mm3]."""
        return self.inertia / (self.diameter / 2)

    @property
    def gyration(self) -> float:
        """Radius of gyration [mm]."""
        return hypot(self.diameter, self.bore) / 4


def transition(fy: float, elastic: float = STEEL) -> float:
    """Return the slenderness where Euler and Johnson meet, sqrt(2 pi^2 E/Sy) [-]."""
    need_positive(fy=fy, elastic=elastic)
    return sqrt(2 * pi**2 * elastic / fy)


def euler(area: float, slenderness: float, elastic: float = STEEL) -> float:
    """Return Euler's load [N]."""
    need_positive(area=area, slenderness=slenderness, elastic=elastic)
    return pi**2 * elastic * area / slenderness**2


def johnson(area: float, slenderness: float, fy: float, elastic: float = STEEL) -> float:
    """Return Johnson's load [N]."""
    need_positive(area=area, fy=fy, elastic=elastic)
    return area * fy * (1 - fy * slenderness**2 / (4 * pi**2 * elastic))


def column(
    tube: Tube, length: float, fy: float, ends: str = "pinned", elastic: float = STEEL
) -> Capacity:
    """Return the load at which a straight link buckles.

    Args:
        tube: the section.
        length: between joint centres [mm].
        fy: least yield strength [MPa].
        ends: "pinned", "fixed", "fixed-pinned" or "fixed-free".
        elastic: modulus [MPa].

    Raises:
        MeasureError: an end condition that is not known, or a size not above zero.
    """
    if ends not in ENDS:
        raise MeasureError(f"ends = '{ends}': known: {', '.join(ENDS)}")
    need_positive(length=length, fy=fy)
    slenderness = ENDS[ends] * length / tube.gyration
    long = slenderness >= transition(fy, elastic)
    load = (
        euler(tube.area, slenderness, elastic)
        if long
        else johnson(tube.area, slenderness, fy, elastic)
    )
    return Capacity(
        mode="link buckles",
        nominal=load,
        phi=1.0,
        clause="Euler's formula" if long else "J. B. Johnson's formula",
        assumptions=f"straight link, ends {ends}, slenderness {slenderness:.0f}, load on its axis",
    )


def bending(tube: Tube, length: float, fy: float) -> Capacity:
    """Return the side force at mid-length at which a pinned link begins to yield, 4 S Fy / L."""
    need_positive(length=length, fy=fy)
    return Capacity(
        mode="link bent by a side force at its middle",
        nominal=4 * tube.modulus * fy / length,
        phi=1.0,
        clause="elastic bending, M = F L/4",
        assumptions="simple span between joint centres, first yield",
    )
