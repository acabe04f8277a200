"""Plate materials: density and least strength by thickness, for screening only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf
from typing import Any

from partgen.errors import ProfileError, nearest
from partgen.reference import profile_files
from partgen.reference.source import Source, read_source
from partgen.reference.tables import MM_PER

MPA_PER = {"MPa": 1.0, "ksi": 6.894757293168}


@dataclass(frozen=True, kw_only=True)
class Limit:
    """Least strength of one band of thickness.

    Attributes:
        thickness: upper end of the band [mm].
        included: whether the upper end belongs to the band.
        stress: least strength [MPa].
    """

    thickness: float
    included: bool
    stress: float

    def covers(self, thickness: float) -> bool:
        """Return whether a thickness [mm] is at or under the upper end."""
        return thickness < self.thickness or (self.included and thickness == self.thickness)


@dataclass(frozen=True, kw_only=True)
class Material:
    """One plate material.

    Attributes:
        name: printed name, for example "S355".
        density: mass of a unit of volume [kg/m3].
        source: the document of the strengths.
        yields: least yield strength by thickness, thinnest band first.
        tensiles: least tensile strength by thickness, thinnest band first.
    """

    name: str
    density: float
    source: Source
    yields: tuple[Limit, ...]
    tensiles: tuple[Limit, ...]

    def strength(self, thickness: float) -> tuple[float, float] | None:
        """Return least yield and tensile strength, None where the source prints none.

        Args:
            thickness: plate thickness [mm].

        Returns:
            (fy, fu) [MPa], screening only.

        Raises:
            ProfileError: the thickness is not above 0.

        Examples:
            >>> material("s355").strength(6), material("S355").strength(20)
            ((355.0, 470.0), (345.0, 470.0))
            >>> material("S235").strength(50) is None
            True
        """
        if not thickness > 0:
            raise ProfileError(f"{self.name}: thickness is {thickness:g} mm, needs > 0 mm")
        fy = _at(self.yields, thickness)
        fu = _at(self.tensiles, thickness)
        return None if fy is None or fu is None else (fy, fu)


def names() -> list[str]:
    """Return the names of all materials, as the files are called.

    Examples:
        >>> names()[:2]
        ['a36', 'a572-50']
    """
    return profile_files.names("materials")


def material(name: str) -> Material:
    """Return a material by name, upper or lower case.

    Raises:
        ProfileError: the material is unknown, or its file is incomplete.

    Examples:
        >>> material("a572-50").name, material("S275").density
        ('A572-50', 7850.0)
    """
    wanted = name.strip().lower()
    if wanted not in names():
        known = [other.upper() for other in names()]
        raise ProfileError(f"material '{name}' is unknown; {nearest(wanted.upper(), known)}")
    return _load(wanted)


def parse(name: str, data: Mapping[str, Any]) -> Material:
    """Check the contents of a material file and return the material.

    Raises:
        ProfileError: a field is missing, unknown or wrong.
    """
    where = f"profiles/materials/{name}.toml"
    for field in sorted({"name", "density", "source", "strength"} ^ set(data)):
        state = "unknown" if field in data else "missing"
        raise ProfileError(f"{where}: field '{field}' is {state}")
    density = data["density"]
    if not _is_number(density) or not 500 <= density <= 25000:
        raise ProfileError(f"{where}: density is {density!r}, needs 500 to 25000 kg/m3")
    if not isinstance(data["name"], str) or data["name"].lower() != name:
        raise ProfileError(f"{where}: name is {data['name']!r}, needs the name of the file")
    if not isinstance(data["source"], dict) or not isinstance(data["strength"], dict):
        raise ProfileError(f"{where}: [source] and [strength] must be blocks")
    return Material(
        name=data["name"],
        density=float(density),
        source=read_source(where, data["source"]),
        yields=_limits(where, data["strength"], "fy"),
        tensiles=_limits(where, data["strength"], "fu"),
    )


@cache
def _load(name: str) -> Material:
    return parse(name, profile_files.read("materials", name))


def _limits(where: str, block: Mapping[str, Any], field: str) -> tuple[Limit, ...]:
    """Return the bands of one strength, converted, in rising thickness."""
    for key in sorted({"stress", "thickness", "fy", "fu"} ^ set(block)):
        state = "unknown" if key in block else "missing"
        raise ProfileError(f"{where}: [strength] field '{key}' is {state}")
    if block["stress"] not in MPA_PER or block["thickness"] not in MM_PER:
        raise ProfileError(
            f"{where}: [strength] is in {block['stress']} by {block['thickness']}; "
            "needs MPa or ksi by mm or in"
        )
    limits: list[Limit] = []
    for number, band in enumerate(block[field], start=1):
        end = "below" if isinstance(band, dict) and "below" in band else "to"
        if not isinstance(band, dict) or not _is_band(band, end):
            raise ProfileError(f"{where}: {field} band {number} is {band}; needs to or below, min")
        top, stress = band[end] * MM_PER[block["thickness"]], band["min"] * MPA_PER[block["stress"]]
        if top <= (limits[-1].thickness if limits else 0) or stress <= 0:
            raise ProfileError(f"{where}: {field} band {number} must rise above the one before")
        limits.append(Limit(thickness=float(top), included=end == "to", stress=float(stress)))
    if not limits:
        raise ProfileError(f"{where}: [strength] field '{field}' is empty")
    return tuple(limits)


def _at(limits: tuple[Limit, ...], thickness: float) -> float | None:
    """Return the strength [MPa] of the first band that covers a thickness [mm]."""
    return next((limit.stress for limit in limits if limit.covers(thickness)), None)


def _is_band(band: Mapping[str, object], end: str) -> bool:
    return set(band) == {end, "min"} and all(_is_number(value) for value in band.values())


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < inf
