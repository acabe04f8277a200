"""Line drawings as SVG: open lines, dots, rings and words; y up, 1 user unit is 1 mm."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

Point = tuple[float, float]
INK = "#3d4b59"
FAINT = "#9aa7b3"


def line(points: Sequence[Point], colour: str, width: float, dash: float = 0.0) -> str:
    """Return an open line through ``points``; ``dash`` is the length of its dashes, 0 for none."""
    shape = " ".join(f"{_n(x)},{_n(-y)}" for x, y in points)
    dashes = f' stroke-dasharray="{_n(dash)}"' if dash else ""
    return (
        f'<polyline points="{shape}" fill="none" stroke="{colour}" stroke-width="{_n(width)}" '
        f'stroke-linecap="round" stroke-linejoin="round"{dashes}/>'
    )


def ring(at: Point, radius: float, colour: str, width: float, fill: str = "none") -> str:
    """Return a circle."""
    return (
        f'<circle cx="{_n(at[0])}" cy="{_n(-at[1])}" r="{_n(radius)}" fill="{fill}" '
        f'stroke="{colour}" stroke-width="{_n(width)}"/>'
    )


def words(text: str, at: Point, size: float, anchor: str = "start", colour: str = INK) -> str:
    """Return a text, ``size`` high; ``anchor`` is start, middle or end."""
    return (
        f'<text x="{_n(at[0])}" y="{_n(-at[1])}" font-size="{_n(size)}" text-anchor="{anchor}" '
        f'dominant-baseline="central" font-family="sans-serif" fill="{colour}">'
        f"{escape(text)}</text>"
    )


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
