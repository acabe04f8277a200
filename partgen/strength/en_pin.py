"""Pin connections by EN 1993-1-8 clause 3.13: Tables 3.9 and 3.10.

Not covered: fatigue, pins held in bending between several plates by other statics than a simple
span. Values 0.7 sqrt, 1.3 and 0.75 of Table 3.9 type B are from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from partgen.strength.capacity import Capacity, need_positive

GAMMA_M0 = 1.0
GAMMA_M2 = 1.25
GAMMA_M6_SER = 1.0


def least_end(force: float, thickness: float, hole: float, fy: float) -> tuple[float, float]:
    """Return least a and c of a pin plate of given thickness (Table 3.9 type A) [mm].

    a >= F gM0 / (2 t fy) + 2 d0/3; c >= F gM0 / (2 t fy) + d0/3, both from the hole's edge.

    Args:
        force: FEd [N].
        thickness: t [mm].
        hole: d0 [mm].
        fy: yield strength [MPa].
    """
    need_positive(thickness=thickness, hole=hole, fy=fy)
    shared = force * GAMMA_M0 / (2 * thickness * fy)
    return shared + 2 * hole / 3, shared + hole / 3


def end_force(
    thickness: float, hole: float, fy: float, end: float, side: float
) -> tuple[float, float]:
    """Return the forces at which a and c are just what Table 3.9 type A asks [N].

    The inverse of :func:`least_end`; zero where the plate is too short for any force.
    """
    need_positive(thickness=thickness, hole=hole, fy=fy)
    rate = 2 * thickness * fy / GAMMA_M0
    return max(end - 2 * hole / 3, 0.0) * rate, max(side - hole / 3, 0.0) * rate


def least_thickness(force: float, fy: float) -> tuple[float, float]:
    """Return least thickness and largest hole of Table 3.9 type B, t >= 0.7 sqrt(F gM0/fy) [mm]."""
    need_positive(fy=fy)
    t = 0.7 * sqrt(force * GAMMA_M0 / fy)
    return t, 2.5 * t


@dataclass(frozen=True, kw_only=True)
class Pin:
    """A pin between two outer plates and one inner; lengths in mm, stresses in MPa.

    Attributes:
        diameter: d.
        fy: yield strength of the pin.
        fu: tensile strength of the pin.
        outer: a, thickness of each outer plate.
        inner: b, thickness of the inner part.
        gap: c, between outer and inner.
    """

    diameter: float
    fy: float
    fu: float
    outer: float
    inner: float
    gap: float = 0.0

    @property
    def area(self) -> float:
        """Section of the pin [mm2]."""
        return pi / 4 * self.diameter**2

    @property
    def modulus(self) -> float:
        """Elastic section modulus, pi d^3 / 32 [mm3]."""
        return pi / 32 * self.diameter**3

    def moment(self, force: float) -> float:
        """Return MEd = F/8 (b + 4c + 2a) [N mm]."""
        return force / 8 * (self.inner + 4 * self.gap + 2 * self.outer)


def pin_shear(pin: Pin, planes: int = 2) -> Capacity:
    """Return Fv,Rd = 0.6 A fup / gM2 for each plane."""
    need_positive(diameter=pin.diameter, fu=pin.fu)
    return _capacity("pin shear", 0.6 * pin.area * pin.fu * planes, GAMMA_M2)


def pin_moment(pin: Pin, *, replaceable: bool = False, gamma_m0: float = GAMMA_M0) -> float:
    """Return MRd = 1.5 Wel fyp / gM0; replaceable pins 0.8 Wel fyp / gM6,ser [N mm]."""
    need_positive(diameter=pin.diameter, fy=pin.fy, gamma_m0=gamma_m0)
    if replaceable:
        return 0.8 * pin.modulus * pin.fy / GAMMA_M6_SER
    return 1.5 * pin.modulus * pin.fy / gamma_m0


def pin_bending(pin: Pin) -> Capacity:
    """Return the force at which the pin's moment reaches MRd."""
    return _capacity("pin bending", pin_moment(pin) * GAMMA_M0 / pin.moment(1.0), GAMMA_M0)


def pin_bearing(
    thickness: float, diameter: float, fy: float, *, replaceable: bool = False
) -> Capacity:
    """Return Fb,Rd = 1.5 t d fy / gM0, fy the lower of pin and plate; 0.6 if replaceable."""
    need_positive(thickness=thickness, diameter=diameter, fy=fy)
    factor = 0.6 if replaceable else 1.5
    return _capacity("bearing on the pin", factor * thickness * diameter * fy, GAMMA_M0)


def combined(pin: Pin, force: float) -> float:
    """Return (MEd/MRd)^2 + (FvEd/FvRd)^2 with the force in double shear; at most 1 [-]."""
    shear = pin_shear(pin, planes=1).design
    return float((pin.moment(force) / pin_moment(pin)) ** 2 + (force / 2 / shear) ** 2)


def pin_combined(pin: Pin) -> Capacity:
    """Return the force at which shear and bending of the pin together reach their limit."""
    return _capacity("pin in shear and bending", 1 / sqrt(combined(pin, 1.0)), 1.0)


def contact_stress(
    force: float, elastic: float, hole: float, diameter: float, thickness: float
) -> float:
    """Return sigma_h,Ed = 0.591 sqrt(E F (d0 - d) / (d^2 t)) [MPa]; limit 2.5 fy / gM6,ser."""
    need_positive(elastic=elastic, diameter=diameter, thickness=thickness)
    return 0.591 * sqrt(elastic * force * (hole - diameter) / (diameter**2 * thickness))


def _capacity(mode: str, nominal: float, gamma: float) -> Capacity:
    return Capacity(
        mode=mode,
        nominal=nominal,
        phi=1 / gamma,
        clause="EN 1993-1-8 Table 3.10",
        assumptions=f"partial factor {gamma:g}; simple span of the pin",
    )
