"""Names on the picture of a sheet: wholly on metal, checked on points of the outlines alone."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
import shapely

from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.label_place import WIDE, beside, beside_any, name_inside
from partgen.packet.linkage_views import VIEWS, view_picture
from partgen.packet.weld_picture import SIZE, weld_picture
from partgen.packet.words import Words
from partgen.welds.weld_map import weld_map

ROOT = Path(__file__).parents[2]

EDGE = rectangle(200, 60, 8, (117, 43))


def box_of(svg, name):
    x, y, size = (float(re.search(rf'{k}="(-?[\d.]+)"', svg)[1]) for k in (" x", " y", "font-size"))
    w, h = WIDE * size * len(name), size
    if "rotate" in svg:
        w, h = h, w
    return shapely.box(x - w / 2, -y - h / 2, x + w / 2, -y + h / 2), size


@pytest.mark.parametrize(
    ("openings", "turn", "upright"),
    [
        ((), 0, False),
        ((Outline.circle(117, 43, 40),), 0, False),
        ((rectangle(120, 34, 4, (128, 45)),), 0, True),
        ((Outline.circle(117, 43, 40),), 90, True),
    ],
)
def test_a_name_lies_on_metal(openings, turn, upright, metal_of):
    from partgen.layout import Piece

    outlines = tuple(o.turned(turn) for o in (*openings, EDGE))
    (svg,) = name_inside("web/plate", outlines, 14)
    box, size = box_of(svg, "web/plate")
    assert metal_of(Piece("a", outlines)).contains(box)
    assert ("rotate" in svg) == upright
    assert 4 <= size <= 14


def test_no_name_where_there_is_no_room():
    ring = (Outline.circle(0, 0, 58), Outline.circle(0, 0, 60))
    assert name_inside("washer", ring, 14) == []
    assert name_inside("a-name-that-is-far-too-long-for-it/plate", (EDGE,), 60) == []


def test_a_text_off_every_line_stays_where_it_is():
    text = Words("crank", 3, 4, 10)
    assert beside(text, [[(-50, 20), (50, 20)]], []) == text


def test_a_text_on_a_line_moves_the_way_it_is_told_and_no_further_than_it_must():
    """Half the letters' height, and 0.35 of it clear, above a level line; likewise below."""
    line = [(-80.0, 2.0), (90.0, 2.0)]
    for way, side in (((0.0, 1.0), 1), ((0.0, -1.0), -1)):
        moved = beside(Words("crank", 7, 2, 10), [line], [], way)
        assert 8.5 < side * (moved.y - 2) <= 8.5 + 3.5
        assert moved.x == pytest.approx(7, abs=1e-9)


def test_a_text_keeps_off_other_texts():
    first = beside(Words("crank", 0, 0, 10), [], [])
    second = beside(Words("crank", 0, 0, 10), [], [first.box])
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = first.box, second.box
    assert ax1 <= bx0 or bx1 <= ax0 or ay1 <= by0 or by1 <= ay0


def test_the_place_with_the_shortest_way_is_taken():
    """A fence of lines at the first place, one line at the second."""
    fence = [[(-60.0, y), (60.0, y)] for y in range(-60, 61, 10)]
    single = [[(400.0, -50.0), (400.0, 50.0)]]
    moved = beside_any([(0.0, 0.0), (400.0, 0.0)], Words("a", 0, 0, 10), fence + single, [])
    assert 400 - 2 * 10 < moved.x < 400 + 2 * 10
    closed = beside_any([(0.0, 0.0)], Words("a", 0, 0, 2), [[(0.0, -1.0), (0.0, 1.0)]], [])
    assert closed.x != 0


def boxes_and_lines(svg):
    """Names (texts in the middle of their place) and open lines of an SVG, y as drawn."""
    root = ElementTree.fromstring(svg)
    names, lines = [], []
    for element in root.iter():
        tag = element.tag.rpartition("}")[2]
        if tag == "text" and element.get("text-anchor") == "middle":
            size, x, y = (float(element.get(k)) for k in ("font-size", "x", "y"))
            wide = 0.5 * size * len(element.text)
            names.append(
                (element.text, shapely.box(x - wide / 2, y - size / 3, x + wide / 2, y + size / 3))
            )
        if tag == "polyline":
            points = [tuple(map(float, p.split(","))) for p in element.get("points").split()]
            lines.append(shapely.LineString(points).buffer(float(element.get("stroke-width")) / 2))
    return names, lines


@pytest.mark.parametrize("demo", ["camping-trailer-trailing-arms", "hill-trial-buggy-rear-links"])
def test_no_name_of_a_link_lies_on_a_line(demo):
    made = build(load_job(ROOT / "demo_parts" / f"{demo}.toml"))
    for view in VIEWS:
        svg = view_picture(made.shop.linkage, view, made.shop.rails, "t", made.job.unit)
        names, lines = boxes_and_lines(svg)
        assert len(names) == len({k.link.name for k in made.shop.linkage.named[0].links})
        for name, box in names:
            assert not any(line.intersects(box) for line in lines), (view.name, name)


@pytest.mark.parametrize("demo", ["swamp-cart", "hill-trial-buggy-upper-links", "measured-rails"])
def test_no_number_of_a_weld_lies_on_its_plates_edge(demo):
    """Every straight stretch of a plate's outline and of a weld, against every number."""
    made = build(load_job(ROOT / "demo_parts" / f"{demo}.toml"))
    svg = weld_picture(made, weld_map(made)[0]).decode()
    numbers = []
    for x, y, text in re.findall(r'<text x="([^"]+)" y="([^"]+)"[^>]*>([\d, ]+)<', svg):
        wide = 0.5 * SIZE * len(text)
        x, y = float(x), float(y)
        numbers.append(shapely.box(x - wide / 2, y - SIZE / 3, x + wide / 2, y + SIZE / 3))
    assert len(numbers) >= 8
    for data in re.findall(r' d="([^"]+)"', svg):
        at = None
        for kind, rest in re.findall(r"([MLA])([^MLAZ]*)", data):
            point = tuple(map(float, rest.split()[-2:]))
            if kind == "L":
                line = shapely.LineString([at, point])
                assert not any(line.intersects(box) for box in numbers)
            at = point
