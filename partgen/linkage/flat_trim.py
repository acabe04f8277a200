"""A plate seen flat, cut back where a turning link needs room: edge and windows, lines and arcs.

What the link covers as it turns is an exact outline (``swept``); it is taken off the plate's edge,
a window it meets becomes one with it, and new inside corners are rounded. Rounding gives metal
back: the cut is made a little wider until the clearance is kept, by the measure that the rule uses.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from math import dist, hypot

from partgen.errors import GeometryError
from partgen.geometry.outline import Outline, distance
from partgen.geometry.rounding import round_where
from partgen.geometry.segment import Point
from partgen.geometry.trim import joined, less, winding
from partgen.linkage.flat import Flat
from partgen.linkage.plate_edge import clear_from, plate_edge
from partgen.linkage.swept import swept
from partgen.linkage.turning import Turning
from partgen.plates.plate import Plate, Window

RADII = (10.0, 6.0, 3.0)  # mm, of new inside corners, the first that finds room; common practice
TRIES = 8
SPARE = 0.01  # mm that each further try is wider
VIEW = 0.03  # mm that a plate's own cut goes deeper
BEYOND = 10.0  # mm that the cut reaches past the plate
DONE = 1e-9  # mm
BLEND = 4.0  # mm, where the cut breaks the edge; common practice, no source
ON = 1e-4  # mm; a corner this near the cut is one of its own
NAME = "swing"


@dataclass(frozen=True)
class Cut:
    """What is cut off a plate.

    Attributes:
        tools: outlines in its drawing, one after the other [mm].
    """

    tools: tuple[Outline, ...]

    def on(self, plate: Plate) -> Plate:
        """Return a plate without what the links need.

        Raises:
            GeometryError: a hole is in the way, or the plate would fall in pieces.
        """
        if plate.hand == "right":
            return self.on(plate.mirrored()).mirrored()
        for tool in self.tools:
            plate = cut_away(plate, tool)
        return plate


def flat_cut(flat: Flat, turnings: Sequence[Turning], clearance: float) -> Cut | None:
    """Return how a plate seen flat is cut back; None where it is clear as it is.

    Raises:
        GeometryError: it cannot be cut back enough.
    """
    tools: list[Outline] = []
    plate = flat.plate
    for turning in turnings:
        if _short(flat, plate, turning, clearance) <= DONE:
            continue
        grown = clearance
        for _ in range(TRIES):
            tool = flat.drawn(_tool(flat, turning, clearance, grown))
            cut = cut_away(plate, tool)
            short = _short(flat, cut, turning, clearance)
            if short <= DONE:
                break
            grown += short + SPARE
        else:
            raise GeometryError(f"part {plate.part}: no cut found that keeps the clearance")
        plate = cut
        tools.append(tool)
    return Cut(tuple(tools)) if tools else None


def _short(flat: Flat, plate: Plate, turning: Turning, clearance: float) -> float:
    """Return by how much the clearance is missed [mm]."""
    near = flat.near(plate, turning, clearance)
    return 0.0 if near is None else clearance - near.clearance


def _tool(flat: Flat, turning: Turning, clearance: float, grown: float) -> Outline:
    """Return what a link covers as it turns, ``grown`` all round, in the side view."""
    start, end = flat.span(turning, clearance) or (0.0, 0.0)
    far = _far(flat.seen(flat.plate)[0], turning)
    body = turning.end.joint.body_diameter / 2 if turning.end.joint else turning.half
    begin = start - grown if start > 0 else 0.0
    outer = min(end + grown, far + BEYOND)
    turn = turning.range.first, turning.range.last
    tool = swept(begin, max(outer, begin + BEYOND), turning.half + grown, body + grown, turn)
    return tool.moved(*turning.pivot)


def own_cut(plate: Plate, turning: Turning, spare: float) -> Outline | None:
    """Return what is cut off one of a link's own plates; None where it can lean as it is.

    Args:
        plate: one of the two, as drawn.
        turning: the link.
        spare: to keep between its lean and where it touches [degrees].

    Raises:
        GeometryError: no room is left between ears at all.
    """
    edge = plate_edge(turning, [plate])
    begin = clear_from(turning, turning.lean + spare)
    if edge is None or begin is None or edge.limit >= edge.lean + spare:
        return None
    if begin <= turning.seated.seat.ear:
        raise GeometryError(
            f"part {plate.part}: cannot be trimmed: the link touches its ears {begin:.1f} mm from "
            f"the bolt, within the ear ({turning.seated.seat.ear:g} mm); a wider gap, or a slimmer "
            "link at the ear"
        )
    turn = turning.range.first, turning.range.last
    outer = max(_far(plate.outline, turning), begin) + BEYOND
    begin -= VIEW  # the rule sees the metal's arcs a little large
    return swept(begin, outer, turning.half, 0.0, turn).moved(*turning.pivot)


def _far(edge: Outline, turning: Turning) -> float:
    """Return how far from the bolt an outline's box reaches [mm]."""
    x0, y0, x1, y1 = edge.box
    px, py = turning.pivot
    return max(hypot(x - px, y - py) for x in (x0, x1) for y in (y0, y1))


