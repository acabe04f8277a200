"""Strength of a bolt by its grade: SAE J429 for inch, ISO 898-1 for metric bolts.

EN 1993-1-8 uses the nominal values of the class number instead (8.8: 800 and 640 MPa): kept apart
in :func:`nominal_class`. A grade that no table prints is not covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi

from partgen.errors import ProfileError, nearest
from partgen.reference.bolt import Bolt
from partgen.reference.material import MPA_PER
from partgen.reference.tables import Table, load

INCH = 25.4
SLACK = 1e-9  # mm or in
SAE, ISO = "sae_j429", "iso_898_1_strength"
NOMINAL_CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "10.9")  # EN 1993-1-8 Table 3.1


@dataclass(frozen=True)
class BoltGrade:
    """One grade at one size.

    Attributes:
        name: "8" or "10.9".
        proof: proof stress [MPa].
        yields: least yield strength [MPa].
        tensile: least tensile strength [MPa].
        source: short citation.
    """

    name: str
    proof: float
    yields: float
    tensile: float
    source: str


def known_grades(system: str) -> list[str]:
    """Return the grades printed for "metric" or "inch" bolts.

    Examples:
        >>> known_grades("metric"), known_grades("inch")
        (['8.8', '10.9', '12.9'], ['2', '5', '8'])
    """
    table, column = (load(ISO), "class") if system == "metric" else (load(SAE), "grade")
    return list(dict.fromkeys(str(row[column]) for row in table.rows))


def bolt_grade(name: str, bolt: Bolt) -> BoltGrade:
    """Return the strength of a bolt of grade ``name``.

    Raises:
        ProfileError: no such grade for the bolt's system, or none at its size.

    Examples:
        >>> from partgen.reference.bolt import bolt
        >>> bolt_grade("8.8", bolt("M16")).tensile, bolt_grade("8.8", bolt("M20")).tensile
        (800.0, 830.0)
        >>> round(bolt_grade("8", bolt("3/4")).tensile)
        1034
    """
    known = known_grades(bolt.system)
    if name not in known:
        what = "property class" if bolt.system == "metric" else "grade"
        raise ProfileError(f"bolt {bolt.size}: {what} '{name}' is unknown; {nearest(name, known)}")
    metric = bolt.system == "metric"
    return _of_table(load(ISO if metric else SAE), name, bolt, metric)


def _of_table(table: Table, name: str, bolt: Bolt, metric: bool) -> BoltGrade:
    size = bolt.diameter if metric else bolt.diameter / INCH
    column = table.columns[0]
    for row in table.rows:
        low = table.number(row, "over" if metric else "from")
        top = inf if row["to"] is None else float(row["to"])
        if str(row[column]) == name and low - SLACK <= size <= top + SLACK:  # the first that fits
            fields = ("sp", "yield", "rm") if metric else ("proof", "yield", "tensile")
            mpa = (table.number(row, f) * MPA_PER[table.units[f]] for f in fields)
            proof, yields, tensile = mpa
            return BoltGrade(name, proof, yields, tensile, table.cite(row))
    raise ProfileError(f"bolt {bolt.size}: {table.source.cite} prints no grade {name} at this size")


def nominal_class(name: str) -> tuple[float, float]:
    """Return nominal tensile and yield strength of a property class, (fub, fyb) [MPa].

    First number times 100, and that times the second number over 10 (EN 1993-1-8 Table 3.1).

    Raises:
        ProfileError: no property class.

    Examples:
        >>> nominal_class("8.8"), nominal_class("10.9"), nominal_class("4.6")
        ((800.0, 640.0), (1000.0, 900.0), (400.0, 240.0))
    """
    if name not in NOMINAL_CLASSES:
        raise ProfileError(f"property class '{name}' is unknown; {nearest(name, NOMINAL_CLASSES)}")
    whole, part = name.split(".")
    return 100.0 * int(whole), 10.0 * int(whole) * int(part)


def stress_area(bolt: Bolt) -> float:
    """Return the tensile stress area of a bolt's thread [mm2].

    ISO 898-1: pi/4 (d - 0.9382 P)^2; ASME B1.1: pi/4 (d - 0.9743 P)^2.

    Examples:
        >>> from partgen.reference.bolt import bolt
        >>> round(stress_area(bolt("M16")), 1), round(stress_area(bolt("3/4-10")) / 25.4**2, 3)
        (156.7, 0.334)
    """
    loss = 0.9382 if bolt.system == "metric" else 0.9743
    return pi / 4 * (bolt.diameter - loss * bolt.pitch) ** 2
