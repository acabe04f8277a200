"""The weld map's picture: every plate with its welds, numbered in their sequence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partgen.cautions import ON_PAPER
from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.geometry.chain import Chain
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Point, Segment
from partgen.job.build import Build
from partgen.measure import in_unit, shown
from partgen.packet.label_place import beside
from partgen.packet.picture import METAL, Box, label, path, svg
from partgen.packet.words import Words
from partgen.plates.plate import Plate
from partgen.plates.seam import KEEP_OUT
from partgen.welds.sequence import middle
from partgen.welds.weld import Weld

ROW = 800.0  # mm, width of a row of plates
SIZE = 9.0  # mm, letters
LINE = 1.3 * SIZE  # mm, from one line of words to the next
FOOT = 1.8 * SIZE  # mm, from a plate down to its first line
_WELD = 'fill="none" stroke="#b3261e" stroke-linecap="round"'
_KEEP = 'fill="#d9a441" fill-opacity="0.35" stroke="none"'


@dataclass(frozen=True)
class _Cell:
    """A plate in the picture.

    Attributes:
        plate: the plate.
        welds: its welds.
        bands: where its rail's flanges keep welds off.
        words: its name and a line for each weld.
    """

    plate: Plate
    welds: Sequence[Weld]
    bands: Sequence[Outline]
    words: Sequence[str]

    @property
    def box(self) -> Box:
        """What plate and bands cover [mm]."""
        boxes = [o.box for o in (self.plate.outline, *self.bands)]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )


def weld_picture(build: Build, welds: Sequence[Weld], title: str = "") -> bytes:
    """Return every plate with its welds, numbered in sequence; rails' keep-outs are shaded.

    Args:
        build: the job.
        welds: of its weld map.
        title: begins the line above; the job's name if empty.
    """
    body: list[str] = []
    x = y = row = width = 0.0
    for cell in _cells(build, welds):
        x0, y0, x1, y1 = cell.box
        wide = max(x1 - x0, 0.6 * SIZE * max(len(text) for text in cell.words))
        if x and x + wide > ROW:
            x, y, row = 0.0, y - row - 4 * SIZE, 0.0
        body += _drawn(cell, x + (wide - (x1 - x0)) / 2 - x0, y - y1, x + wide / 2)
        x, row = x + wide + 3 * SIZE, max(row, y1 - y0 + FOOT + len(cell.words) * LINE)
        width = max(width, x)
    title = title or f"Weld map, {build.job.name}"
    shaded = f"; shaded: keep {KEEP_OUT:g} mm off" if any(w.seam.rail for w in welds) else ""
    head = in_unit(f"{title}: number, leg x length{shaded}", build.job.unit)
    body.append(label(head, width / 2, 3.8 * SIZE, 1.1 * SIZE))
    body.append(label(ON_PAPER, width / 2, 2.4 * SIZE, 0.8 * SIZE))
    wide = max(width, 0.62 * 1.1 * SIZE * len(head))
    left = (width - wide) / 2
    box = (left, y - row, left + wide, 5.3 * SIZE)
    return svg(body, box, f"Weld map, {build.job.name}", SIZE).encode("utf-8")


def _cells(build: Build, welds: Sequence[Weld]) -> list[_Cell]:
    cells = []
    for plate in build.plates:
        mine = [w for w in welds if w.plate == plate.label]
        rails = dict.fromkeys(w.seam.rail for w in mine if w.seam.rail)
        bands = [band for name in rails for band in _bands(build.shop.rail(name), plate)]
        words = [plate.label, *(_caption(w, build.job.unit) for w in mine)]
        cells += [_Cell(plate, mine, bands, words)] * bool(mine)
    return cells


def _drawn(cell: _Cell, dx: float, dy: float, centre: float) -> list[str]:
    """Return a plate moved by (dx, dy), its welds and their numbers, its words below [mm]."""
    plate = cell.plate.moved(dx, dy)
    body = [f"<g {_KEEP}>{path([o.moved(dx, dy)], 'stroke:none', 0.0)}</g>" for o in cell.bands]
    body.append(path(plate.outlines, METAL, 0.8))
    numbers: dict[Chain, list[str]] = {}
    for weld in cell.welds:
        if weld.run:
            body.append(_line(weld.run, dx, dy))
        numbers.setdefault(weld.path, []).append(str(weld.step))
    foot = cell.box[1] + dy - FOOT
    below = [Words(t, centre, foot - k * LINE, SIZE) for k, t in enumerate(cell.words)]
    body += [label(w.text, w.x, w.y, w.size) for w in below]
    taken = [w.box for w in below]
    lines = [_points(o.segments) for o in plate.outlines]
    for edge, steps in numbers.items():
        (x, y), (ux, uy) = middle(edge), edge[len(edge) // 2].direction(0.5)
        inward = (-uy, ux)  # the metal is on an edge's left
        word = beside(Words(", ".join(steps), x + dx, y + dy, SIZE), lines, taken, inward)
        taken.append(word.box)
        body.append(label(word.text, word.x, word.y, word.size))
    return body


def _points(chain: Sequence[Segment]) -> list[Point]:
    """Return points along a chain, near enough to keep words off it [mm]."""
    return [s.at(k / 8) for s in chain for k in range(9)]


def _caption(weld: Weld, unit: str) -> str:
    """Return number, leg, length and mate."""
    long = shown(weld.length, unit, 0 if unit == "mm" else 2)
    size = weld.seam.kind if weld.leg is None else f"{shown(weld.leg, unit)} x"
    return f"{weld.step}: {size} {long} {unit} to {in_unit(weld.seam.mate, unit)}"


def _line(chain: Chain, dx: float, dy: float) -> str:
    first = chain[0]
    data = [f"M{first.x0 + dx:z.3f} {-(first.y0 + dy):z.3f}"]
    for s in chain:
        end = f"{s.x1 + dx:z.3f} {-(s.y1 + dy):z.3f}"
        data.append(
            f"A{s.radius:.3f} {s.radius:.3f} 0 0 {int(s.bulge < 0)} {end}" if s.bulge else f"L{end}"
        )
    return f'<path {_WELD} stroke-width="3" d="{"".join(data)}"/>'


def _bands(rail: Rail, plate: Plate) -> list[Outline]:
    """Return the strips along a rail's upper and lower edge that no weld should be in."""
    way = -1.0 if plate.hand == "right" else 1.0
    x0, _, x1, _ = plate.outline.box
    low, high = sorted((x0 * way, x1 * way))
    found = []
    for a, b in ((0.0, KEEP_OUT), (rail.depth - KEEP_OUT, rail.depth)):
        try:
            points = [*rail.edge(a, low, high), *reversed(rail.edge(b, low, high))]
        except GeometryError:
            continue  # the rail is not measured so far
        band = Outline.of([Vertex(x * way, y) for x, y in points])
        found.append(band)
    return found
