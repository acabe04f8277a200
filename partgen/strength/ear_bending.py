"""Bending of an ear out of its plane by a force along the bolt. AISC 360-16 F11, from memory.

The ear is a cantilever strip: width b at its root, thickness t, force at the bolt. Mp = Fy Z, not
more than 1.6 Fy S; for a flat strip Z = b t^2/4 and S = b t^2/6, so Mp governs. Not covered: the
weld at the root (weld_line), twisting, fatigue, stiffening by gussets (left out, on the safe side).
"""

from __future__ import annotations

from partgen.strength.capacity import Capacity, need_positive


def ear_bending(width: float, thickness: float, arm: float, fy: float) -> Capacity:
    """Return the force along the bolt that makes the ear's root yield through.

    Args:
        width: of the ear at its root [mm].
        thickness: of the plate [mm].
        arm: from the bolt to the root [mm].
        fy: least yield strength [MPa].
    """
    need_positive(width=width, thickness=thickness, arm=arm, fy=fy)
    moment = fy * width * thickness**2 / 4
    return Capacity(
        mode="ear bent out of its plane",
        nominal=moment / arm,
        phi=0.90,
        omega=1.67,
        clause="AISC 360-16 F11 (from memory)",
        assumptions=f"whole side force on one ear, {arm:.2f} mm from the bolt to the section, "
        f"{width:.2f} mm wide there; no gusset counted",
    )
