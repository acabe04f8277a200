"""Bearing of a bolt on the wall of its hole. AISC 360-16 clause J3.10; EN 1993-1-8 Table 3.4.

Not covered: threads bearing on the wall, holes with countersink.
"""

from __future__ import annotations

from typing import Literal

from partgen.strength.capacity import Capacity, need_positive

Case = Literal["deformation counts", "deformation does not count", "long slot across the force"]
FACTORS: dict[Case, float] = {
    "deformation counts": 2.4,
    "deformation does not count": 3.0,
    "long slot across the force": 2.0,
}
PHI, OMEGA = 0.75, 2.00
GAMMA_M2 = 1.25


def aisc_bearing(
    diameter: float, thickness: float, fu: float, case: Case = "deformation counts"
) -> Capacity:
    """Return Rn = 2.4 d t Fu (3.0 or 2.0 by ``case``).

    Args:
        diameter: of the bolt [mm].
        thickness: of the plate [mm].
        fu: least tensile strength of the plate [MPa].
        case: whether the hole may stretch at service load, or is a long slot.
    """
    need_positive(diameter=diameter, thickness=thickness, fu=fu)
    return Capacity(
        mode="bearing",
        nominal=FACTORS[case] * diameter * thickness * fu,
        phi=PHI,
        omega=OMEGA,
        clause="AISC 360-16 J3.10",
        assumptions=f"{case}; bolt bears over the whole thickness",
    )


def en_bearing(
    diameter: float,
    hole: float,
    thickness: float,
    fu: float,
    e1: float,
    e2: float,
    fub: float,
    p1: float | None = None,
) -> Capacity:
    """Return Fb,Rd = k1 alpha_b fu d t / gamma_M2 (EN 1993-1-8 Table 3.4, from memory).

    alpha_b is the least of e1 / 3 d0, p1 / 3 d0 - 1/4, fub / fu and 1; k1 the lesser of
    2.8 e2 / d0 - 1.7 and 2.5.

    Args:
        diameter: of the bolt [mm].
        hole: d0 [mm].
        thickness: of the plate [mm].
        fu: tensile strength of the plate [MPa].
        e1: hole centre to the end, along the force [mm].
        e2: hole centre to the edge, across the force [mm].
        fub: tensile strength of the bolt [MPa].
        p1: pitch to the next hole along the force, if any [mm].
    """
    need_positive(diameter=diameter, hole=hole, thickness=thickness, fu=fu, e1=e1, e2=e2, fub=fub)
    alpha = min(e1 / (3 * hole), fub / fu, 1.0)
    if p1 is not None:
        alpha = min(alpha, p1 / (3 * hole) - 0.25)
    k1 = min(2.8 * e2 / hole - 1.7, 2.5)
    return Capacity(
        mode="bearing",
        nominal=max(k1 * alpha, 0.0) * fu * diameter * thickness,
        phi=1 / GAMMA_M2,
        clause="EN 1993-1-8 Table 3.4",
        assumptions=f"normal round hole; gamma_M2 {GAMMA_M2}",
    )
