"""Dimension lines for pictures: ticks at both ends, extension lines, the figure above the line."""

from __future__ import annotations

from html import escape

from partgen.packet.picture import number

INK = "stroke:#3d4b59"
TEXT = 'font-family="sans-serif" fill="#3d4b59"'
WIDE = 0.58  # width of a digit over its height, generous


def line(x0: float, y0: float, x1: float, y1: float, style: str, width: float) -> str:
    """Return a straight line, y up."""
    return (
        f'<line x1="{number(x0)}" y1="{number(-y0)}" x2="{number(x1)}" y2="{number(-y1)}" '
        f'style="{style};stroke-width:{number(width)}"/>'
    )


def rectangle(
    x0: float, y0: float, x1: float, y1: float, style: str, width: float, corner: float = 0.0
) -> str:
    """Return a rectangle between two corners, y up."""
    left, top = min(x0, x1), max(y0, y1)
    return (
        f'<rect x="{number(left)}" y="{number(-top)}" width="{number(abs(x1 - x0))}" '
        f'height="{number(abs(y1 - y0))}" rx="{number(corner)}" '
        f'style="{style};stroke-width:{number(width)}"/>'
    )


def words(text: str, x: float, y: float, size: float, anchor: str = "middle") -> str:
    """Return a text at (x, y), its middle on the line."""
    return (
        f'<text x="{number(x)}" y="{number(-y)}" font-size="{number(size)}" '
        f'text-anchor="{anchor}" dominant-baseline="central" {TEXT}>{escape(text)}</text>'
    )


def far_end(x0: float, x1: float, text: str, size: float) -> float:
    """Return the greatest x of a dimension by ``across``: its figure stands beside a short one."""
    wide = WIDE * size * len(text)
    return max(x0, x1) + (0.0 if wide <= abs(x1 - x0) else 0.7 * size + wide)


def across(
    x0: float, x1: float, y: float, text: str, size: float, origin: tuple[float, float]
) -> list[str]:
    """Return a dimension between x0 and x1, drawn at height y.

    Args:
        x0: first place [mm].
        x1: second place [mm].
        y: of the dimension line.
        text: its figure.
        size: of the figure [mm].
        origin: heights from which the extension lines of x0 and of x1 rise or fall.
    """
    thin = size / 14
    way = 1.0 if y > max(origin) else -1.0
    drawn = [line(x0, y, x1, y, INK, thin)]
    for x, start in ((x0, origin[0]), (x1, origin[1])):
        drawn.append(
            line(x, start + way * size / 3, x, y + way * size / 3, INK + ";opacity:.5", thin)
        )
        drawn.append(line(x - size / 5, y - size / 5, x + size / 5, y + size / 5, INK, 1.5 * thin))
    if WIDE * size * len(text) <= abs(x1 - x0):
        return [*drawn, words(text, (x0 + x1) / 2, y + 0.65 * size, size)]
    right = max(x0, x1)
    drawn.append(line(right, y, right + size / 2, y, INK, thin))
    return [*drawn, words(text, right + 0.7 * size, y, size, "start")]
