"""Side, plan and rear view of a linkage over its travel, as SVG line drawings to scale.

Side: x forward to the right, z up. Plan: from above, x to the right, left side up. Rear: from
behind, left side to the left. Each shows ride, the two stops or twists, angles and a scale bar.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from partgen.entries.rail import Rail
from partgen.linkage.axle import Spot, Vec
from partgen.linkage.obstacle import lower_edge
from partgen.linkage.study import Study
from partgen.linkage.travel import LinkState, State, Travel
from partgen.packet.label_place import beside_any
from partgen.packet.line_drawing import FAINT, INK, Point, line, ring, words
from partgen.packet.linkage_rows import plain
from partgen.packet.picture import Box, box_of, svg
from partgen.packet.words import Words

COLOURS = {
    "ride": INK,
    "full bump": "#b5532a",
    "full droop": "#2a6fb5",
    "twist, left up": "#7a4fa3",
    "twist, right up": "#3f8f5a",
}
ALONG = (0.5, 0.3, 0.7, 0.1, 0.9)  # of a link, where its name may stand
BARS = {"mm": (500.0, "500 mm"), "in": (508.0, "20 in")}


@dataclass(frozen=True)
class View:
    """One way of looking.

    Attributes:
        name: of the view, part of the file's name.
        title: said on the picture.
        across: axis to the right, and its sign.
        up: axis upward, and its sign.
        cases: what it shows.
        angle: of a link as this view shows it.
    """

    name: str
    title: str
    across: tuple[int, float]
    up: tuple[int, float]
    cases: tuple[str, ...]
    angle: Callable[[LinkState], float]

    def at(self, point: Vec) -> Point:
        """Return a point of the vehicle on the page [mm]."""
        (k, s), (m, t) = self.across, self.up
        return s * float(point[k]), t * float(point[m])


STOPS = ("ride", "full bump", "full droop")
TWISTS = ("ride", "twist, left up", "twist, right up")
VIEWS = (
    View("side", "Side view, forward to the right", (0, 1.0), (2, 1.0), STOPS,
         lambda s: s.side_angle),
    View("plan", "Plan, forward to the right, left side up", (0, 1.0), (1, 1.0), TWISTS,
         lambda s: s.plan_angle),
    View("rear", "Rear view, from behind", (1, -1.0), (2, 1.0), TWISTS, lambda s: s.rear_angle),
)  # fmt: skip


def view_picture(study: Study, view: View, rails: dict[str, Rail], title: str, unit: str) -> bytes:
    """Return one view of a linkage.

    Args:
        study: the linkage.
        view: how to look at it.
        rails: frame members by name.
        title: of the job.
        unit: of the scale bar.
    """
    states = [next(s for s in study.named if s.case.name == name) for name in view.cases]
    travel = Travel(study.layout)
    lines = [points for s in states for points in _axle(travel, s, view)]
    links = [[view.at(k.start), view.at(k.end)] for s in states for k in s.links]
    tyres = _tyres(study, view)
    box = _box([*lines, *links], tyres)
    size = max(box[2] - box[0], box[3] - box[1]) / 45
    edges = _rails(study, view, rails, box)
    body = [line(edge, FAINT, size / 4, size / 2) for edge in edges]
    for state in reversed(states):
        body += _state(travel, state, view, size)
    body += [line(tyre, FAINT, size / 12) for tyre in tyres]
    body += _names(states[0], view, size, [*lines, *links, *tyres, *edges])
    foot, texts = _legend(states, view, study, box, size, unit)
    top, said = box[3] + 2.2 * size, f"{title}. {view.title}"
    body += [words(said, (box[0], top), 1.1 * size), *texts]
    wide = max(34 * size, 0.65 * size * len(said))
    whole = (box[0], foot, max(box[2], box[0] + wide), top + size)
    return svg(body, whole, f"{title}: {view.title}", size).encode("utf-8")


def _axle(travel: Travel, state: State, view: View) -> list[list[Point]]:
    """Return the axle from wheel to wheel, or each arm's stub to its wheel, as lines."""
    wheel = np.array(travel.layout.entry.wheel)
    found = []
    ends = [wheel, wheel * [1.0, -1.0, 1.0]]
    if travel.beam:
        body, q = travel.bodies[0], state.motions[0]
        return [[view.at(body.place(Spot(end, True), q)[0]) for end in ends]]
    for body, q, end in zip(travel.bodies, state.motions, ends, strict=True):
        arms = [
            k.link.axle.spot.point for k in state.links if k.link.axle.spot.point[1] * end[1] > 0
        ]
        stub = np.array([end[0], min(arms, key=lambda p: abs(p[1] - end[1]))[1], end[2]])
        found.append([view.at(body.place(Spot(p, True), q)[0]) for p in (end, stub)])
    return found


