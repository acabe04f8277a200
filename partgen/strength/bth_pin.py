"""Pinned connection of a lifting or link plate. ASME BTH-1 clause 3-3.3.

The design factor Nd stands in every strength; where the user gives a factor of their own it takes
that place. Editions differ: 2005 has no Cr and a shear plane at 45 degrees from the hole; later
ones reduce by Cr and take phi = 55 Dp/Dh degrees from the pin. Not covered: fatigue, cyclic turning
in the hole (its bearing limit is lower), several plates, force out of plane.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, sqrt
from typing import Literal

from partgen.errors import MeasureError
from partgen.strength.capacity import Capacity, need_positive

Edition = Literal["2005", "2014"]


@dataclass(frozen=True, kw_only=True)
class BthLug:
    """A plate about a pin; lengths in mm, stresses in MPa.

    Attributes:
        thickness: t.
        hole: Dh.
        pin: Dp.
        end: a, hole's edge to the end, along the force.
        side: be, hole's edge to the edge, across the force.
        fy: least yield strength.
        fu: least tensile strength.
        curved_end: the end is an arc about the hole.
        edition: of the document.
    """

    thickness: float
    hole: float
    pin: float
    end: float
    side: float
    fy: float
    fu: float
    curved_end: bool = False
    edition: Edition = "2014"

    def __post_init__(self) -> None:
        """Refuse sizes that are not above zero and a pin larger than its hole."""
        need_positive(
            thickness=self.thickness,
            hole=self.hole,
            pin=self.pin,
            end=self.end,
            side=self.side,
            fy=self.fy,
            fu=self.fu,
        )
        if self.pin > self.hole:
            raise MeasureError(f"pin {self.pin:g} mm is larger than its hole, {self.hole:g} mm")

    @property
    def effective_width(self) -> float:
        """Return beff: the least of be, 4t and 0.6 be (Fu/Fy) sqrt(Dh/be) [mm]."""
        third = 0.6 * self.side * self.fu / self.fy * sqrt(self.hole / self.side)
        return min(self.side, 4 * self.thickness, third)

    @property
    def looseness(self) -> float:
        """Return Cr = 1 - 0.275 sqrt(1 - Dp^2/Dh^2); 1 in the 2005 edition [-]."""
        if self.edition == "2005":
            return 1.0
        return 1 - 0.275 * sqrt(1 - (self.pin / self.hole) ** 2)

    @property
    def plane_angle(self) -> float:
        """Return phi, where the shear planes leave the pin [degrees]."""
        return 45.0 if self.edition == "2005" else 55 * self.pin / self.hole

    @property
    def curve_loss(self) -> float:
        """Return Z', what a curved end takes off each shear plane [mm]."""
        if not self.curved_end:
            return 0.0
        r = self.end + self.hole / 2
        return r - sqrt(r * r - (self.pin / 2 * sin(radians(self.plane_angle))) ** 2)

    @property
    def shear_area(self) -> float:
        """Return Av, both planes [mm2]."""
        across = self.hole if self.edition == "2005" else self.pin
        rise = across / 2 * (1 - cos(radians(self.plane_angle)))
        return 2 * (self.end + rise - self.curve_loss) * self.thickness


def bth_capacities(lug: BthLug, factor: float) -> list[Capacity]:
    """Return Pt, Pb, Pv and Pp with design factor ``factor`` (Nd).

    Pt = Cr Fu/(1.2 Nd) 2 t beff; Pb = Cr Fu/(1.2 Nd) (1.13 a + 0.92 be/(1 + be/Dh)) t;
    Pv = 0.70 Fu/(1.2 Nd) Av; Pp = 1.25 Fy/Nd Dp t. ``nominal`` is at Nd 1, ``design`` at Nd.
    """
    need_positive(design_factor=factor)
    tensile, t = lug.fu / 1.2, lug.thickness
    splitting = 1.13 * lug.end + 0.92 * lug.side / (1 + lug.side / lug.hole)
    modes = [
        ("tension through the pin hole", lug.looseness * tensile * 2 * t * lug.effective_width),
        ("fracture beyond the hole", lug.looseness * tensile * splitting * t),
        ("double-plane shear", 0.70 * tensile * lug.shear_area),
        ("bearing on the pin", 1.25 * lug.fy * lug.pin * t),
    ]
    return [
        Capacity(
            mode=mode,
            nominal=nominal,
            phi=1 / factor,
            clause=f"ASME BTH-1 ({lug.edition}) 3-3.3",
            assumptions=f"Nd {factor:g}; no turning under cyclic load; force in the plate's plane",
        )
        for mode, nominal in modes
    ]
