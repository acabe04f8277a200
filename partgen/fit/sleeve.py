"""Sleeve: a tube about a bolt, cut to length, that keeps two plates apart.

A crush sleeve lets a bolt right through a rail be tightened without crushing the rail: it goes
through both walls, is welded to them, and the plates on the rail bear on it.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.errors import GeometryError
from partgen.geometry.segment import Point
from partgen.reference.bolt import Bolt

PLAY = 0.25  # mm that a crush sleeve is shorter; common practice, no source


@dataclass(frozen=True)
class Sleeve:
    """A sleeve as it is cut.

    Attributes:
        length: face to face [mm].
        outside: least outside diameter [mm].
        bore: hole for the bolt [mm].
    """

    length: float
    outside: float
    bore: float


@dataclass(frozen=True)
class Through:
    """Where a mount's bolt goes on, through a rail and the two plates on it.

    Attributes:
        mount: name of the link mount whose plates they are.
        rail: name of that rail.
        hole: name of the bolt's hole in both plates.
        sleeve: the crush sleeve between them.
        at: that hole's centre in the rail's side view; None where the plates lack it [mm].
        height: of that hole above the rail's lower edge [mm].
    """

    mount: str
    rail: str
    hole: str
    sleeve: Sleeve
    at: Point | None = None
    height: float = 0.0


def crush_sleeve(
    width: float,
    bolt: Bolt,
    fit: str | float = "close",
    *,
    outside: float | None = None,
    play: float = PLAY,
) -> Sleeve:
    """Return the crush sleeve for a bolt through a rail.

    Its length is the rail's width, with any spacers beside it, less the play, so that the plates
    lie flat; its bore is the bolt's hole; its outside, if none is given, that of the washer.

    Args:
        width: between the two plates on the rail [mm].
        bolt: what goes through.
        fit: clearance of its bore, close, normal or loose; or its diameter [mm].
        outside: of the tube in the rack [mm].
        play: by which it is shorter than the rail is wide [mm].

    Raises:
        GeometryError: no length or no wall is left.

    Examples:
        >>> from partgen.reference.bolt import bolt
        >>> crush_sleeve(52, bolt("M16"), play=0.5)
        Sleeve(length=51.5, outside=30.0, bore=17.0)
    """
    bore = bolt.hole(fit)
    outside = bolt.washer_diameter if outside is None else outside
    if outside <= bore:
        raise GeometryError(
            f"sleeve = {outside:g} mm outside leaves no wall round a bore of {bore:g} mm for "
            f"{bolt.size}; take a wider tube"
        )
    if play >= width:
        raise GeometryError(
            f"play = {play:g} mm is not less than the rail's width, {width:g} mm; set less play"
        )
    return Sleeve(width - play, outside, bore)
