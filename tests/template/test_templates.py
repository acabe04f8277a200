"""Templates read back from the PDF by an independent reader: true size, whole, bars exact."""

import io
from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin
from operator import mul
from pathlib import Path

import pytest
import shapely
from pypdf import PdfReader
from pypdf.generic import ContentStream

from partgen.errors import PartgenError
from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.packet.page import STOPPED
from partgen.plates.plate import Hole, Window
from partgen.reference.bolt import bolt
from partgen.tasks.making import checked
from partgen.template.paper import SIZES, paper
from partgen.template.plate_pages import plate_pages
from partgen.template.plate_words import RAIL, rail_words
from partgen.template.templates import chosen, templates

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
MM = 25.4 / 72  # ISO 32000-1, 8.3.2.3: a unit of default user space is 1/72 in
CLOSE = 0.05  # mm


@dataclass
class Page:
    size: tuple
    windows: list  # clip rectangles as printed [mm]
    loops: list  # closed paths, points along them [mm]
    lines: list  # open paths, their points [mm]
    source: object

    @property
    def text(self):
        return self.source.extract_text()


def times(m, n):
    a, b, c, d, e, f = m
    p, q, r, s, t, u = n
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def read(content, stretch=(1.0, 1.0)):
    """Return every page as a printer puts it on paper.

    It stretches along the short and the long side of the sheet; a lying page goes through turned.
    """
    reader = PdfReader(io.BytesIO(content))
    return [read_page(page, reader, turned(page.mediabox, stretch)) for page in reader.pages]


def turned(box, stretch):
    return stretch if box.height >= box.width else stretch[::-1]


def read_page(page, reader, stretch):
    box = page.mediabox
    found = Page((float(box.width) * MM, float(box.height) * MM), [], [], [], page)
    pen = Pen(found, stretch)
    for values, operator in ContentStream(page.get_contents(), reader).operations:
        numbers = [float(x) for x in values if isinstance(x, int | float)]
        pen.obey(operator.decode("ascii"), numbers)
    return found


class Pen:
    """Follows the path operators of a PDF page (ISO 32000-1, 8.4.4, 8.5.2 and 8.5.4)."""

    def __init__(self, page, stretch):
        self.page, self.stretch = page, stretch
        self.matrix, self.stack, self.path, self.at, self.rect = (
            (1, 0, 0, 1, 0, 0),
            [],
            [],
            None,
            None,
        )
        self.orders = {
            "q": self.keep, "Q": self.back, "cm": self.move_axes, "re": self.box, "W": self.clip,
            "W*": self.clip, "m": self.start, "l": self.line, "c": self.curve, "h": self.close,
            "s": self.close, "S": self.stroke,
        }  # fmt: skip

    def obey(self, operator, v):
        if operator in self.orders:
            self.orders[operator](v)

    def put(self, x, y):
        a, b, c, d, e, f = self.matrix
        return (a * x + c * y + e) * MM * self.stretch[0], (b * x + d * y + f) * MM * self.stretch[
            1
        ]

    def keep(self, _):
        self.stack.append(self.matrix)

    def back(self, _):
        self.matrix = self.stack.pop()

    def move_axes(self, v):
        self.matrix = times(v, self.matrix)

    def box(self, v):
        self.rect = (*self.put(v[0], v[1]), *self.put(v[0] + v[2], v[1] + v[3]))

    def clip(self, _):
        self.page.windows.append(self.rect)

    def start(self, v):
        self.path, self.at = [self.put(*v)], v

    def line(self, v):
        self.path.append(self.put(*v))
        self.at = v

    def curve(self, v):
        xs, ys = (self.at[0], v[0], v[2], v[4]), (self.at[1], v[1], v[3], v[5])
        for t in (k / 8 for k in range(1, 9)):
            w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            self.path.append(self.put(sum(map(mul, w, xs)), sum(map(mul, w, ys))))
        self.at = v[4:]

    def close(self, _):
        self.page.loops.append(self.path)
        self.path = []

    def stroke(self, _):
        if self.path:
            self.page.lines.append(self.path)
        self.path = []


def low(points):
    return min(x for x, _ in points), min(y for _, y in points)


