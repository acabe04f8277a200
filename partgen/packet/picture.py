"""Plates and sheets as SVG line drawings, to scale; arcs stay arcs.

Drawn with y up; 1 user unit is 1 mm. Colours follow the page it is shown on.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from partgen.geometry.chain import Chain
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment

Box = tuple[float, float, float, float]
INK = "#3d4b59"
METAL = f"fill:#8a99a8;fill-opacity:.35;stroke:{INK}"
MARKED = "fill:none;stroke:#b5651d"
BARE = "fill:none;stroke:#8a7a5c"


def path(outlines: Iterable[Outline], style: str, width: float) -> str:
    """Return an SVG path of closed outlines; openings show as holes."""
    data = " ".join(_loop(outline) for outline in outlines)
    return (
        f'<path d="{data}" style="{style};stroke-width:{number(width)};fill-rule:evenodd" '
        'stroke-linejoin="round"/>'
    )


def line(points: Sequence[Point], width: float) -> str:
    """Return an open dashed line through points."""
    data = " ".join(f"{number(x)},{number(-y)}" for x, y in points)
    dash = f"{number(6 * width)} {number(3 * width)}"
    return (
        f'<polyline points="{data}" style="{MARKED};stroke-width:{number(width)};'
        f'stroke-dasharray:{dash}"/>'
    )


def chain_line(chain: Chain, ink: str, width: float) -> str:
    """Return an open chain of lines and arcs as one line."""
    start = chain[0].start
    data = f"M{number(start[0])} {number(-start[1])}" + "".join(_step(s) for s in chain)
    style = f"fill:none;stroke:{ink};stroke-width:{number(width)}"
    return f'<path d="{data}" style="{style}" stroke-linecap="round"/>'


def box_of(points: Sequence[Point]) -> Box:
    """Return the box round points [mm]."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def dot(at: Point, radius: float, ink: str) -> str:
    """Return a filled circle."""
    x, y = number(at[0]), number(-at[1])
    return f'<circle cx="{x}" cy="{y}" r="{number(radius)}" fill="{ink}"/>'


def label(text: str, x: float, y: float, size: float) -> str:
    """Return a text centred on (x, y), ``size`` mm high."""
    return (
        f'<text x="{number(x)}" y="{number(-y)}" font-size="{number(size)}" text-anchor="middle" '
        f'dominant-baseline="central" font-family="sans-serif" fill="{INK}">{escape(text)}</text>'
    )


def svg(body: Sequence[str], box: Box, title: str, pad: float) -> str:
    """Return a whole SVG file showing ``box`` and ``pad`` mm round it."""
    x0, y0, x1, y1 = box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="{number(x0)} {number(-y1)} {number(x1 - x0)} {number(y1 - y0)}">'
    )
    return "\n".join([head, f"<title>{escape(title)}</title>", *body, "</svg>", ""])


def _loop(outline: Outline) -> str:
    first = outline.vertices[0]
    return f"M{number(first.x)} {number(-first.y)}" + "".join(map(_step, outline.segments)) + "Z"


def _step(s: Segment) -> str:
    """Return the way along a line or an arc to its end."""
    if not s.bulge:
        return f"L{number(s.x1)} {number(-s.y1)}"
    large, side = int(abs(s.sweep) > 3.141592653589793), int(s.bulge < 0)
    r = number(s.radius)
    return f"A{r} {r} 0 {large} {side} {number(s.x1)} {number(-s.y1)}"


def number(value: float) -> str:
    """Return a number as SVG takes it: three decimals at most."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
