"""What is left of a sheet, as the next job's sheet."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, pi, tan

from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Segment
from partgen.layout.placement import Used
from partgen.layout.sheet import Sheet

LEAST = 50.0  # mm; a leftover shorter than this is scrap (common practice, no source)
TANGENT = 1e-5  # mm; a cut nearer than this to an arc's side is moved off it
ON_LINE = 1e-9  # of a segment's length; a crossing this near an end is that end


def offcut(sheet: Sheet, used: Used, *, gap: float, least: float = LEAST) -> Sheet | None:
    """Return the leftover of a sheet beyond its used length, or None if it is scrap.

    Of a rectangle it is a rectangle. Of other sheets it is the largest connected part, arcs kept.

    Args:
        sheet: the stock that ``used`` is about.
        used: what a layout takes of it.
        gap: left between the last plate and the cut [mm].
        least: shortest leftover worth keeping, along the sheet [mm].
    """
    angle = -90.0 if sheet.upright else 0.0
    laid = sheet.outline.turned(angle)
    start = laid.box[0] + used.length + gap
    if laid.box[2] - start < least:
        return None
    part = max(beyond(laid, start), key=lambda o: o.area)
    openings = [o.turned(angle) for o in sheet.openings]
    kept = [o for o in openings if o.box[2] > start]
    back = part.turned(-angle)
    x, y = back.box[0], back.box[1]
    return Sheet(
        f"{sheet.name} offcut {used.number}",
        back.moved(-x, -y),
        openings=tuple(o.turned(-angle).moved(-x, -y) for o in kept),
    )


def beyond(outline: Outline, x: float) -> list[Outline]:
    """Return the parts of an outline to the right of ``x`` [mm], arcs exact."""
    arcs = [s for s in outline.segments if s.bulge]
    if any(abs(abs(x - s.centre[0]) - s.radius) < TANGENT for s in arcs):
        x += 2 * TANGENT  # a cut that only touches an arc would pinch the outline
    chains = _chains(outline, x)
    if not chains:
        return [outline] if outline.box[0] >= x else []
    parts = []
    while chains:
        loop = chains.pop()
        while chains and (following := _below(chains, loop)) is not None:
            loop += chains.pop(following)
        parts.append(_closed(loop))
    return parts


def _chains(outline: Outline, x: float) -> list[list[Segment]]:
    """Return the runs of segments to the right of ``x``; none if the line does not cross."""
    pieces = [p for s in outline.segments for p in _split(s, x)]
    right = [p.at(0.5)[0] > x for p in pieces]
    if all(right) or not any(right):
        return []
    first = next(k for k in range(len(pieces)) if right[k] and not right[k - 1])
    chains: list[list[Segment]] = []
    for k in range(len(pieces)):
        at = (first + k) % len(pieces)
        if right[at] and not right[at - 1]:
            chains.append([])
        if right[at]:
            chains[-1].append(pieces[at])
    return chains


def _below(chains: list[list[Segment]], loop: list[Segment]) -> int | None:
    """Return the chain that begins next below the end of ``loop``; None if the loop itself does."""
    end = loop[-1].y1
    starts = [(c[0].y0, k) for k, c in enumerate([*chains, loop]) if c[0].y0 <= end]
    nearest = max(starts, default=(0.0, len(chains)))[1]
    return nearest if nearest < len(chains) else None


def _closed(loop: list[Segment]) -> Outline:
    vertices = []
    for k, s in enumerate(loop):
        vertices.append(Vertex(s.x0, s.y0, s.bulge))
        if (s.x1, s.y1) != (loop[(k + 1) % len(loop)].x0, loop[(k + 1) % len(loop)].y0):
            vertices.append(Vertex(s.x1, s.y1))
    return Outline.of(vertices)


def _split(s: Segment, x: float) -> Iterator[Segment]:
    """Yield the pieces of a segment between its crossings of the upright line at ``x``."""
    stops = [0.0, *sorted(c for c in _crossings(s, x) if ON_LINE < c < 1 - ON_LINE), 1.0]
    points = [s.start, *((x, s.at(c)[1]) for c in stops[1:-1]), s.end]
    for k in range(len(stops) - 1):
        bulge = tan((stops[k + 1] - stops[k]) * s.sweep / 4) if s.bulge else 0.0
        yield Segment(*points[k], *points[k + 1], bulge)


def _crossings(s: Segment, x: float) -> list[float]:
    """Return where along the segment it meets the line at ``x``, 0 to 1."""
    if not s.bulge:
        return [(x - s.x0) / (s.x1 - s.x0)] if s.x0 != s.x1 else []
    (cx, _), r = s.centre, s.radius
    if abs(x - cx) >= r:
        return []
    turn = acos((x - cx) / r)
    return [_part(s, angle) for angle in (turn, -turn)]


def _part(s: Segment, angle: float) -> float:
    """Return where along an arc the direction ``angle`` from its centre is; above 1: not on it."""
    turn = (angle - s.start_angle) % (2 * pi)
    return (turn if s.bulge > 0 else turn - 2 * pi) / s.sweep
