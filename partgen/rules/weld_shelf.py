"""Weld shelf: a plate's edge lands on the flat of the rail with room for the fillet.

Shelf at least the rail's outside corner radius and the weld's leg; on an open rail at least the
keep-out from the flange's edge (19 mm or 3/4 in). Common practice, no source. Not covered: upper
edges that are not parallel to the lower one.
"""

from __future__ import annotations

from partgen.job.build import Build
from partgen.reference.limits import NO_SOURCE
from partgen.rules.finding import Finding, judged
from partgen.rules.on_rail import OnRail, on_rails
from partgen.shop import Shop

RULE = "weld-shelf"


def check(build: Build) -> list[Finding]:
    """Return the shelves of each plate that lies on a rail."""
    return [f for piece in on_rails(build) for f in of_piece(piece, build.shop)]


def of_piece(piece: OnRail, shop: Shop) -> list[Finding]:
    """Return the findings of one plate on its rail."""
    limits = shop.rule_set.limits
    required = piece.rail.corner_radius + piece.leg
    source = NO_SOURCE
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
    return found
