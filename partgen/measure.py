"""Lengths, angles, forces, stresses as people type them; inside, mm, degrees, N and MPa.

Grammar of a length: a number and a unit, ``66.7 mm``, ``2.625 in``, ``.120 in``, ``2-5/8 in``,
``2 5/8"``, ``4 ft``. A bare number is in the unit of the job. Reading goes through exact fractions,
so ``2-5/8 in`` and ``66.675 mm`` are the same float.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import inf

from partgen.errors import MeasureError

UNITS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(127, 5),
    "inch": Fraction(127, 5),
    '"': Fraction(127, 5),
    "″": Fraction(127, 5),
    "ft": Fraction(1524, 5),
}
UNIT_WORDS = {"mm": "mm", "in": "inches"}  # in a sentence
LONGEST = 100_000.0  # mm; nothing a plate is cut for is longer
_NUMBER = r"(?:\d{1,12}(?:\.\d{0,12})?|\.\d{1,12})"
_LENGTH = re.compile(
    rf"(?P<sign>[+-]?)\s*(?:(?P<whole>\d{{1,9}})(?:\s*-\s*|\s+))?"
    rf"(?:(?P<top>\d{{1,9}})\s*/\s*(?P<bottom>\d{{1,9}})|(?P<number>{_NUMBER}))\s*(?P<unit>[^\d\s]*)"
)
_ANGLE = re.compile(rf"(?P<value>[+-]?\s*{_NUMBER})\s*(?:deg|°)?")


def per_unit(unit: str) -> float:
    """Return the millimetres in one ``unit`` ("mm" or "in").

    Examples:
        >>> per_unit("in")
        25.4
    """
    return float(UNITS[unit])


def parse_length(value: str | int | float, unit: str) -> float:
    """Return a length [mm].

    Args:
        value: text by the grammar of this module, or a bare number.
        unit: unit of bare numbers, "mm" or "in".

    Raises:
        MeasureError: the text is no length, or longer than 100 m.

    Examples:
        >>> parse_length("2-5/8 in", "mm"), parse_length('2 5/8"', "mm"), parse_length(2.625, "in")
        (66.675, 66.675, 66.675)
        >>> parse_length(".120 in", "mm")
        3.048
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise MeasureError(f"{value!r} is no length; write a number, '66.7 mm' or '2-5/8 in'")
    if not isinstance(value, str):
        if value != value or abs(value) == inf:
            raise MeasureError(f"{value} is no length; write a finite number")
        if abs(value) > LONGEST:  # in mm or inches; a whole number may be too large for a float
            raise MeasureError(_too_long(str(value)))
        return _limited(float(Fraction(repr(value)) * UNITS[unit]), str(value))
    match = _LENGTH.fullmatch(value.strip())
    if match is None:
        how = "a decimal point, no comma" if "," in value else "'66.7 mm', '2.625 in' or '2-5/8 in'"
        raise MeasureError(f"'{_short(value)}' is no length; write {how}")
    factor = UNITS.get(match["unit"].lower() or unit)
    if factor is None:
        raise MeasureError(
            f"'{_short(value)}': unit '{_short(match['unit'])}' is not known; use mm, cm, m, in, ft"
        )
    return _limited(float(_number(match, value) * factor), value)


def _number(match: re.Match[str], value: str) -> Fraction:
    if match["number"] is not None:
        if match["whole"] is not None:
            raise MeasureError(
                f"'{_short(value)}' is no length; a fraction follows the whole number"
            )
        size = Fraction(match["number"])
    else:
        if int(match["bottom"]) == 0:
            raise MeasureError(f"'{_short(value)}' divides by zero")
        size = Fraction(int(match["top"]), int(match["bottom"])) + int(match["whole"] or 0)
    return -size if match["sign"] == "-" else size


def _limited(length: float, typed: str) -> float:
    if abs(length) > LONGEST:
        raise MeasureError(_too_long(typed))
    return length


