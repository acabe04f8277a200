"""Tear-out: the bolt shears a plug of plate out to the edge. AISC 360-16 clause J3.10.

Also the plain handbook sum of two shear planes, 0.6 Fu over 2 (e - d/2) t. Not covered: block shear
of a group, an edge far from square to the force.
"""

from __future__ import annotations

from partgen.strength.bearing import Case
from partgen.strength.capacity import Capacity, need_positive

FACTORS: dict[Case, float] = {
    "deformation counts": 1.2,
    "deformation does not count": 1.5,
    "long slot across the force": 1.0,
}
PHI, OMEGA = 0.75, 2.00


def aisc_tear_out(
    clear: float, thickness: float, fu: float, case: Case = "deformation counts"
) -> Capacity:
    """Return Rn = 1.2 lc t Fu (1.5 or 1.0 by ``case``).

    Args:
        clear: lc, from the hole's edge to the plate's edge or the next hole, along the force [mm].
        thickness: of the plate [mm].
        fu: least tensile strength of the plate [MPa].
        case: whether the hole may stretch at service load, or is a long slot.
    """
    need_positive(clear=clear, thickness=thickness, fu=fu)
    return Capacity(
        mode="tear-out",
        nominal=FACTORS[case] * clear * thickness * fu,
        phi=PHI,
        omega=OMEGA,
        clause="AISC 360-16 J3.10",
        assumptions=f"{case}; clear distance {clear:.2f} mm along the force",
    )


def two_planes(edge: float, diameter: float, thickness: float, fu: float) -> float:
    """Return 2 (e - d/2) t 0.6 Fu, the shear-out of an ear [N].

    Args:
        edge: hole centre to edge along the force [mm].
        diameter: of the bolt [mm].
        thickness: of the ear [mm].
        fu: least tensile strength [MPa].
    """
    need_positive(diameter=diameter, thickness=thickness, fu=fu)
    return 2 * max(edge - diameter / 2, 0.0) * thickness * 0.6 * fu
