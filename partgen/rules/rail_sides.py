"""Rail sides: the two sides of a frame are not the same; how far apart are they?

Compared are width, depth and corner radius, and the heights of the measured edges wherever both are
measured: every 5 mm, at every station and in the middle of every bend. The limit is the rail's
``difference`` setting. Not covered: a side that was not measured, and the two rails' places on the
vehicle.
"""

from __future__ import annotations

from partgen.entries.rail import Rail
from partgen.geometry.path import Path
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "rail-sides"
STEP = 5.0  # mm


def check(shop: Shop) -> list[Finding]:
    """Return findings for each pair of rails that name each other, or are left and right, once."""
    found, compared = [], set[tuple[str, str, float]]()
    for name, rail in shop.rails.items():
        if rail.mirror_from is not None:
            found.append(
                _finding(name, rail, "whole rail", None, f"mirrored from '{rail.mirror_from}'")
            )
            continue
        other = rail.other_side or ("left" if name == "right" and "left" in shop.rails else None)
        if other is None:
            continue
        if other not in shop.rails:
            found.append(
                _finding(name, rail, "whole rail", None, f"no rail '{other}' to compare with")
            )
        elif shop.rails[other].mirror_from is None and (
            (other, name, rail.difference) not in compared
        ):
            compared.add((name, other, rail.difference))
            found += _compared(name, rail, other, shop.rails[other])
    return found


def _compared(name: str, rail: Rail, other: str, second: Rail) -> list[Finding]:
    apart = [
        (f"{field} against '{other}'", abs(getattr(rail, field) - getattr(second, field)))
        for field in ("width", "depth", "corner_radius")
    ]
    edges = (
        [("lower edge", rail.lower, second.lower)] if rail.lower_edge or second.lower_edge else []
    )
    if rail.upper_edge or second.upper_edge:
        edges.append(("upper edge", rail.upper, second.upper))
    for edge, mine, theirs in edges:
        away, x = difference(mine, theirs)
        apart.append((f"{edge} against '{other}' at x = {x:.1f} mm", away))
    return [_finding(name, rail, where, away, "") for where, away in apart]


def difference(a: Path, b: Path) -> tuple[float, float]:
    """Return the greatest difference in height of two edges, and where, 0 if they are apart."""
    x0, x1 = max(a.start[0], b.start[0]), min(a.end[0], b.end[0])
    if x1 <= x0:
        return 0.0, x0
    steps = int((x1 - x0) / STEP) + 1
    xs = [x0 + (x1 - x0) * k / steps for k in range(steps + 1)]
    arcs = (*a.segments, *b.segments)
    xs += [x for s in arcs for x in (s.x0, s.at(0.5)[0]) if x0 <= x <= x1]
    return max((abs(a.height(x) - b.height(x)), x) for x in xs)


def _finding(name: str, rail: Rail, where: str, away: float | None, note: str) -> Finding:
    if away is None:
        status = Status.NOT_COVERED
    else:
        status = at_least(rail.difference, away, Status.WARN)
        note = "" if status is Status.PASS else "measure again; then make each side its own plates"
    return Finding(
        rule=RULE,
        plate=f"rail.{name}",
        where=where,
        status=status,
        measured=away,
        required=None if away is None else rail.difference,
        source="the rail's difference; common practice, no source",
        note=note,
        at_most=True,
    )