def build(outline, *, thickness=6.0, holes=(), windows=(), hand="left"):
    """The demo job with one plate of ours in it."""
    made, _ = checked(BUGGY, {})
    one = replace(made.plates[-1], part="test", name="plate", outline=outline, holes=holes,
                  windows=windows, thickness=thickness, hand=hand)  # fmt: skip
    return replace(made, plates=[one])


def long_plate():
    """1.2 m long, off every symmetry, arcs both ways, a hole and a window."""
    outline = belt(
        corners([(0, 0), (1200, 30), (1180, 260), (700, 300), (640, 180), (15, 210)], 18)
    )
    m12 = bolt("M12")
    holes = (Hole("a", 80, 100, 13.5, m12), Hole("b", 1100, 150, 13.5, m12))
    return build(
        outline, holes=holes, windows=(Window("w", rectangle(90, 40, 12, (900, 150)).turned(7)),)
    )


def check_plate(plate, pages):
    """Every page shows the plate's edges at true size; together they show all of it."""
    x0, y0, _, _ = plate.outline.box
    seen = []
    for page in pages:
        shells = [loop for loop in page.loops if loop_box(loop) == max(map(loop_box, page.loops))]
        dx, dy = low(shells[0])[0] - x0, low(shells[0])[1] - y0
        assert len(page.loops) == len(plate.outlines)
        for outline in plate.outlines:
            loop = min(page.loops, key=lambda p, o=outline: away(p, o, dx, dy))
            assert away(loop, outline, dx, dy) < CLOSE
            for v in outline.vertices:
                assert min(hypot(x - dx - v.x, y - dy - v.y) for x, y in loop) < CLOSE
        wx0, wy0, wx1, wy1 = page.windows[0]
        seen.append(shapely.box(wx0 - dx, wy0 - dy, wx1 - dx, wy1 - dy))
        inside = shapely.box(5, 5, page.size[0] - 5, page.size[1] - 5)
        assert inside.covers(shapely.box(*page.windows[0]))
    assert shapely.union_all(seen).covers(plate.outline.polygon("outside"))
    return seen


def loop_box(loop):
    return max(x for x, _ in loop) - low(loop)[0]


def away(loop, outline, dx, dy):
    return max(outline.distance((x - dx, y - dy)) for x, y in loop)


def lengths(page):
    """Lengths of level and of upright strokes of two points."""
    level, upright = set(), set()
    for line in page.lines:
        if len(line) == 2:
            (ax, ay), (bx, by) = line
            if abs(ay - by) < 1e-3:
                level.add(round(abs(ax - bx), 3))
            if abs(ax - bx) < 1e-3:
                upright.add(round(abs(ay - by), 3))
    return level, upright


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("measured", ["", "99.1", "100.8x98.7"])
def test_read_back_from_every_paper(name, measured):
    job = long_plate()
    sheet = paper(name, measured)
    made = templates(job, sheet)
    laid = made.laid[0]
    printed = {"": (1.0, 1.0), "99.1": (0.991, 0.991), "100.8x98.7": (1.008, 0.987)}[measured]
    pages = read(made.content, printed)
    assert len(pages) == len(laid.tiling.tiles) > 2
    seen = check_plate(job.plates[0], pages)
    for page in pages:
        expected = sorted(SIZES[name])
        assert sorted(page.size) == pytest.approx(expected, abs=0.01)
        level, upright = lengths(page)
        assert {100.0, 101.6} <= level
        assert {100.0, 101.6} <= upright
        assert "face" in page.text
    for k, tile in enumerate(seen):
        others = [
            other for j, other in enumerate(seen) if j != k and tile.intersection(other).area > 1
        ]
        assert others
        for other in others:
            bx0, by0, bx1, by1 = tile.intersection(other).bounds
            assert min(bx1 - bx0, by1 - by0) > 10


def test_marks_are_where_both_pages_show_them():
    made = templates(long_plate(), paper("a4"))
    tiles, marks = made.laid[0].tiling.tiles, made.laid[0].tiling.marks
    assert len(marks) >= 2 * (len(tiles) - 1)
    for x, y in marks:
        on = [
            t
            for t in tiles
            if t.box[0] + 5 <= x <= t.box[2] - 5 and t.box[1] + 5 <= y <= t.box[3] - 5
        ]
        assert len(on) >= 2


