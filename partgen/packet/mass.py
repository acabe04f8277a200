"""Masses as the shop weighs them: kilograms where lengths are in mm, pounds where in inches."""

from __future__ import annotations

POUND = 0.45359237  # kg, exact (international pound)


def mass_unit(unit: str) -> str:
    """Return the unit of masses in a job with lengths in ``unit`` ("mm" or "in")."""
    return "kg" if unit == "mm" else "lb"


def mass_figure(kg: float, unit: str) -> str:
    """Return a mass for a table."""
    return f"{kg if unit == 'mm' else kg / POUND:.2f}"


def mass_text(kg: float, unit: str) -> str:
    """Return a mass with its unit.

    Examples:
        >>> mass_text(1.264, "mm"), mass_text(1.264, "in")
        ('1.26 kg', '2.79 lb')
    """
    return f"{mass_figure(kg, unit)} {mass_unit(unit)}"
