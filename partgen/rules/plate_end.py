"""Plate end: no long end of a plate lies square across its rail.

A weld straight across a rail cuts its fatigue life; slanted or pointed ends do much better. Common
practice, no source. Not covered: fatigue strength, welds across flanges.
"""

from __future__ import annotations

from math import atan2, degrees

from partgen.geometry.segment import Segment
from partgen.job.build import Build
from partgen.measure import point_text
from partgen.rules.finding import Finding, Status, at_least
from partgen.rules.on_rail import OnRail, on_rails
from partgen.shop import Shop

RULE = "plate-end"
SHORT = 10.0  # mm; shorter straight edges are no ends
ALONG = 75.0  # degrees off square; an edge that leans more runs along the rail


def check(build: Build) -> list[Finding]:
    """Return one finding for each end of each plate on a rail."""
    return [f for piece in on_rails(build) for f in of_piece(piece, build.shop)]


def of_piece(piece: OnRail, shop: Shop) -> list[Finding]:
    """Return the findings of one plate on its rail."""
    required = shop.rule_set.limits.values.square_end_angle
    found = []
    for s in piece.welded:
        if s.bulge or s.chord < SHORT:
            continue
        measured = off_square(piece, s)
        if measured > ALONG:
            continue
        status = at_least(measured, required, Status.WARN)
        found.append(
            Finding(
                rule=RULE,
                plate=piece.plate.key,
                where=f"end at {point_text(s.at(0.5))}, off square",
                status=status,
                measured=measured,
                required=required,
                unit="deg",
                source=shop.rule_set.limits.source("square_end_angle"),
                note="" if status is Status.PASS else "slant or point the end",
            )
        )
    return found


def off_square(piece: OnRail, s: Segment) -> float:
    """Return the angle between a straight edge and square across the rail [degrees]."""
    (ux, uy), (vx, vy) = (s.x1 - s.x0, s.y1 - s.y0), piece.way(s.at(0.5))
    return degrees(atan2(abs(ux * vy - uy * vx), abs(ux * vx + uy * vy)))
