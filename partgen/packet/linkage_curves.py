"""Curves of a linkage over heave and over roll: pinion, steer, shift, misalignment; as SVG."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10

from partgen.linkage.study import Study
from partgen.linkage.travel import State
from partgen.measure import per_unit
from partgen.packet.line_drawing import FAINT, Point, line, words
from partgen.packet.picture import svg

WIDE, HIGH, GAP = 150.0, 90.0, 46.0  # mm on the page
SIZE = 4.0
LEAST = 1e-4  # degrees; a curve that stays below is nothing
COLOURS = ("#b5532a", "#2a6fb5", "#3f8f5a", "#7a4fa3", "#8a7a2c", "#4b4b4b", "#c23b76", "#168a8a")


@dataclass(frozen=True)
class Curve:
    """One curve.

    Attributes:
        name: said beside it.
        points: in the panel's own units.
    """

    name: str
    points: Sequence[Point]


@dataclass(frozen=True)
class Panel:
    """A pair of axes with curves.

    Attributes:
        title: above it.
        across: what runs to the right.
        curves: drawn in it.
    """

    title: str
    across: str
    curves: Sequence[Curve]

    @property
    def any(self) -> bool:
        """Whether any curve leaves zero."""
        return any(abs(y) > LEAST for curve in self.curves for _, y in curve.points)


def curves_picture(study: Study, title: str, unit: str) -> bytes:
    """Return the panels: attitude and misalignment, over heave and over roll.

    Where the links ask nothing of any joint, as arms in one piece with their hubs, it is left out.
    """
    heave = [s.case.heave / per_unit(unit) for s in study.heave]
    beam = study.entry.axle == "beam"
    roll = [s.roll if beam else (s.case.left - s.case.right) / per_unit(unit) for s in study.roll]
    what = "Axle" if beam else "Left wheel"
    over_roll = "roll, left wheel up [deg]" if beam else f"left wheel above right [{unit}]"
    panels = [
        _attitude(f"{what} over heave [deg]", f"heave [{unit}]", heave, study.heave, beam),
        _attitude(f"{what} over roll [deg]", over_roll, roll, study.roll, beam),
        _misalignments("Misalignment over heave [deg]", f"heave [{unit}]", heave, study.heave),
        _misalignments("Misalignment over roll [deg]", over_roll, roll, study.roll),
    ]
    panels = [p for p in panels if p.any]
    rows = ceil(len(panels) / 2)
    body: list[str] = [words(title, (0.0, SIZE * 4), 1.3 * SIZE)]
    for k, panel in enumerate(panels):
        body += _panel(panel, ((k % 2) * (WIDE + GAP), -(k // 2) * (HIGH + GAP) - HIGH))
    box = (-12.0, -rows * HIGH - (rows - 1) * GAP - 14, 2 * WIDE + 2 * GAP, SIZE * 5)
    return svg(body, box, f"{title}: curves of the linkage", SIZE).encode("utf-8")


def _attitude(
    title: str, across: str, xs: Sequence[float], states: Sequence[State], beam: bool
) -> Panel:
    pairs = list(zip(xs, states, strict=True))
    curves = [
        Curve("pinion up" if beam else "arm up", [(x, s.pinion) for x, s in pairs]),
        Curve("steer", [(x, s.steer) for x, s in pairs]),
    ]
    if not beam:
        curves.append(Curve("camber", [(x, s.camber) for x, s in pairs]))
    return Panel(title, across, curves)


def _misalignments(title: str, across: str, xs: Sequence[float], states: Sequence[State]) -> Panel:
    curves = []
    for k, first in enumerate(states[0].links):
        if first.link.side == "right":
            continue
        links = [s.links[k] for s in states]
        curves.append(
            Curve(
                f"{first.link.name}, frame",
                [(x, s.frame_misalignment) for x, s in zip(xs, links, strict=True)],
            )
        )
        if not first.link.fixed:
            ends = [(x, s.axle_misalignment) for x, s in zip(xs, links, strict=True)]
            curves.append(Curve(f"{first.link.name}, axle", ends))
    return Panel(f"{title}, left side", across, curves)


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Return round numbers from at or below ``low`` to at or above ``high``.

    Examples:
        >>> ticks(-130, 110)
        [-150.0, -100.0, -50.0, 0.0, 50.0, 100.0, 150.0]
    """
    span = max(high - low, 0.1)
    step = 10.0 ** floor(log10(span / most))
    step *= next(f for f in (1, 2, 5, 10) if span / (f * step) <= most)
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return [k * step + 0.0 for k in range(first, max(last, first + 1) + 1)]


def _panel(panel: Panel, at: Point) -> list[str]:
    xs = [x for c in panel.curves for x, _ in c.points]
    ys = [y for c in panel.curves for _, y in c.points]
    across, up = ticks(min(xs), max(xs)), ticks(min(*ys, 0.0), max(*ys, 0.0))

    def place(x: float, y: float) -> Point:
        return (
            at[0] + (x - across[0]) / (across[-1] - across[0]) * WIDE,
            at[1] + (y - up[0]) / (up[-1] - up[0]) * HIGH,
        )

    body = [words(panel.title, (at[0], at[1] + HIGH + 5), 1.1 * SIZE)]
    for x in across:
        body.append(line([place(x, up[0]), place(x, up[-1])], FAINT, 0.5 if x == 0 else 0.15))
        body.append(words(f"{x:g}", (place(x, 0)[0], at[1] - 5), SIZE, "middle"))
    for y in up:
        ends = [place(across[0], y), place(across[-1], y)]
        body.append(line(ends, FAINT, 0.5 if y == 0 else 0.15))
        body.append(words(f"{y:g}", (at[0] - 2, place(0, y)[1]), SIZE, "end"))
    body.append(words(panel.across, (at[0] + WIDE / 2, at[1] - 11), SIZE, "middle"))
    return body + _drawn(panel, place(across[-1], 0)[0], place)


def _drawn(panel: Panel, right: float, place: Callable[[float, float], Point]) -> list[str]:
    """Return the curves with their names at the right, moved apart where they would meet."""
    body: list[str] = []
    names: list[tuple[float, str, str]] = []
    for k, curve in enumerate(panel.curves):
        colour = COLOURS[k % len(COLOURS)]
        points = [place(x, y) for x, y in curve.points]
        body.append(line(points, colour, 0.6))
        names.append((round(points[-1][1], 6), curve.name, colour))
    names.sort()
    heights = [names[0][0]] if names else []
    for _, (y, _, _) in pairwise(names):
        heights.append(max(y, heights[-1] + 1.2 * SIZE))
    for height, (_, name, colour) in zip(heights, names, strict=True):
        body.append(words(name, (right + 2, height), 0.9 * SIZE, "start", colour))
    return body
