"""A strip of plate in tension through a hole. AISC 360-16 clauses D2 and J4.1.

Gross yield Fy Ag, net rupture Fu An; with one bolt line the shear lag factor is 1. Not covered:
staggered holes, fatigue, stress concentration.
"""

from __future__ import annotations

from partgen.strength.capacity import Capacity, need_positive


def gross_yield(width: float, thickness: float, fy: float) -> Capacity:
    """Return Pn = Fy Ag, phi 0.90, omega 1.67.

    Args:
        width: across the force [mm].
        thickness: of the plate [mm].
        fy: least yield strength [MPa].
    """
    need_positive(width=width, thickness=thickness, fy=fy)
    return Capacity(
        mode="yield of the gross section",
        nominal=fy * width * thickness,
        phi=0.90,
        omega=1.67,
        clause="AISC 360-16 D2(a)",
        assumptions=f"even tension over {width:.2f} mm",
    )


def net_rupture(width: float, hole: float, thickness: float, fu: float) -> Capacity:
    """Return Pn = Fu (w - dh) t, phi 0.75, omega 2.00.

    Args:
        width: of the strip across the force [mm].
        hole: diameter to take off [mm].
        thickness: of the plate [mm].
        fu: least tensile strength [MPa].
    """
    need_positive(net_width=width - hole, thickness=thickness, fu=fu)
    return Capacity(
        mode="rupture of the net section",
        nominal=fu * (width - hole) * thickness,
        phi=0.75,
        omega=2.00,
        clause="AISC 360-16 D2(b)",
        assumptions=f"even tension over {width - hole:.2f} mm left beside the hole",
    )