def test_a_bolt_hole_is_not_split_by_a_seam():
    """On A4 the buggy's plate takes two pages; pages laid evenly would meet 9.7 mm from its hole."""
    made, _ = checked(BUGGY, {})
    for laid in templates(made, paper("a4"), ["lower-front-mount"]).laid:
        (hole,) = laid.plate.holes
        first, second = sorted(t.box for t in laid.tiling.tiles)
        assert abs((first[2] + second[0]) / 2 - hole.x) > 14


def test_demo_plates_read_back():
    made, _ = checked(BUGGY, {})
    done = templates(made, paper("letter"))
    pages = read(done.content)
    for laid in done.laid:
        count = len(laid.tiling.tiles)
        check_plate(laid.plate, pages[:count])
        text = "".join(p.text for p in pages[:count])
        assert laid.plate.part in text
        if laid.rail:
            assert "rail: this line on its lower edge" in text
            assert "forward" in text
            assert "towards the middle of the vehicle" in " ".join(text.split())
        pages = pages[count:]
    assert not pages


def test_rail_line_is_the_measured_edge():
    """The buggy's lower edge kicks at (260, 0) and (420, -28); the right hand is its mirror."""
    made, _ = checked(BUGGY, {})
    done = templates(made, paper("a3"), ["lower-front-mount/outer"])
    for laid, page, way in zip(done.laid, read(done.content), (1, -1), strict=True):
        shell = max(page.loops, key=loop_box)
        x0, y0, _, _ = laid.plate.outline.box
        dx, dy = low(shell)[0] - x0, low(shell)[1] - y0
        rail = [[(x - dx, y - dy) for x, y in line] for line in page.lines if len(line) == 4]
        for corner in ((way * 260, 0), (way * 420, -28)):
            assert (
                min(hypot(x - corner[0], y - corner[1]) for line in rail for x, y in line) < CLOSE
            )


def test_a_wrong_scale_would_be_seen():
    """The reader is no yes-man: a print half a percent off fails."""
    job = long_plate()
    with pytest.raises(AssertionError):
        check_plate(job.plates[0], read(templates(job, paper("a4")).content, (1.005, 1.0)))


def test_stopped_jobs_are_stamped_on_every_page():
    made = templates(long_plate(), paper("a4"), stopped=True)
    assert all(STOPPED in page.text for page in read(made.content))
    assert STOPPED not in read(templates(long_plate(), paper("a4")).content)[0].text


def test_same_job_same_bytes():
    assert (
        templates(long_plate(), paper("a4")).content == templates(long_plate(), paper("a4")).content
    )


def test_names_beyond_the_font_do_no_harm():
    job = long_plate()
    job = replace(job, job=replace(job.job, name="Прицеп 拖车 \\( ) é"))
    assert "é" in read(templates(job, paper("a4")).content)[0].text


def test_a_plate_beyond_the_limit_is_refused_by_name():
    with pytest.raises(PartgenError, match=r"test/plate/left: larger than 1200 mm"):
        templates(build(Outline.circle(0, 0, 1200.5)), paper("a4"))
    assert templates(build(Outline.circle(0, 0, 1200)), paper("a3")).content


def test_plates_are_chosen_by_part_plate_or_label():
    made, _ = checked(BUGGY, {})
    assert len(chosen(made.plates, ["lower-front-mount"])) == 4
    assert len(chosen(made.plates, ["lower-front-mount/outer"])) == 2
    assert len(chosen(made.plates, ["lower-front-mount/outer/left", "web"])) == 3
    with pytest.raises(PartgenError, match="rail-spacer"):
        chosen(made.plates, ["rail-spacr"])


def test_words_on_the_rail_keep_off_the_cut_lines():
    """The buggy's rail line leaves the plate on both sides: its words stand between the edges."""
    build, _ = checked(BUGGY, {})
    plate = next(p for p in build.plates if p.label == "lower-front-mount/outer/left")
    edge = plate.outline.polygon("inside").boundary
    laid = plate_pages(plate, build, paper("a4"))
    said = []

    class Heard:
        def words(self, text, at, height, *, angle, most):
            assert text == RAIL
            said.append((at, height, angle, min(most, 0.75 * height * len(text))))

    rail_words(Heard(), laid.rail, plate, laid.tiling)
    ((x, y), height, angle, long) = said[0]
    c, s = cos(radians(angle)), sin(radians(angle))
    corners = [(x, y), (x + long * c, y + long * s)]
    assert edge.distance(shapely.LineString(corners)) > height
