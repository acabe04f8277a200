"""A plate drawn to scale with its dimensions, as SVG; 1 user unit is 1 mm.

Ordinates from the datum run to the left and below, overall sizes lie outside them; sizes carry a
letter on the right and are spelled out below. Nothing is printed on anything else: places that lie
too near each other are spread along the margin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from string import ascii_uppercase
from textwrap import wrap

from partgen.geometry.segment import Point
from partgen.measure import UNIT_WORDS, shown
from partgen.packet.datum import Datum, EdgeSide, datum
from partgen.packet.dimensions import Callout, Ordinate, callouts, gentle, ordinates
from partgen.packet.lettering import lettering
from partgen.packet.picture import INK, METAL, dot, number, path, svg
from partgen.packet.words import LETTER, Words, packed, spread
from partgen.plates.plate import Mark, Plate

PER_WIDTH, PER_HEIGHT = 18.0, 20.0  # text sizes across the plate
LEGEND = 30  # letters in a line that it may always have
THIN = f"fill:none;stroke:{INK};stroke-opacity:.65"
HEAVY = "fill:none;stroke:#c8501e"
DASHES = {"scribe": "2 1", "bend": "6 1 1 1", "drill": "", "rail": "8 3"}
LINES = {"scribe": "Short dashes: scribe line.", "bend": "Dash-dot: bend line."}


@dataclass
class Drawing:
    """A dimensioned drawing.

    Attributes:
        at: the plate as it lies in the drawing.
        size: of the letters [mm].
        places: what its ordinates say.
        sizes: what its callouts say.
        lines: SVG elements that are no text.
        chains: the points of every straight line among them.
        words: every text.
        left: least x of all [mm].
        low: least y [mm].
        right: greatest x [mm].
        top: greatest y, if not a little above the plate [mm].
    """

    at: Datum
    size: float
    places: list[Ordinate]
    sizes: list[Callout]
    lines: list[str] = field(default_factory=list)
    chains: list[Sequence[Point]] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    left: float = 0.0
    low: float = 0.0
    right: float = 0.0
    top: float | None = None

    def line(
        self, points: Sequence[Point], style: str = THIN, weight: float = 0.04, dash: str = ""
    ) -> None:
        """Add a chain of straight lines; ``weight`` and ``dash`` in letter sizes."""
        self.chains.append(points)
        data = "M" + "L".join(f"{number(x)} {number(-y)}" for x, y in points)
        dashes = " ".join(number(float(d) * self.size / 4) for d in dash.split())
        self.lines.append(
            f'<path d="{data}" style="{style};stroke-width:{number(weight * self.size)}'
            + (f";stroke-dasharray:{dashes}" if dashes else "")
            + '"/>'
        )

    @property
    def highest(self) -> float:
        """Greatest y of plate and texts [mm]."""
        return max([self.at.size[1], *(words.box[3] for words in self.words)])

    def svg(self, title: str) -> str:
        """Return the whole picture as an SVG file."""
        metal = path(self.at.plate.outlines, METAL, self.size / 12)
        texts = [words.svg for words in self.words]
        top = self.highest + self.size if self.top is None else self.top
        box = (self.left, self.low, self.right, top)
        return svg([metal, *self.lines, *texts], box, title, self.size / 2)


def drawing(plate: Plate, unit: str, rail: Sequence[Point] = ()) -> Drawing:
    """Return ``plate`` with its dimensions in ``unit``; ``rail`` is drawn as a reference line."""
    at = datum(plate)
    width, height = at.size
    made = Drawing(
        at, max(width / PER_WIDTH, height / PER_HEIGHT), ordinates(at), callouts(at, unit)
    )
    for mark in at.plate.marks:
        _mark(made, mark)
    if rail:
        made.line([at.carried(p) for p in rail], THIN, 0.06, DASHES["rail"])
    for hole in at.plate.holes:
        _cross(made, (hole.x, hole.y), hole.diameter / 2 + 0.4 * made.size)
    for axis in (0, 1):
        _zero(made, axis)
        _margin(made, axis, unit)
    _letters(made, _legend(made, unit, bool(rail)))
    return made


def _mark(made: Drawing, mark: Mark) -> None:
    if len(mark.path) == 1:
        _cross(made, mark.path[0], made.size / 2)
    else:
        made.line(mark.path, THIN, 0.06, DASHES[mark.kind])


def _cross(made: Drawing, centre: Point, arm: float) -> None:
    x, y = centre
    made.line([(x - arm, y), (x + arm, y)])
    made.line([(x, y - arm), (x, y + arm)])


def _zero(made: Drawing, axis: int) -> None:
    """Draw the line an axis is measured from: heavy along an edge, dashed beside it."""
    width, height = made.at.size
    side: EdgeSide = made.at.sides[axis]
    edge = made.at.edges[axis]
    full: dict[EdgeSide, list[Point]] = {
        "left": [(0, 0), (0, height)],
        "right": [(width, 0), (width, height)],
        "bottom": [(0, 0), (width, 0)],
        "top": [(0, height), (width, height)],
    }
    if edge is None:
        made.line(full[side], HEAVY, 0.1, "2 2")
    else:
        made.line([edge.start, edge.end], HEAVY, 0.22)


def _margin(made: Drawing, axis: int, unit: str) -> None:
    """Write the ordinates of one axis in its margin, and the overall size outside them."""
    size, extent = made.size, made.at.size[axis]
    far = made.at.sides[axis] in ("right", "top")
    marks = [(extent if far else 0.0, 0.0, "0")]
    marks += [(o.at, o.reach, shown(o.value, unit)) for o in made.places if o.axis == axis]
    marks.sort()
    places = spread([at for at, _, _ in marks], 1.15 * size)
    text = max(len(words) for _, _, words in marks) * LETTER * size
    for (at, reach, words), place in zip(marks, places, strict=True):
        points = [(reach, at), (-0.6 * size, at), (-1.6 * size, place), (-1.9 * size, place)]
        made.line([p if axis else (p[1], p[0]) for p in points])
        spot = -2.1 * size
        if axis:
            made.words.append(Words(words, spot, place, size, "end"))
        else:
            made.words.append(Words(words, place, spot, size, "end", upright=True))
    outside = -2.1 * size - text - 0.9 * size
    _overall(made, axis, outside, shown(extent, unit))
    lowest = outside - 1.5 * size
    if axis:
        made.left = min(lowest, made.left)
    else:
        made.low = lowest
        made.left = min(made.left, places[0] - size)
        made.right = max(made.right, places[-1] + size)


def _overall(made: Drawing, axis: int, outside: float, text: str) -> None:
    """Draw an overall size with its arrows, beyond the ordinates."""
    size, extent = made.size, made.at.size[axis]
    arrow = min(0.7 * size, extent / 4)
    parts: list[list[Point]] = [[(0.0, outside), (extent, outside)]]
    for end, way in ((0.0, 1), (extent, -1)):
        parts.append([(end, outside + 0.5 * size), (end, outside - 0.5 * size)])
        tip = end + way * arrow
        parts.append([(tip, outside + 0.2 * size), (end, outside), (tip, outside - 0.2 * size)])
    for points in parts:
        made.line([(b, a) for a, b in points] if axis else points, THIN, 0.06)
    spot = outside - 0.9 * size
    x, y = (spot, extent / 2) if axis else (extent / 2, spot)
    made.words.append(Words(text, x, y, size, upright=bool(axis)))


def _letters(made: Drawing, legend: list[str]) -> None:
    """Set the letters and their leaders, and below the drawing what they stand for."""
    letters = [text.split(" ")[0] for text in legend[: len(made.sizes)]]
    found = lettering(made.at, made.sizes, letters, made.size, made.words, made.chains)
    for leader in found.leaders:
        made.line(leader)
        made.lines.append(dot(leader[-1], 0.13 * made.size, INK))
    made.words += found.words
    boxes = [words.box for words in found.words]
    made.right = max([made.right, made.at.size[0] + made.size, *(b[2] for b in boxes)])
    lowest = min([made.low, *(b[1] - made.size / 2 for b in boxes)])
    _write_legend(made, legend, lowest)


def _write_legend(made: Drawing, legend: list[str], below: float) -> None:
    size = made.size
    below -= 0.4 * size
    most = max(LEGEND, int((made.right - made.left) / (LETTER * size)))
    for line in packed(legend, most):
        for text in wrap(line, most, subsequent_indent="    ", break_on_hyphens=False):
            below -= 1.35 * size
            made.words.append(Words(text, made.left, below, size, "start"))
            made.right = max(made.right, made.words[-1].box[2])
    made.low = below - size / 2


def _legend(made: Drawing, unit: str, rail: bool) -> list[str]:
    """Return a line for each callout, in order, then what the lines mean."""
    lines = [f"{_name(k)}  {callout.text}" for k, callout in enumerate(made.sizes)]
    lines.append(f"Zero: heavy lines. Lengths in {UNIT_WORDS[unit]}.")
    if rail:
        lines.append("Long dashes: lower edge of the rail.")
    if gentle(made.at.plate.outline):
        lines.append("Gentle arcs have no letter: print the template.")
    kinds = {mark.kind: None for mark in made.at.plate.marks if len(mark.path) > 1}
    return lines + [LINES[kind] for kind in kinds if kind in LINES]


def _name(number_: int) -> str:
    """Return A, B, ... Z, A2, B2 and so on."""
    again, k = divmod(number_, len(ascii_uppercase))
    return ascii_uppercase[k] + (str(again + 1) if again else "")
