"""A bent plate in a line drawing: its flats and bends as strips, those behind drawn first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import fsum

import shapely
from shapely.geometry.polygon import orient

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point
from partgen.packet.depth_order import VIEW
from partgen.plates.developed import PIECES, DevelopedFrame
from partgen.plates.solid import Solid, Vector, dot

ON = 1e-6  # mm
CHORD = 0.3  # mm, how far a drawn arc may be off
Loops = list[list[Point]]
Project = Callable[[Vector], Point]


def bent_shapes(solid: Solid, style: str, project: Project) -> list[tuple[Loops, str]]:
    """Return what is drawn of a bent plate, in drawing order: loops and their style."""
    frame = solid.frame
    assert isinstance(frame, DevelopedFrame)
    strips = sorted(_strips(solid, frame), key=lambda strip: round(_depth(strip, frame), 6))
    return [shape for strip in strips for shape in _drawn(strip, solid, style, project)]


def _strips(solid: Solid, frame: DevelopedFrame) -> Iterator[shapely.Polygon]:
    """Yield the plate's flats and pieces of its bends, flat."""
    whole = shapely.Polygon(_ring(solid.outlines[-1]), [_ring(o) for o in solid.outlines[:-1]])
    x0, y0, x1, y1 = whole.bounds
    inner = [b.start + b.length * k / PIECES for b in frame.bends for k in range(PIECES + 1)]
    for a, b in pairwise([x0 - 1, *inner, x1 + 1]):
        cut = whole.intersection(shapely.box(a, y0 - 1, b, y1 + 1))
        found = (p for p in getattr(cut, "geoms", [cut]) if isinstance(p, shapely.Polygon))
        yield from (orient(p) for p in found if not p.is_empty)


def _ring(outline: Outline) -> list[Point]:
    return list(outline.polygon("inside", CHORD).exterior.coords)[:-1]


def _depth(strip: shapely.Polygon, frame: DevelopedFrame) -> float:
    middle = strip.centroid
    return dot(frame.at((middle.x, middle.y)), VIEW)


def _drawn(
    strip: shapely.Polygon, solid: Solid, style: str, project: Project
) -> Iterator[tuple[Loops, str]]:
    """Yield the walls of a strip that are seen, then the face that is seen, then its lines."""
    frame, fill = solid.frame, style.split(";")[0].removeprefix("fill:")
    assert isinstance(frame, DevelopedFrame)
    bare, line = f"fill:{fill};stroke:none", style.replace(f"fill:{fill}", "fill:none")
    towards = dot(frame.way((strip.centroid.x, strip.centroid.y)), VIEW) > 0
    near, far = sorted((0.0, solid.depth), reverse=towards)
    rings = [ring.coords[:-1] for ring in (strip.exterior, *strip.interiors)]
    face = [[project(frame.at(p, near)) for p in ring] for ring in rings]
    turn = _area(face[0])
    edges = [edge for ring in rings for edge in _real(ring, solid)]
    seen: dict[Point, bool] = {}  # by where an edge ends: whether its wall is seen
    limbs: list[Point] = []
    for a, b in edges:
        quad = [project(frame.at(p, out)) for p, out in ((a, near), (b, near), (b, far), (a, far))]
        seen[b] = _area(quad[:3]) * turn < 0
        if seen[b]:
            yield [quad], bare
            yield [quad[2:]], line
        if seen.get(a, seen[b]) != seen[b]:
            limbs.append(a)
    yield [[project(frame.at(p, out)) for out in (near, far)] for p in limbs], line
    yield face, bare
    edges += [edge for ring in rings for edge in _creases(ring, frame)]
    yield [[project(frame.at(p, near)) for p in edge] for edge in edges], line


def _real(ring: list[Point], solid: Solid) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a strip that are edges of the plate, and not where it was cut up."""
    x0, _, x1, _ = solid.outlines[-1].box
    for a, b in pairwise([*ring, ring[0]]):
        if abs(a[0] - b[0]) > ON or min(abs(a[0] - x0), abs(a[0] - x1)) < 2 * CHORD:
            yield a, b


def _creases(ring: list[Point], frame: DevelopedFrame) -> Iterator[tuple[Point, Point]]:
    """Yield the lines where a bend meets a flat."""
    at = [x for bend in frame.bends for x in (bend.start, bend.start + bend.length)]
    for a, b in pairwise([*ring, ring[0]]):
        if abs(a[0] - b[0]) <= ON and any(abs(a[0] - x) <= ON for x in at):
            yield a, b


def _area(loop: list[Point]) -> float:
    return fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*loop, loop[0]]))
