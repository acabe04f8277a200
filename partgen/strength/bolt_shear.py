"""Bolt shear. AISC 360 clause J3.6 with Table J3.2; EN 1993-1-8 Table 3.4.

AISC goes by the gross body area whether threads are in the shear plane or not: the nominal stress
differs. Grades that Table J3.2 does not print count as its "other threaded parts". Not covered:
bolts in tension as well, long joints, fillers, fatigue.
"""

from __future__ import annotations

from math import pi
from typing import Literal

from partgen.errors import ProfileError
from partgen.reference.material import MPA_PER
from partgen.reference.tables import load
from partgen.strength.bolt_grade import BoltGrade, nominal_class
from partgen.strength.capacity import Capacity, need_positive

Edition = Literal["2005", "2016"]
TABLES = {"2005": "aisc_360_05_j3_2", "2016": "aisc_360_16_j3_2"}
PHI, OMEGA = 0.75, 2.00
GAMMA_M2 = 1.25


def nominal_stress(group: str, *, threads_in: bool, edition: Edition = "2016") -> float:
    """Return Fnv of a fastener that Table J3.2 prints [MPa].

    Raises:
        ProfileError: the edition's table prints no such fastener or no value for these threads.

    Examples:
        >>> round(nominal_stress("A325", threads_in=True) / 6.894757, 1)
        54.0
        >>> round(nominal_stress("A325", threads_in=True, edition="2005") / 6.894757, 1)
        48.0
    """
    table = load(TABLES[edition])
    row = table.find(fastener=group)
    if row is None:
        raise ProfileError(f"{table.source.cite}: no fastener '{group}'")
    return table.number(row, "fnv_in" if threads_in else "fnv_out") * MPA_PER["ksi"]


def other_stress(tensile: float, *, threads_in: bool, edition: Edition = "2016") -> float:
    """Return Fnv of other threaded parts of tensile strength Fu: a printed share of it [MPa].

    Examples:
        >>> other_stress(1000, threads_in=True), other_stress(1000, threads_in=False)
        (450.0, 563.0)
        >>> other_stress(1000, threads_in=True, edition="2005")
        400.0
    """
    need_positive(tensile=tensile)
    share = load(TABLES[edition]).meaning["other"]["in" if threads_in else "out"]
    return float(share) * tensile


def aisc_bolt_shear(
    diameter: float, stress: float, planes: int = 1, *, edition: Edition = "2016", note: str = ""
) -> Capacity:
    """Return Rn = Fnv Ab for each shear plane.

    Args:
        diameter: of the body [mm].
        stress: Fnv [MPa].
        planes: shear planes, 1 single, 2 double.
        edition: of AISC 360.
        note: more to say about the assumptions.
    """
    need_positive(diameter=diameter, stress=stress, planes=planes)
    return Capacity(
        mode="bolt shear, " + ("double" if planes == 2 else "single" if planes == 1 else "several"),
        nominal=stress * pi / 4 * diameter**2 * planes,
        phi=PHI,
        omega=OMEGA,
        clause=f"AISC 360-{edition[2:]} J3.6, Table J3.2",
        assumptions="shear alone, equal in all planes; body area" + (f"; {note}" if note else ""),
    )


def graded_bolt_shear(
    diameter: float, grade: BoltGrade, planes: int, *, threads_in: bool, edition: Edition = "2016"
) -> Capacity:
    """Return the shear strength of a bolt of a SAE or ISO grade, as other threaded part."""
    where = "in" if threads_in else "out of"
    return aisc_bolt_shear(
        diameter,
        other_stress(grade.tensile, threads_in=threads_in, edition=edition),
        planes,
        edition=edition,
        note=f"threads {where} the shear plane; {grade.source}, grade {grade.name}",
    )


def en_bolt_shear(
    diameter: float, area: float, name: str, planes: int = 1, *, threads_in: bool
) -> Capacity:
    """Return Fv,Rd = alpha_v fub A / gamma_M2 for each plane (EN 1993-1-8 Table 3.4).

    alpha_v 0.6 for 4.6, 5.6 and 8.8, 0.5 for 4.8, 5.8, 6.8 and 10.9 with threads in the plane (A
    is then the stress area), 0.6 of the gross area otherwise. From memory.

    Args:
        diameter: of the body [mm].
        area: tensile stress area [mm2].
        name: property class, "8.8".
        planes: shear planes.
        threads_in: threads lie in the shear plane.

    Raises:
        ProfileError: no property class.
    """
    need_positive(diameter=diameter, area=area, planes=planes)
    fub, _ = nominal_class(name)
    alpha = 0.6 if not threads_in or name in ("4.6", "5.6", "8.8") else 0.5
    return Capacity(
        mode="bolt shear",
        nominal=alpha * fub * (area if threads_in else pi / 4 * diameter**2) * planes,
        phi=1 / GAMMA_M2,
        clause="EN 1993-1-8 Table 3.4",
        assumptions=f"class {name}, nominal strength; threads "
        f"{'in' if threads_in else 'out of'} the shear plane; gamma_M2 {GAMMA_M2}",
    )
