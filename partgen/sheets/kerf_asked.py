"""The kerf as it was asked for: the profile's, or a width, which must not be in the wrong unit."""

from __future__ import annotations

from partgen.entries.cutting import Cutting
from partgen.errors import MeasureError, PartgenError
from partgen.measure import in_unit, kerf_text, parse_length

LEAST, MOST = 0.05, 10.0  # mm
UNLIKE = 4.0  # times the profile's kerf, or its part; a bare number is then in the wrong unit


def kerf_asked(typed: str, process: Cutting, unit: str) -> float:
    """Return the kerf that is to be compensated [mm].

    Args:
        typed: "profile", or a width with or without a unit.
        process: the cutting profile.
        unit: of bare numbers, "mm" or "in".

    Raises:
        PartgenError: it is no length, out of range, or a bare number far off the profile's kerf.
    """
    typed = typed.strip()
    if typed == "profile":
        return process.kerf
    try:
        kerf = parse_length(typed, unit)
    except MeasureError as error:
        raise PartgenError(f"--kerf: {error}; or write 'profile'") from None
    if not LEAST <= kerf <= MOST:
        line = f"--kerf {typed}: {kerf:g} mm is outside {LEAST:g} to {MOST:g} mm"
        raise PartgenError(in_unit(line, unit))
    is_bare = typed[-1].isdigit() or typed.endswith(".")
    if is_bare and not 1 / UNLIKE <= kerf / process.kerf <= UNLIKE:
        read, own = kerf_text(kerf, unit), kerf_text(process.kerf, unit)
        raise PartgenError(
            f"--kerf {typed} is read as {read}, far off the profile's {own}; write its unit too, "
            f"as {typed}mm or {typed}in"
        )
    return kerf


def refuse_narrow(gap: float, kerf: float, unit: str) -> None:
    """Refuse plates so near each other that the torch, cutting one, takes of the next.

    Raises:
        PartgenError: the gap is less than the kerf; both in mm.
    """
    if gap < kerf:
        line = f"{gap:g} mm between plates: less than the kerf, {kerf:g} mm, which the files allow "
        raise PartgenError(in_unit(f"{line}for; set --gap or cutting.part_gap to more", unit))
