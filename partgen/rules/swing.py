"""Swing: a link turning about its mount's bolt stays clear of rail, bolts, plates and weld beads.

The link's silhouette is turned through every position of both wheels and a margin beyond the stops;
clearance and margin are the job's, by default 6 mm and 3 degrees (common practice, no source). Only
in a job with ``[linkage]``. Not covered: what the job does not hold (lines, tank, exhaust, tyre).
"""

from __future__ import annotations

from partgen.fit.mount import Mount
from partgen.linkage.mount_swing import MountSwing
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "swing"
SOURCE = "common practice, no source"


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return the least clearance of each link at this mount, and what could not be judged."""
    if shop.linkage is None:
        return []
    least = shop.linkage.entry.clearance
    found: list[Finding] = []
    for swing in _worst_side(shop.linkage.at_mount(mount.name)):
        found += _of_link(swing, least)
    return found


def _worst_side(swings: list[MountSwing]) -> list[MountSwing]:
    """Return one side of each pair, the one that comes nearer."""
    chosen: dict[str, MountSwing] = {}
    for swing in swings:
        other = chosen.get(swing.link.name)
        if other is None or _least(swing) < _least(other) - 1e-6:
            chosen[swing.link.name] = swing
    return list(chosen.values())


def _least(swing: MountSwing) -> float:
    return min(near.clearance for near in swing.nearest)


def _of_link(swing: MountSwing, least: float) -> list[Finding]:
    near = min(swing.nearest, key=lambda n: n.clearance)
    status = at_least(near.clearance, least)
    case = swing.range.case(near.angle)
    found = [
        Finding(
            rule=RULE,
            plate=swing.mount,
            where=f"link {swing.link.name} to {near.obstacle} at ({near.at[0]:.1f}, "
            f"{near.at[1]:.1f}) mm, {case}",
            status=status,
            measured=near.clearance,
            required=least,
            source=SOURCE,
            note="" if status is Status.PASS else _advice(near.clearance),
        )
    ]
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


def _advice(clearance: float) -> str:
    hits = "they meet; " if clearance <= 0 else ""
    return f"{hits}lower the pivot, move what is in the way, or limit the travel"
