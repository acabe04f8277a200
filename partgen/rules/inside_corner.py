"""Inside corner: corners that point into the metal are rounded.

A sharp one fails: it starts cracks, and the torch burns it. A radius under half the kerf cannot be
cut and fails; one under the shop's wanted radius is a warning. Ends of slots and round openings are
held against the kerf alone, and so are slots that a tab fills: their corners lie beyond the tab, a
slot as narrow as a plate has no room for larger ones, and the tab is welded in. Common practice; a
plasma job shop's table asks for 1 to 2 mm. Not covered: the cut corner's finish, fatigue, what the
weld of a tab leaves open of its slot.
"""

from __future__ import annotations

from math import atan2, degrees, dist, pi
from typing import NamedTuple

from partgen.geometry.outline import SAME, Outline
from partgen.geometry.segment import Point, Segment
from partgen.measure import point_text
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding, Status, at_least
from partgen.shop import Shop

RULE = "inside-corner"
SHARP = 3.0  # degrees; an edge that turns by less has no corner
ROUND_END = 0.95 * pi  # rad; an arc that turns so far is the end of a slot
FILLED = "a tab fills the slot and is welded in: no wanted radius"


class _Loop(NamedTuple):
    name: str
    outline: Outline
    way: int
    is_filled: bool = False


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for the outside edge and each window that has inside corners."""
    loops = [_Loop("outside edge", plate.outline, -1)]
    loops += [_Loop(f"window {w.name}", w.outline, 1, w.is_filled) for w in plate.windows]
    return [found for loop in loops if (found := _of_loop(plate, loop, shop))]


def turn(before: Segment, after: Segment) -> float:
    """Return by how much the edge turns to the left where two segments join [degrees]."""
    (ax, ay), (bx, by) = before.direction(1.0), after.direction(0.0)
    return degrees(atan2(ax * by - ay * bx, ax * bx + ay * by))


def inside_corners(outline: Outline, way: int) -> list[tuple[float, Point, bool]]:
    """Return radius, place and whether it is a round end, of each inside corner.

    Args:
        outline: anticlockwise.
        way: 1 where the metal is outside the outline, -1 where it is inside.
    """
    segments = outline.segments
    found: list[tuple[float, Point, bool]] = []
    for k, s in enumerate(segments):
        if way * turn(segments[k - 1], s) > SHARP:
            found.append((0.0, s.start, False))
        if way * s.sweep > 0:
            found.append((s.radius, s.at(0.5), _swept(segments, k) >= ROUND_END))
    return found


def _swept(segments: tuple[Segment, ...], k: int) -> float:
    """Return how far the arc turns together with its neighbours on the same circle [rad]."""
    near = (segments[k - 1], segments[k], segments[(k + 1) % len(segments)])
    return sum(abs(s.sweep) for s in near if dist(s.centre, segments[k].centre) <= SAME)


def _of_loop(plate: Plate, loop: _Loop, shop: Shop) -> Finding | None:
    limits, kerf = shop.rule_set.limits, shop.cutting.kerf
    judged = [
        (radius - required, radius, required, point)
        for radius, point, is_end in inside_corners(loop.outline, loop.way)
        for required in [kerf / 2 if is_end or loop.is_filled else limits.values.inside_radius]
    ]
    if not judged:
        return None
    _, radius, required, (x, y) = min(judged)
    status = at_least(radius, required, Status.WARN)
    note = "" if status is Status.PASS else "round it more"
    if at_least(radius, kerf / 2) is Status.FAIL:
        status = Status.FAIL
        note = "round it" if not radius else f"a kerf of {kerf:.1f} mm cannot cut it"
    wanted = FILLED if loop.is_filled else limits.source("inside_radius")
    return Finding(
        rule=RULE,
        plate=plate.key,
        where=f"{loop.name} at {point_text((x, y))}",
        status=status,
        measured=radius,
        required=required,
        source=f"{wanted}; kerf of {shop.cutting.name}",
        note=note,
    )
