"""Weld shelf: a plate's edge lands on the flat of the rail with room for the fillet.

Shelf at least the rail's outside corner radius and the weld's leg; on an open rail at least the
keep-out from the flange's edge (19 mm or 3/4 in). The leg itself against AISC 360 Table J2.4 (by
the thinner part; the plate's thickness is what is known) and clause J2.2b. Common practice, no
source, for the shelf. Not covered: thickness of the rail's wall, heat-treated rails, upper edges
that are not parallel to the lower one.
"""

from __future__ import annotations

from partgen.job.build import Build
from partgen.rules.finding import Finding, Status, at_least, judged
from partgen.rules.on_rail import OnRail, on_rails
from partgen.shop import Shop
from partgen.strength.fillet_weld import largest_leg, least_leg

RULE = "weld-shelf"


def check(build: Build) -> list[Finding]:
    """Return shelf and leg findings for each plate that lies on a rail."""
    return [f for piece in on_rails(build) for f in of_piece(piece, build.shop)]


def of_piece(piece: OnRail, shop: Shop) -> list[Finding]:
    """Return the findings of one plate on its rail."""
    limits = shop.rule_set.limits
    required = piece.rail.corner_radius + piece.leg
    source = limits.source("weld_leg")
    if piece.rail.open and limits.values.flange_keep_out > required:
        required, source = limits.values.flange_keep_out, limits.source("flange_keep_out")
    found = []
    for name, shelf in zip(("lower", "upper"), piece.shelves, strict=True):
        if shelf is None:
            continue
        found.append(
            judged(
                RULE,
                (piece.plate.key, f"{name} edge of the rail to the plate"),
                (shelf, required),
                source,
                "move the plate's edge onto the flat",
            )
        )
    return found + _leg(piece, shop) if piece.welded else found


def _leg(piece: OnRail, shop: Shop) -> list[Finding]:
    thickness, unit = piece.plate.thickness, shop.unit
    least, most = least_leg(thickness, unit), largest_leg(thickness, unit)
    low = at_least(piece.leg, least, Status.WARN)
    high = at_least(most, piece.leg, Status.WARN)
    return [
        Finding(
            rule=RULE,
            plate=piece.plate.key,
            where="leg of the fillet",
            status=low,
            measured=piece.leg,
            required=least,
            source="AISC 360-16 Table J2.4",
            note="" if low is Status.PASS else "a larger leg for this thickness",
        ),
        Finding(
            rule=RULE,
            plate=piece.plate.key,
            where="leg of the fillet along the plate's edge, at most",
            status=high,
            measured=piece.leg,
            required=most,
            at_most=True,
            source="AISC 360-16 J2.2b",
            note="" if high is Status.PASS else "a smaller leg, or the edge is built out",
        ),
    ]
