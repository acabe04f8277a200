"""Pieces with arcs, and a check of distances that shares nothing with partgen.layout."""

import random
from math import atan, ceil, cos, hypot, pi, sin

import pytest
import shapely

from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Piece, Sheet

CHORD = 0.0005  # mm; how far the points below may miss an arc


def points(outline, x=0.0, y=0.0, turn=0.0):
    """Points of an outline, arcs by their bulge as DXF defines it; none of partgen's own views."""
    found = []
    corners = outline.vertices
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        found.append((a.x, a.y))
        if not a.bulge:
            continue
        angle = 4 * atan(a.bulge)
        chord = hypot(b.x - a.x, b.y - a.y)
        r = chord / 2 / abs(sin(angle / 2))
        rise = chord / 2 / (sin(angle / 2) / cos(angle / 2)) if abs(a.bulge) != 1 else 0.0
        cx = (a.x + b.x) / 2 - (b.y - a.y) / chord * rise
        cy = (a.y + b.y) / 2 + (b.x - a.x) / chord * rise
        n = ceil(abs(angle) / (2 * (2 * CHORD / r) ** 0.5)) + 1
        for k in range(1, n):
            t = angle * k / n
            found.append(
                (
                    cx + (a.x - cx) * cos(t) - (a.y - cy) * sin(t),
                    cy + (a.x - cx) * sin(t) + (a.y - cy) * cos(t),
                )
            )
    c, s = cos(turn * pi / 180), sin(turn * pi / 180)
    return [(c * u - s * v + x, s * u + c * v + y) for u, v in found]


def metal(piece, x=0.0, y=0.0, turn=0.0):
    rings = [points(o, x, y, turn) for o in piece.outlines]
    return shapely.Polygon(rings[-1], rings[:-1])


def shapely_faults(layout, pieces, sheets, gap, margin, slack=2.5 * CHORD):
    """Distances and areas by shapely on fine polygons."""
    kinds = {p.name: p for p in pieces}
    stock = {s.name: s for s in sheets}
    faults, groups = [], {}
    for p in layout.placements:
        placed = metal(kinds[p.piece], p.x, p.y, p.turn)
        groups.setdefault((p.sheet, p.number), []).append((p, placed))
    for (name, _), placed in groups.items():
        sheet = stock[name]
        room = shapely.Polygon(points(sheet.outline), [points(o) for o in sheet.openings])
        for k, (p, a) in enumerate(placed):
            if not room.contains(a) or room.boundary.distance(a) < margin - slack:
                faults.append(f"{p} leaves the sheet: {room.boundary.distance(a)}")
            for q, b in placed[:k]:
                if a.distance(b) < gap - slack:
                    faults.append(f"{p} {q}: {a.distance(b)}")
    return faults


def plate_outlines(chance):
    """One of four bracket-like plates, none symmetric about both axes."""
    w, h = chance.uniform(60, 220), chance.uniform(60, 170)
    kind = chance.randrange(4)
    if kind == 0:
        ear = chance.uniform(20, 40)
        edge = belt([Pin(0, 0, 8), Pin(w, 0, 11), Pin(w * chance.uniform(0.3, 0.7), h, ear)])
        return Outline.circle(w / 2, h * 0.3, 14), edge
    if kind == 1:
        edge = belt([Pin(0, 0, 12), Pin(w + 60, 0, 5), Pin(w + 60, h + 60, 12), Pin(0, h + 60, 9)])
        return rectangle(w * 0.7, h * 0.7, 10, (w / 2 + 30, h / 2 + 30)), edge
    if kind == 2:
        pins = [(0, 0, 0), (w, 0, 0), (w, h * 0.4, 0), (w * 0.45, h * 0.4, -9), (w * 0.4, h, 0)]
        return Outline.circle(w * 0.2, h * 0.2, 12), belt([Pin(*p) for p in [*pins, (0, h, 6)]])
    d = chance.uniform(30, 90)
    return Outline.circle(d / 20, 0, d * 0.4), Outline.circle(0, 0, d)


@pytest.fixture
def some_pieces():
    def make(n, seed, count=1, **kw):
        chance = random.Random(seed)
        return [Piece(f"p{k}", plate_outlines(chance), count, **kw) for k in range(n)]

    return make


@pytest.fixture
def rectangle_piece():
    def make(name, width, height, count=1, **kw):
        return Piece(name, (rectangle(width, height, 0, (37.0, -11.0)),), count, **kw)

    return make


@pytest.fixture
def plain_sheet():
    def make(length, width, count=1, name="sheet", openings=()):
        return Sheet(name, rectangle(length, width, 0, (length / 2, width / 2)), count, openings)

    return make


@pytest.fixture
def independent_faults():
    return shapely_faults


@pytest.fixture
def points_of():
    return points


@pytest.fixture
def metal_of():
    return metal
