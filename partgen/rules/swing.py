"""Swing: a link turning about the bolt stays clear of rail, tube, bolts, plates and weld beads.

The link's silhouette is turned through every position of both wheels and a margin beyond the stops;
clearance and margin are the job's, by default 6 mm and 3 degrees (common practice, no source). Only
in a job with ``[linkage]``. Not covered: what the job does not hold (lines, tank, exhaust, tyre).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from partgen.linkage.mount_swing import MountSwing
from partgen.measure import point_text
from partgen.rules.finding import SLACK, Finding, Status, at_least
from partgen.shop import Shop

RULE = "swing"
SOURCE = "common practice, no source"


def check(shop: Shop) -> list[Finding]:
    """Return the least clearance of each link where it is held, and what could not be judged."""
    if shop.linkage is None:
        return []
    least = shop.linkage.entry.clearance
    return [f for swing in _worst_side(shop.linkage.swings) for f in _of_link(swing, least)]


def _worst_side(swings: Sequence[MountSwing]) -> list[MountSwing]:
    """Return one side of each pair, the one that comes nearer."""
    chosen: dict[tuple[str, str], MountSwing] = {}
    for swing in swings:
        key = swing.link.name, swing.which
        if key not in chosen or _least(swing) < _least(chosen[key]) - SLACK:
            chosen[key] = swing
    return list(chosen.values())


def _least(swing: MountSwing) -> float:
    return min((near.clearance for near in swing.nearest), default=inf)


def _of_link(swing: MountSwing, least: float) -> list[Finding]:
    found = [_to_nearest(swing, least) if swing.nearest else _nothing_near(swing)]
    found += [
        Finding(
            rule=RULE,
            plate=swing.mount,
            where=f"link {swing.link.name} to part {part}",
            status=Status.NOT_COVERED,
            source=SOURCE,
            note=f'say where it stands: [[linkage.obstacle]] mount = "{swing.mount}", '
            f'part = "{part}", line = [[x, y], [x, y]] in the rail\'s side view',
        )
        for part in swing.unplaced
    ]
    return found


def _to_nearest(swing: MountSwing, least: float) -> Finding:
    near = min(swing.nearest, key=lambda n: n.clearance)
    status = at_least(near.clearance, least)
    return Finding(
        rule=RULE,
        plate=swing.mount,
        where=f"link {swing.link.name} to {near.obstacle} at {point_text(near.at)}, "
        f"{swing.range.case(near.angle)}",
        status=status,
        measured=near.clearance,
        required=least,
        source=SOURCE,
        note="" if status is Status.PASS else _advice(near.clearance),
    )


def _nothing_near(swing: MountSwing) -> Finding:
    return Finding(
        rule=RULE,
        plate=swing.mount,
        where=f"link {swing.link.name}, {swing.which} end",
        status=Status.NOT_COVERED,
        source=SOURCE,
        note=f'say what is near it: [[linkage.obstacle]] mount = "{swing.mount}", name, and line = '
        "[[x, y], [x, y]] in that part's drawing",
    )


def _advice(clearance: float) -> str:
    hits = "they meet; " if clearance <= 0 else ""
    return f"{hits}lower the pivot, move what is in the way, or limit the travel"