def cut_away(plate: Plate, tool: Outline) -> Plate:
    """Return a plate, drawn for the left, without what ``tool`` covers.

    Raises:
        GeometryError: a hole is in the way, or nothing whole is left.
    """
    for hole in plate.holes:
        if _meets(tool, hole.outline):
            raise GeometryError(
                f"{plate.key}: cannot be trimmed: the link comes over hole {hole.name} at "
                f"({hole.x:g}, {hole.y:g}) mm; move the hole or the pivot"
            )
    kept = []
    for window in plate.windows:
        if _meets(tool, window.outline):
            tool = _one(tool, window.outline)
        else:
            kept.append(window)
    left = less(plate.outline, tool)
    if len(left.outlines) != 1:
        raise GeometryError(
            f"{plate.key}: trimming it leaves {len(left.outlines)} pieces; change its shape or its "
            "place"
        )
    if left.openings:
        opened = tuple(Window(_name(plate), _smooth(o, tool, 1)) for o in left.openings)
        return replace(plate, windows=(*kept, *opened))
    edge = _blended(_smooth(left.outlines[0], tool, -1), left.mouths)
    return replace(plate, outline=edge, windows=tuple(kept))


def _one(tool: Outline, window: Outline) -> Outline:
    """Return a cut and a window that it meets as one."""
    if distance(tool.segments, window.segments) > 0:  # one lies inside the other
        return tool if winding(tool, window.segments[0].start) else window
    return joined(tool, window)


def _meets(a: Outline, b: Outline) -> bool:
    """Tell whether two outlines overlap."""
    if distance(a.segments, b.segments) <= 0:
        return True
    starts = a.segments[0].start, b.segments[0].start
    return bool(winding(b, starts[0]) or winding(a, starts[1]))


def _name(plate: Plate) -> str:
    """Return a name for a new window that no other has."""
    taken = {w.name for w in plate.windows}
    return next(n for k in range(1, 100) if (n := NAME if k == 1 else f"{NAME}-{k}") not in taken)


def _smooth(outline: Outline, tool: Outline, way: int) -> Outline:
    """Return an outline with the inside corners of a cut rounded; they turn left in an opening."""
    for radius in RADII:
        try:
            return round_where(
                outline, radius, lambda p, turn: turn * way > 0 and tool.distance(p) < ON
            )
        except GeometryError as error:
            last = error
    raise GeometryError(f"the corners of the cut have no room: {last}")


def _blended(outline: Outline, mouths: Sequence[Point]) -> Outline:
    """Return an outline with the points where the cut breaks its edge rounded, if there is room."""
    for mouth in mouths:

        def here(p: Point, turn: float, at: Point = mouth) -> bool:
            return turn > 0 and dist(p, at) < ON

        with suppress(GeometryError):
            outline = round_where(outline, BLEND, here)
    return outline
