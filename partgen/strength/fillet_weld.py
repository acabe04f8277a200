"""Fillet welds: size and strength. AISC 360-16 clauses J2.2b and J2.4, Table J2.4.

Least leg by the *thinner* part (other codes go by the thicker). Not covered: the base metal beside
the weld, fatigue, heat-treated parents, welder and procedure.
"""

from __future__ import annotations

from math import floor, radians, sin, sqrt

from partgen.reference.material import MPA_PER
from partgen.reference.tables import load
from partgen.strength.capacity import Capacity, need_positive

THROAT = sqrt(0.5)
PHI, OMEGA = 0.75, 2.00
INCH = 25.4
SLACK = 1e-9  # mm or in
E70 = 70 * MPA_PER["ksi"]  # MPa
EDGE_FROM = {"mm": 6.0, "in": INCH / 4}
EDGE_LESS = {"mm": 2.0, "in": INCH / 16}
STEP = {"mm": 1.0, "in": INCH / 16}  # of the legs a shop asks for


def least_leg(thinner: float, unit: str = "mm") -> float:
    """Return the least leg, by the thinner part joined (Table J2.4) [mm].

    Args:
        thinner: thickness [mm].
        unit: "mm" or "in", which of the two printed columns counts.

    Examples:
        >>> least_leg(6.0), least_leg(10.0), round(least_leg(9.525, "in") / 25.4, 4)
        (3.0, 5.0, 0.1875)
    """
    need_positive(thinner=thinner)
    table = load("aisc_360_16_j2_4")
    suffix, factor = ("_mm", 1.0) if unit == "mm" else ("", INCH)
    size = thinner / factor
    for row in table.rows:
        top = row["to" + suffix]
        if top is None or size <= float(top) + SLACK:
            return table.number(row, "leg" + suffix) * factor
    raise AssertionError("the last row has no upper end")


def largest_leg(thickness: float, unit: str = "mm") -> float:
    """Return the largest leg along an edge: t, or t - 2 mm (1/16 in.) from 6 mm (1/4 in.) on [mm].

    Examples:
        >>> largest_leg(5.0), largest_leg(6.0)
        (5.0, 4.0)
    """
    need_positive(thickness=thickness)
    return thickness - (EDGE_LESS[unit] if thickness >= EDGE_FROM[unit] - SLACK else 0.0)


def need_leg(thinner: float, unit: str = "mm") -> float:
    """Return the table's least leg, but no more than the thinner part itself [mm].

    A leg need not exceed the thinner part: AWS D1.1, note to its table of least legs, from memory.

    Examples:
        >>> need_leg(2.0), need_leg(6.0)
        (2.0, 3.0)
    """
    return min(least_leg(thinner, unit), thinner)


def usual_leg(
    thinner: float, unit: str = "mm", share: float = 0.75, edge: float | None = None
) -> float:
    """Return the leg to ask for where nobody named one [mm].

    A share of the thinner part (three quarters: common practice, no source), down to the whole mm
    or 1/16 in., between the least leg of Table J2.4 and the largest along an edge by J2.2b.

    Args:
        thinner: thickness of the thinner part joined [mm].
        unit: "mm" or "in".
        share: of that thickness.
        edge: thickness of the plate along whose edge the fillet lies; None for no such edge [mm].

    Examples:
        >>> usual_leg(6.0, edge=6.0), usual_leg(6.0), usual_leg(8.0), usual_leg(3.0, edge=3.0)
        (4.0, 4.0, 6.0, 3.0)
        >>> round(usual_leg(6.35, "in", edge=6.35) / 25.4, 4)
        0.1875
    """
    step = STEP[unit]
    leg = max(floor(share * thinner / step + SLACK) * step, need_leg(thinner, unit))
    return leg if edge is None else min(leg, largest_leg(edge, unit))


def effective_leg(leg: float, length: float) -> float:
    """Return the leg that counts: a weld shorter than four legs counts as length/4 [mm]."""
    need_positive(leg=leg, length=length)
    return min(leg, length / 4)


def effective_length(leg: float, length: float) -> float:
    """Return the length that counts of an end-loaded fillet (J2.2b(d)) [mm].

    Up to 100 legs the whole; then beta = 1.2 - 0.002 L/w; over 300 legs 180 legs.
    """
    need_positive(leg=leg, length=length)
    slender = length / leg
    if slender > 300:
        return 180 * leg
    return min(1.0, 1.2 - 0.002 * slender) * length


def least_intermittent(leg: float, unit: str = "mm") -> float:
    """Return the least length of a piece of intermittent weld: 4 legs, 38 mm (1-1/2 in.) [mm]."""
    return max(4 * leg, 38.0 if unit == "mm" else 1.5 * INCH)


def least_lap(thinner: float, unit: str = "mm") -> float:
    """Return the least lap: 5 times the thinner part, 25 mm (1 in.) [mm]."""
    return max(5 * thinner, 25.0 if unit == "mm" else INCH)


def fillet(leg: float, length: float, fexx: float = E70, angle: float = 0.0) -> Capacity:
    """Return Rn = 0.60 FEXX 0.707 w L (1 + 0.50 sin^1.5 of the force's angle to the weld).

    Args:
        leg: w [mm].
        length: L [mm].
        fexx: strength of the weld metal [MPa].
        angle: between force and weld; 0 counts no increase [degrees].
    """
    need_positive(leg=leg, length=length, fexx=fexx)
    rise = 1 + 0.50 * abs(sin(radians(angle))) ** 1.5
    return Capacity(
        mode="fillet weld throat",
        nominal=0.60 * fexx * THROAT * leg * length * rise,
        phi=PHI,
        omega=OMEGA,
        clause="AISC 360-16 J2.4",
        assumptions=f"leg {leg:.2f} mm, weld metal {fexx:.0f} MPa, force {angle:g} degrees to it",
    )