def _too_long(typed: str) -> str:
    return f"'{_short(typed)}' is longer than 100 m; check number and unit"


def _short(text: str) -> str:
    """Return text for a message: one line, at most 40 characters."""
    line = "".join(c if c.isprintable() else " " for c in text)
    return line if len(line) <= 40 else line[:37] + "..."


def parse_angle(value: str | int | float) -> float:
    """Return an angle [degrees]; a bare number is in degrees.

    Raises:
        MeasureError: the text is no angle, or beyond one turn.

    Examples:
        >>> parse_angle("12.5 deg")
        12.5
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise MeasureError(f"{value!r} is no angle; write '12 deg'")
    if isinstance(value, str):
        match = _ANGLE.fullmatch(value.strip())
        if match is None:
            raise MeasureError(f"'{_short(value)}' is no angle; write '12 deg'")
        value = float(match["value"].replace(" ", ""))
    if not abs(value) <= 360:
        raise MeasureError(f"{_short(str(value))} degrees is more than one turn")
    return float(value)


FORCES = {
    "n": 1.0,
    "kn": 1e3,
    "lbf": 4.4482216152605,
    "lb": 4.4482216152605,
    "kip": 4448.2216152605,
}
STRESSES = {"mpa": 1.0, "n/mm2": 1.0, "psi": 0.006894757293168, "ksi": 6.894757293168}
_WITH_UNIT = re.compile(rf"(?P<value>{_NUMBER})\s*(?P<unit>[A-Za-z][A-Za-z0-9/]*)")


def parse_force(value: str | int | float) -> float:
    """Return a force [N]; it carries its unit: N, kN, lbf or kip.

    Raises:
        MeasureError: the text is no force above 0 and up to 10 000 kN.

    Examples:
        >>> parse_force("8 kN"), round(parse_force("1800 lbf"), 1)
        (8000.0, 8006.8)
    """
    return _with_unit(value, "force", FORCES, "8 kN, 1800 lbf or 1.8 kip", 1e7)


def parse_stress(value: str | int | float) -> float:
    """Return a strength [MPa]; it carries its unit: MPa, ksi or psi.

    Raises:
        MeasureError: the text is no strength above 0 and up to 5000 MPa.

    Examples:
        >>> parse_stress("355 MPa"), round(parse_stress("70 ksi"), 2)
        (355.0, 482.63)
    """
    return _with_unit(value, "strength", STRESSES, "355 MPa or 70 ksi", 5000.0)


def shown_force(newton: float, unit: str) -> str:
    """Return a force for people: kN where lengths are in mm, else lbf.

    Examples:
        >>> shown_force(12340.0, "mm"), shown_force(12340.0, "in")
        ('12.34 kN', '2774 lbf')
    """
    return (
        f"{newton / FORCES['kn']:.2f} kN" if unit == "mm" else f"{newton / FORCES['lbf']:.0f} lbf"
    )


def _with_unit(value: object, kind: str, units: dict[str, float], how: str, most: float) -> float:
    match = _WITH_UNIT.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or match["unit"].lower() not in units:
        raise MeasureError(f"'{_short(str(value))}' is no {kind} with a unit; write {how}")
    result = float(match["value"]) * units[match["unit"].lower()]
    if not 0 < result <= most:
        raise MeasureError(f"'{_short(str(value))}': the {kind} must be more than 0 and sensible")
    return result


def length_text(mm: float, unit: str) -> str:
    """Return text that reads back as ``mm`` (to 1e-9 mm); inches as fractions to 1/64 when exact.

    Examples:
        >>> length_text(66.675, "in"), length_text(3.048, "in"), length_text(66.7, "mm")
        ('2-5/8 in', '0.12 in', '66.7 mm')
    """
    if unit == "mm":
        return f"{_trim(f'{mm:.9f}')} mm"
    fraction = _fraction_text(mm)
    if fraction is not None:
        return f"{fraction} in"
    inches = mm / per_unit("in")
    for digits in range(1, 13):
        text = f"{inches:.{digits}f}"
        if float(Fraction(text) * UNITS["in"]) == mm:
            return f"{_trim(text)} in"
    return f"{_trim(f'{inches:.12f}')} in"


def shown(mm: float, unit: str, digits: int | None = None) -> str:
    """Return a length for tables: 0.01 mm, or inches as a fraction to 1/64 or to 0.001.

    Args:
        mm: the length [mm].
        unit: "mm" or "in".
        digits: decimals; default 2 for mm and 3 for inches. Given, no fraction is used.

    Examples:
        >>> shown(66.675, "in"), shown(8.3344, "in"), shown(66.6751, "mm")
        ('2-5/8', '0.328', '66.68')
    """
    if unit == "mm":
        return _trim(f"{mm:.2f}") if digits is None else _plain_zero(f"{mm:.{digits}f}")
    fraction = _fraction_text(mm) if digits is None else None
    if fraction is not None:
        return fraction
    return _plain_zero(f"{mm / per_unit('in'):.{3 if digits is None else digits}f}")


def _fraction_text(mm: float) -> str | None:
    parts = mm / per_unit("in") * 64
    if abs(parts - round(parts)) > 1e-9 * max(1.0, abs(parts)):
        return None
    whole, rest = divmod(abs(round(parts)), 64)
    sign = "-" if round(parts) < 0 else ""
    if rest == 0:
        return f"{sign}{whole}"
    fraction = Fraction(rest, 64)
    text = f"{fraction.numerator}/{fraction.denominator}"
    return f"{sign}{whole}-{text}" if whole else f"{sign}{text}"


def _trim(text: str) -> str:
    if "." in text and "e" not in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _plain_zero(text: str) -> str:
    """Return a number's text, never "-0.00"."""
    return text.removeprefix("-") if not text.strip("-0.") else text


