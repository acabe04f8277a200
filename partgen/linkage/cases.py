"""Positions of the wheels that are worked out: named ones, a grid between them, and two sweeps."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, degrees, radians, sin

from partgen.errors import GeometryError
from partgen.linkage.entry import LinkageEntry

GRID = 7  # positions of each wheel
SWEEP = 25  # positions along a curve


@dataclass(frozen=True)
class Case:
    """Where the wheels are.

    Attributes:
        name: "ride", "full bump", ... or what it is in the grid.
        left: travel of the left wheel, up positive [mm].
        right: of the right wheel [mm].
    """

    name: str
    left: float
    right: float

    @property
    def heave(self) -> float:
        """Of the axle's centre [mm]."""
        return (self.left + self.right) / 2

    def roll(self, track: float) -> float:
        """Return the axle's roll, left wheel up [rad]."""
        return asin((self.left - self.right) / track)


def named_cases(entry: LinkageEntry) -> list[Case]:
    """Return ride, full bump, full droop and twist both ways.

    Raises:
        GeometryError: the wheels cannot be so far apart, or the roll is beyond the stops.
    """
    bump, droop = entry.bump, entry.droop
    high, low = twist(entry)
    return [
        Case("ride", 0.0, 0.0),
        Case("full bump", bump, bump),
        Case("full droop", -droop, -droop),
        Case("twist, left up", high, low),
        Case("twist, right up", low, high),
    ]


def twist(entry: LinkageEntry) -> tuple[float, float]:
    """Return travel of the upper and of the lower wheel at greatest roll [mm].

    Raises:
        GeometryError: the wheels cannot be so far apart, or the roll is beyond the stops.
    """
    bump, droop, track = entry.bump, entry.droop, 2 * entry.wheel[1]
    if bump + droop >= track:
        raise GeometryError(
            f"bump + droop = {bump + droop:g} mm is not less than the track, {track:g} mm; "
            "check the wheel's y"
        )
    if entry.roll is None:
        return bump, -droop
    half = track / 2 * sin(radians(entry.roll))
    if 2 * half > bump + droop + 1e-9:
        most = degrees(asin((bump + droop) / track))
        raise GeometryError(
            f"roll = {entry.roll:g} deg takes the wheels {2 * half:.4g} mm apart, beyond bump + "
            f"droop = {bump + droop:g} mm; at most {most:.1f} deg"
        )
    middle = (bump - droop) / 2
    return middle + half, middle - half


def grid(entry: LinkageEntry) -> list[Case]:
    """Return every pairing of wheel positions, within the greatest roll."""
    high, low = twist(entry)
    steps = [-entry.droop + (entry.bump + entry.droop) * k / (GRID - 1) for k in range(GRID)]
    return [
        Case(f"wheels at {a:.4g} mm left, {b:.4g} mm right", a, b)
        for a in steps
        for b in steps
        if abs(a - b) <= high - low + 1e-9
    ]


def sweeps(entry: LinkageEntry) -> tuple[list[Case], list[Case]]:
    """Return cases of pure heave, and of pure roll about the middle of the twist cases."""
    high, low = twist(entry)
    middle, half = (high + low) / 2, (high - low) / 2
    shares = [2 * k / (SWEEP - 1) - 1 for k in range(SWEEP)]
    spans = [k / (SWEEP - 1) for k in range(SWEEP)]
    heave = [-entry.droop + (entry.bump + entry.droop) * s for s in spans]
    return (
        [Case("heave", h, h) for h in heave],
        [Case("roll", middle + half * s, middle - half * s) for s in shares],
    )