def _box(lines: Sequence[Sequence[Point]], tyres: Sequence[Sequence[Point]]) -> Box:
    return box_of([p for chain in (*lines, *tyres) for p in chain])


def _tyres(study: Study, view: View) -> list[list[Point]]:
    """Return the tyres at ride as closed lines on the page; none where their size is not known."""
    radius = study.entry.tyre_radius
    if radius is None:
        return []
    wheel, found = np.array(study.entry.wheel), []
    for side in (1.0, -1.0):
        x, y = view.at(wheel * [1.0, side, 1.0])
        if view.name == "side":
            turns = [k * pi / 36 for k in range(73)]
            found.append([(x + radius * cos(t), y + radius * sin(t)) for t in turns])
            continue
        w, h = (radius, radius / 4) if view.name == "plan" else (radius / 4, radius)
        found.append(
            [(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h), (x - w, y - h)]
        )
    return found


def _state(travel: Travel, state: State, view: View, size: float) -> list[str]:
    colour, ride = COLOURS[state.case.name], state.case.name == "ride"
    width = size / (5 if ride else 10)
    body = [line(points, colour, 2 * width) for points in _axle(travel, state, view)]
    for k in state.links:
        start, end = view.at(k.start), view.at(k.end)
        body.append(line([start, end], colour, width))
        body += [
            ring(p, size / (3 if ride else 5), colour, width / 2, "#fff") for p in (start, end)
        ]
    return body


def _names(state: State, view: View, size: float, lines: Sequence[Sequence[Point]]) -> list[str]:
    """Return the names of the left and the single links, by their middles, off every line."""
    found: list[Words] = []
    ends = [view.at(p) for k in state.links for p in (k.start, k.end)]
    rings = [(x - size / 2, y - size / 2, x + size / 2, y + size / 2) for x, y in ends]
    for k in state.links:
        if k.link.side == "right":
            continue
        (x0, y0), (x1, y1) = view.at(k.start), view.at(k.end)
        along = [(x0 + p * (x1 - x0), y0 + p * (y1 - y0)) for p in ALONG]
        name = Words(k.link.name, 0.0, 0.0, size)
        found.append(beside_any(along, name, lines, [*rings, *(w.box for w in found)]))
    return [words(w.text, (w.x, w.y), w.size, w.anchor) for w in found]


def _rails(study: Study, view: View, rails: dict[str, Rail], box: Box) -> list[list[Point]]:
    """Return the lower edges of the placed rails, as far as the picture reaches."""
    edges = []
    for name, (origin, axes) in study.layout.places.items():
        for s in lower_edge(rails[name]):
            for side in (1.0,) if view.name == "side" else (1.0, -1.0):
                ends = [origin + axes @ np.array([x, 0.0, y]) for x, y in (s.start, s.end)]
                points = [view.at(p * [1.0, side, 1.0]) for p in ends]
                kept = _within(points, box)
                if kept:
                    edges.append(kept)
    return edges


def _within(points: list[Point], box: Box) -> list[Point]:
    """Return the part of a straight line whose x lies in the box; nothing if none does."""
    (x0, y0), (x1, y1) = sorted(points)
    low, high = max(x0, box[0]), min(x1, box[2])
    if x1 - x0 < 1e-9:
        return points if box[0] <= x0 <= box[2] else []
    if low >= high:
        return []
    slope = (y1 - y0) / (x1 - x0)
    return [(low, y0 + slope * (low - x0)), (high, y0 + slope * (high - x0))]


def _legend(
    states: Sequence[State], view: View, study: Study, box: Box, size: float, unit: str
) -> tuple[float, list[str]]:
    """Return how low the words reach, and the words: a line for each link, a scale bar."""
    x, y, step = box[0], box[1] - 3 * size, 1.5 * size
    texts = []
    first = 0.62 * max(len(link.label) for link in study.layout.links) + 6
    columns = [x + (first + 9 * k) * size for k in range(len(states))]
    for state, at in zip(states, columns, strict=True):
        texts.append(words(state.case.name, (at, y), size, "end", COLOURS[state.case.name]))
    for k, link in enumerate(study.layout.links):
        y -= step
        texts.append(words(link.label, (x, y), size))
        for state, at in zip(states, columns, strict=True):
            angle = f"{plain(view.angle(state.links[k]), 1)} deg"
            texts.append(words(angle, (at, y), size, "end", COLOURS[state.case.name]))
    y -= 1.5 * step
    length, name = BARS[unit]
    texts += [
        line([(x, y), (x + length, y)], INK, size / 8),
        *(line([(e, y - size / 2), (e, y + size / 2)], INK, size / 8) for e in (x, x + length)),
        words(name, (x + length + size, y), size),
    ]
    return y - size, texts
