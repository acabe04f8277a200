"""Weld leg: every fillet of the weld map, and the leg asked for on a rail, within published limits.

At least AISC 360-16 Table J2.4 by the thinner part, as far as it is known (never more than that
part: AWS D1.1, from memory); along a plate's edge at most J2.2b. A leg nobody named is chosen
between the two; that it is so is one finding, without a margin. A rail's or tube's wall counts
where the job gives it. Not covered: a wall that it does not give, heat-treated parents, whether the
leg is strong enough.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from partgen.job.build import Build
from partgen.rules.finding import Finding, Status, at_least
from partgen.rules.on_rail import on_rails
from partgen.strength.fillet_weld import largest_leg, need_leg
from partgen.welds.weld_map import weld_map

RULE = "weld-leg"


@dataclass(frozen=True)
class _Fillet:
    """What is judged, once for all edges that are alike.

    Attributes:
        plate: its key.
        mate: what it is welded to.
        leg: of the fillet [mm].
        least: by the table [mm].
        most: along the plate's edge; None where it does not lie along it [mm].
        named: whether the job names the leg.
    """

    plate: str
    mate: str
    leg: float
    least: float
    most: float | None
    named: bool


def check(build: Build) -> list[Finding]:
    """Return the least and the largest leg of each fillet; edges of a plate alike are one."""
    fillets = dict.fromkeys([*_asked(build), *_mapped(build)])
    return [finding for fillet in fillets for finding in _judged(fillet)]


def _asked(build: Build) -> Iterator[_Fillet]:
    """Yield the legs asked for along plates on rails, also where pads lie between."""
    unit = build.shop.unit
    for piece in on_rails(build):
        t = piece.plate.thickness
        least, most = need_leg(min(t, piece.wall or t), unit), largest_leg(t, unit)
        yield _Fillet(piece.plate.key, "rail", piece.leg, least, most, piece.named)


def _mapped(build: Build) -> Iterator[_Fillet]:
    """Yield the fillets of the map; those on a rail are the same as asked for above."""
    for weld in sorted(weld_map(build)[0], key=lambda w: w.key):
        if weld.leg is None:
            continue
        asked = weld.seam.leg
        leg = asked if asked is not None and weld.most is not None else weld.leg
        yield _Fillet(weld.key, weld.seam.mate, leg, weld.least, weld.most, asked is not None)


def _judged(fillet: _Fillet) -> Iterator[Finding]:
    low = at_least(fillet.leg, fillet.least, Status.WARN)
    high = Status.PASS
    if fillet.most is not None:
        high = at_least(fillet.most, fillet.leg, Status.WARN)
    if not fillet.named and low is high is Status.PASS:
        yield Finding(
            rule=RULE,
            plate=fillet.plate,
            where=f"usual leg of the fillet to {fillet.mate}",
            status=Status.PASS,
            measured=fillet.leg,
            source="AISC 360-16 Table J2.4, J2.2b",
        )
        return
    yield Finding(
        rule=RULE,
        plate=fillet.plate,
        where=f"leg of the fillet to {fillet.mate}",
        status=low,
        measured=fillet.leg,
        required=fillet.least,
        source="AISC 360-16 Table J2.4",
        note="" if low is Status.PASS else "a larger leg for this thickness",
    )
    if fillet.most is None:
        return
    yield Finding(
        rule=RULE,
        plate=fillet.plate,
        where=f"leg of the fillet to {fillet.mate}, along the plate's edge, at most",
        status=high,
        measured=fillet.leg,
        required=fillet.most,
        at_most=True,
        source="AISC 360-16 J2.2b",
        note="" if high is Status.PASS else "a smaller leg, or the edge is built out",
    )
