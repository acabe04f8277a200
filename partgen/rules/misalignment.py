"""Misalignment: what a link asks of its joint over the travel, against the joint and the ears.

Demand: asin |link . bolt axis|, the greatest over every position of both wheels, at both ends of
each link that a part holds. Limit: the least of the joint's own, of the link touching an ear or the
edge of the plates that hold it, and of the housing touching an ear (plane geometry); a few degrees
are kept in hand (common practice, no source). Only in a job with ``[linkage]``. Not covered: ends
whose joint and ears are not known.
"""

from __future__ import annotations

from partgen.linkage.ends import PLATE_EDGE, EndStudy
from partgen.rules.finding import SLACK, Finding, Status, at_least
from partgen.shop import Shop

RULE = "misalignment"
SOURCE = "geometry; spare by common practice, no source"


def check(shop: Shop) -> list[Finding]:
    """Return one finding for each end of the links held by a part; both sides are judged as one."""
    if shop.linkage is None:
        return []
    held = {swing.link.name for swing in shop.linkage.swings}
    worst: dict[tuple[str, str], EndStudy] = {}
    for end in shop.linkage.ends:
        key = (end.link.name, end.which)
        if end.link.name in held and (key not in worst or end.worst > worst[key].worst + SLACK):
            worst[key] = end
    return [_finding(end, shop.linkage.entry.spare) for end in worst.values()]


def _part(end: EndStudy) -> str:
    """Return the part that holds an end; of a typed point, the one at the link's other end."""
    first, other = end.link.frame, end.link.axle
    if end.which == "axle":
        first, other = other, first
    return first.mount or other.mount or ""


def _finding(end: EndStudy, spare: float) -> Finding:
    tightest, plate = end.tightest, _part(end)
    where = f"link {end.link.name}, {end.which} end, {end.case}"
    if tightest is None:
        return Finding(
            rule=RULE,
            plate=plate,
            where=where,
            status=Status.NOT_COVERED,
            required=end.worst + spare,
            unit="deg",
            source=SOURCE,
            note="give the joint's max_misalignment, or gap and ear_radius of this end",
        )
    required = tightest.demand + spare
    status = at_least(tightest.limit, required)
    return Finding(
        rule=RULE,
        plate=plate,
        where=f"{where}, {tightest.what}",
        status=status,
        measured=tightest.limit,
        required=required,
        unit="deg",
        source=SOURCE,
        note="" if status is Status.PASS else _advice(end, tightest.limit, spare),
    )


def _advice(end: EndStudy, limit: float, spare: float) -> str:
    advice, tightest = _turning(end, limit, spare), end.tightest
    if tightest is not None and tightest.what == PLATE_EDGE:
        part = _part(end)
        cut = f'[[linkage.obstacle]] mount = "{part}", part = "{part}", trim = "outline"'
        return f"{advice}; or cut its plates back: {cut}"
    return advice


def _turning(end: EndStudy, limit: float, spare: float) -> str:
    if end.link.fixed:
        return "a wider gap, a slimmer arm at the ear, a joint that allows more, or less travel"
    better = "the bolt's axis {:+.1f} deg ({}): {:.1f} deg is left"
    if end.turn.left + spare <= limit:
        return "turn " + better.format(end.turn.angle, "seen from above", end.turn.left)
    if end.tilt.left + spare <= limit:
        return "tilt " + better.format(end.tilt.angle, "left end up", end.tilt.left)
    best = min(end.turn.left, end.tilt.left)
    return (
        f"at best {best:.1f} deg is left with the bolt's axis turned or tilted; a wider "
        "gap, a slimmer link at the ear, a joint that allows more, or less travel"
    )
