"""Pin-connected plate (lug) in tension. AISC 360-16 clauses D5.1, D5.2 and J7.

Editions differ: since 2010 be is limited by the actual distance to the edge; the 2005 text of the
worked example took 2t + 0.63 in. alone. Not covered: force out of the plate's plane, fatigue.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.strength.capacity import Capacity, need_positive

BE_PLUS = 16.0  # mm, AISC prints 0.63 in. beside it
BE_PLUS_INCH = 0.63 * 25.4  # mm
END_PER_BE = 1.33


@dataclass(frozen=True, kw_only=True)
class Lug:
    """A plate about a pin, seen along the force; lengths in mm, stresses in MPa.

    Attributes:
        thickness: of the plate.
        width: across the force.
        hole: diameter of the hole.
        pin: diameter of the pin.
        end: a, hole's edge to the end of the plate, along the force.
        side: hole's edge to the edge of the plate, across the force, the smaller one.
        corner: c, hole's edge to the edge beyond at 45 degrees; None where not known.
        fy: least yield strength.
        fu: least tensile strength.
        inch: take 0.63 in. instead of 16 mm in be.
    """

    thickness: float
    width: float
    hole: float
    pin: float
    end: float
    side: float
    corner: float | None = None
    fy: float
    fu: float
    inch: bool = False

    def __post_init__(self) -> None:
        """Refuse sizes that are not above zero."""
        need_positive(
            thickness=self.thickness,
            width=self.width,
            hole=self.hole,
            pin=self.pin,
            end=self.end,
            side=self.side,
            fy=self.fy,
            fu=self.fu,
        )

    @property
    def effective_width(self) -> float:
        """Return be = 2t + 16 mm (0.63 in.), not more than the distance to the edge [mm]."""
        return min(2 * self.thickness + (BE_PLUS_INCH if self.inch else BE_PLUS), self.side)

    @property
    def shear_area(self) -> float:
        """Return Asf = 2t (a + d/2) [mm2]."""
        return 2 * self.thickness * (self.end + self.pin / 2)


def pin_capacities(lug: Lug) -> list[Capacity]:
    """Return tensile rupture, shear rupture, bearing and gross yield of a lug."""
    given = f"pin {lug.pin:.2f} mm in hole {lug.hole:.2f} mm, force along the plate"
    ruptures = [
        ("tensile rupture at the pin", lug.fu * 2 * lug.thickness * lug.effective_width, "D5.1(a)"),
        ("shear rupture beyond the pin", 0.6 * lug.fu * lug.shear_area, "D5.1(b)"),
        ("bearing on the projected pin", 1.8 * lug.fy * lug.pin * lug.thickness, "J7"),
    ]
    found = [
        Capacity(
            mode=mode,
            nominal=nominal,
            phi=0.75,
            omega=2.00,
            clause=f"AISC 360-16 {clause}",
            assumptions=given,
        )
        for mode, nominal, clause in ruptures
    ]
    found.append(
        Capacity(
            mode="yield of the gross section",
            nominal=lug.fy * lug.width * lug.thickness,
            phi=0.90,
            omega=1.67,
            clause="AISC 360-16 D5.1(c), D2(a)",
            assumptions=given,
        )
    )
    return found


def proportions(lug: Lug) -> list[tuple[str, float, float]]:
    """Return what D5.2 asks of the shape: (what, measured, required) [mm]."""
    be = lug.effective_width
    asked = [
        ("a, hole to end, at least 1.33 be", lug.end, END_PER_BE * be),
        ("w, width, at least 2 be + d", lug.width, 2 * be + lug.pin),
    ]
    if lug.corner is not None:
        asked.append(("c, hole to corner, at least a", lug.corner, lug.end))
    return asked
