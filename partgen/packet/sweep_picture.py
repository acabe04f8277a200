"""A sweep as curves, one panel each: clearance, spacers, bolt length, least margin."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import floor, fsum, log10

from partgen.fit.mount import Mount
from partgen.measure import per_unit
from partgen.packet.dimension import INK, line, words
from partgen.packet.picture import number, svg
from partgen.sweep import Point, Sweep

WIDE, HIGH, BETWEEN, SIZE = 180.0, 42.0, 16.0, 4.0  # of a panel, and its figures [mm on the page]
COLOURS = ("#2f6690", "#b5512b", "#4c8c4a", "#7a5195", "#8a7a2c")
Series = tuple[str, list[float | None]]


def sweep_picture(found: Sweep) -> bytes:
    """Return the curves of a sweep as SVG; values that cannot be built leave a break."""
    factor = per_unit(found.unit)
    xs = [point.value / factor for point in found.points]
    panels = [
        ("clearance before welding", _of_mounts(found, lambda m: m.fit.clearance / factor)),
        ("spacers, both sides", _of_mounts(found, lambda m: fsum(m.fit.spacers) / factor)),
        ("bolt length", _of_mounts(found, lambda m: _length(m, factor))),
        ("least margin of all rules", [("", [_least(p, factor) for p in found.points])]),
    ]
    body: list[str] = []
    for k, (title, series) in enumerate(panels):
        body += _panel(xs, series, f"{title}, {found.unit}", -k * (HIGH + BETWEEN))
    foot = -(len(panels) - 1) * (HIGH + BETWEEN)
    axis = ",".join(filter(None, (found.measure, found.after)))
    body.append(words(axis, WIDE / 2, foot - 2.6 * SIZE, SIZE))
    box = (-22.0, foot - 4 * SIZE, WIDE + 8.0, HIGH + 2.5 * SIZE)
    title = f"{found.job}: over {found.measure}"
    return svg(body, box, title, 4.0).encode("utf-8")


def _of_mounts(found: Sweep, figure: Callable[[Mount], float | None]) -> list[Series]:
    names = dict.fromkeys(m.name for p in found.points if p.build for m in p.build.mounts)
    return [(name, [_figure(point, name, figure) for point in found.points]) for name in names]


def _figure(point: Point, name: str, figure: Callable[[Mount], float | None]) -> float | None:
    mounts = point.build.mounts if point.build else []
    return next((figure(m) for m in mounts if m.name == name), None)


def _length(mount: Mount, factor: float) -> float | None:
    chosen = mount.bolt_fit
    return chosen.length / factor if chosen else None


def _least(point: Point, factor: float) -> float | None:
    least = point.least
    return None if least is None else (least.margin or 0.0) / factor


def _panel(xs: Sequence[float], series: list[Series], title: str, foot: float) -> list[str]:
    values = [y for _, ys in series for y in ys if y is not None]
    body = [words(title, 0.0, foot + HIGH + SIZE, SIZE, "start")]
    if not values:
        return [*body, words("none", WIDE / 2, foot + HIGH / 2, SIZE)]
    low, high = _round_ends(min(values), max(values))
    left, right = xs[0], xs[-1] if xs[-1] > xs[0] else xs[0] + 1.0

    def place(x: float, y: float) -> tuple[float, float]:
        return WIDE * (x - left) / (right - left), foot + HIGH * (y - low) / (high - low)

    for y in _ticks(low, high):
        body.append(line(0, place(left, y)[1], WIDE, place(left, y)[1], INK + ";opacity:.2", 0.25))
        body.append(words(f"{y:.6g}", -2.0, place(left, y)[1], 0.85 * SIZE, "end"))
    for x in _ticks(left, right):
        at = place(x, low)[0]
        body.append(line(at, foot, at, foot - 1.2, INK, 0.25))
        body.append(words(f"{x:.6g}", at, foot - 0.9 * SIZE, 0.85 * SIZE))
    body.append(line(0, foot, WIDE, foot, INK, 0.35))
    for k, (name, ys) in enumerate(series):
        colour = COLOURS[k % len(COLOURS)]
        body += _curve([(x, y) for x, y in zip(xs, ys, strict=True)], colour, place)
        if len(series) > 1:
            body.append(
                f'<text x="{number(WIDE)}" y="{number(-(foot + HIGH + SIZE - 1.2 * k * SIZE))}" '
                f'font-size="{number(0.85 * SIZE)}" text-anchor="end" font-family="sans-serif" '
                f'fill="{colour}">{name}</text>'
            )
    return body


def _curve(
    points: list[tuple[float, float | None]],
    colour: str,
    place: Callable[[float, float], tuple[float, float]],
) -> list[str]:
    """Return a dot at each value and lines between neighbours that both exist."""
    drawn: list[str] = []
    last: tuple[float, float] | None = None
    for x, y in points:
        here = None if y is None else place(x, y)
        if here is not None:
            drawn.append(
                f'<circle cx="{number(here[0])}" cy="{number(-here[1])}" r=".8" fill="{colour}"/>'
            )
            if last is not None:
                drawn.append(line(*last, *here, f"stroke:{colour}", 0.5))
        last = here
    return drawn


def _step(low: float, high: float) -> float:
    rough = max(high - low, 1e-9) / 4
    power = 10.0 ** floor(log10(rough))
    return next(power * k for k in (1, 2, 5, 10) if power * k >= rough - 1e-12)


def _round_ends(low: float, high: float) -> tuple[float, float]:
    """Return ends on whole steps round the values; a level curve gets room above and below."""
    if high - low < 1e-6:
        low, high = low - 1.0, high + 1.0
    step = _step(low, high)
    return floor(low / step + 1e-9) * step, -floor(-high / step + 1e-9) * step


def _ticks(low: float, high: float) -> list[float]:
    step = _step(low, high)
    first = -floor(-low / step + 1e-9)
    return [k * step for k in range(first, floor(high / step + 1e-9) + 1)]
