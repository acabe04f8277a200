"""A cope on the screen."""

from __future__ import annotations

from math import radians
from pathlib import Path

from partgen.cautions import SHORT
from partgen.linkage.cope import Cope
from partgen.measure import shown
from partgen.printing.text import print_json, table

EVERY = 30  # degrees


def cope(cut: Cope, path: Path, pages: int, unit: str, *, as_json: bool) -> None:
    """Print the cut every 30 degrees round the tube, and where the template is."""
    rows = [
        (turn, cut.tube / 2 * radians(turn), cut.cut(radians(turn)))
        for turn in range(0, 360, EVERY)
    ]
    if as_json:
        print_json(
            {
                "file": str(path),
                "pages": pages,
                "unit": "mm",
                "wrap": cut.wrap,
                "depth": cut.depth,
                "gap_outside": cut.gap,
                "cut": [{"deg": t, "round": x, "along": y} for t, x, y in rows],
            }
        )
        return
    digits = 2 if unit == "mm" else 4
    head = ("deg", f"round {unit}", f"along {unit}")
    body = [(str(t), shown(x, unit, digits), shown(y, unit, digits)) for t, x, y in rows]
    table([head, *body], numbers=range(3))
    print(
        f"along: from where the axes cross. Paper {shown(cut.wrap, unit, digits)} {unit} round, "
        f"cut {shown(cut.depth, unit, digits)} {unit} deep, gap outside up to "
        f"{shown(cut.gap, unit, digits)} {unit}."
    )
    plural = "" if pages == 1 else "s"
    print(f"{path}: {pages} page{plural}, full scale; print at 100 % and measure the bars.")
    print(SHORT)