def in_unit(text: str, unit: str) -> str:
    """Return a message with every ``12.7 mm`` in it shown in ``unit``.

    Examples:
        >>> in_unit("root (12.7 mm) at (25.4, 50.8) mm, 6.35 x 12.7 mm", "in")
        'root (1/2 in) at (1, 2) in, 1/4 x 1/2 in'
        >>> in_unit("(25.4, 0) to (50.8, 12.7) mm", "in")
        '(1, 0) to (2, 1/2) in'
    """
    if unit == "mm":
        return text

    def swap(match: re.Match[str]) -> str:
        numbers = _IN_TEXT.sub(lambda n: shown(float(n[0]), unit), match[1])
        return f"{numbers} {unit}"

    return _LENGTHS_IN_TEXT.sub(swap, text)


_IN_TEXT = re.compile(r"-?\d[\d.]*(?:e[+-]?\d+)?")
_ONE = r"-?\d[\d.]*(?:e[+-]?\d+)?"
_POINT = rf"\((?:{_ONE}(?:, )?)+\)"
_LENGTHS_IN_TEXT = re.compile(rf"({_ONE} (?:to|x) {_ONE}|{_ONE}|(?:{_POINT} to )?{_POINT}) mm\b")


def point_text(point: tuple[float, float], digits: int = 1) -> str:
    """Return a place [mm] for a message that ``in_unit`` can read; never "-0.0".

    Examples:
        >>> point_text((-0.04, -96.3)), point_text((1.234, 0), 2)
        ('(0.0, -96.3) mm', '(1.23, 0.00) mm')
    """
    return f"({point[0]:z.{digits}f}, {point[1]:z.{digits}f}) mm"


def kerf_text(kerf: float, unit: str) -> str:
    """Return a kerf as it is read, with its unit.

    Examples:
        >>> kerf_text(1.7, "mm"), kerf_text(1.7, "in")
        ('1.7 mm', '0.0669 in')
    """
    return f"{shown(kerf, unit, 3 if unit == 'mm' else 4).rstrip('0').rstrip('.')} {unit}"
