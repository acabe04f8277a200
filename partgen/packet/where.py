"""Where on a plate a finding is: its place read from its words, and a picture of it.

A rule names the openings it speaks of (``hole joint``, ``window strap``, ``bolt 2``), the outside
edge, or points in mm. Two things named: the place is where they are nearest.
"""

from __future__ import annotations

import re
from itertools import product

from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, closest
from partgen.packet.picture import INK, METAL, number, path, svg
from partgen.plates.plate import Plate
from partgen.rules.finding import Finding

POINT = re.compile(r"\((-?\d[\d.]*), (-?\d[\d.]*)\)")
RED = "#c8501e"


def places(finding: Finding, plate: Plate) -> list[Point]:
    """Return the points a finding speaks of, in the plate's coordinates; none if it names none."""
    points = [(float(x), float(y)) for x, y in POINT.findall(finding.where)]
    if points:
        return points
    named = [o for name, o in plate.named_openings if _names(finding.where, name)]
    if len(named) > 1:
        return list(_nearest(named[0], named[1]))
    if named and "edge" in finding.where:
        return list(_nearest(named[0], plate.outline))
    return [named[0].centroid] if named else []


def finding_picture(finding: Finding, plate: Plate) -> str:
    """Return the plate as SVG with the finding's place ringed; the whole plate if it has none."""
    x0, y0, x1, y1 = plate.outline.box
    size = max(x1 - x0, y1 - y0) / 22
    body = [path(plate.outlines, METAL, size / 12)]
    points = places(finding, plate)
    if points:
        (ax, ay), (bx, by) = points[0], points[-1]
        x, y = (ax + bx) / 2, (ay + by) / 2
        ring = max(1.6 * size, 0.5 * ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5 + size)
        body.append(_ring(x, y, ring, size))
        body.append(
            f'<path d="M{number(ax)} {number(-ay)}L{number(bx)} {number(-by)}" '
            f'style="fill:none;stroke:{INK};stroke-width:{number(size / 6)}"/>'
        )
    return svg(body, (x0, y0, x1, y1), f"{finding.plate}: {finding.where}", 1.5 * size)


def _ring(x: float, y: float, radius: float, size: float) -> str:
    return (
        f'<circle cx="{number(x)}" cy="{number(-y)}" r="{number(radius)}" '
        f'style="fill:none;stroke:{RED};stroke-width:{number(size / 3)}"/>'
    )


def _names(text: str, name: str) -> bool:
    """Tell whether ``text`` speaks of the opening; a hole may be called by its bolt."""
    kind, _, own = name.partition(" ")
    kinds = "hole|bolt" if kind == "hole" else kind
    return re.search(rf"\b(?:{kinds}) {re.escape(own)}(?![\w-])", text) is not None


def _nearest(a: Outline, b: Outline) -> tuple[Point, Point]:
    pairs = (closest(s, t) for s, t in product(a.segments, b.segments))
    _, p, q = min(pairs, key=lambda pair: pair[0])
    return p, q
