"""Sheets used."""

from __future__ import annotations

from partgen.measure import shown
from partgen.sheets.nest import Nest


def sheets(nest: Nest, unit: str) -> None:
    """Print one line for each sheet used."""
    kind = f"{nest.stock.text(unit)}, " if nest.stock else ""
    for used in nest.layout.used:
        count = sum(
            (p.sheet, p.number) == (used.sheet, used.number) for p in nest.layout.placements
        )
        print(
            f"  sheet {kind}{used.sheet}, number {used.number}: {count} plates on "
            f"{shown(used.length, unit, 1)} of {shown(used.length + used.leftover, unit, 1)} "
            f"{unit} ({100 * used.filled:.0f} % metal)"
        )
    if nest.cost is not None:
        print(f"  sheets {kind.removesuffix(', ')}: cost {nest.cost:.2f} (your money)")
    if nest.again and nest.tried:
        print("  laid out as last time: nothing better was found in this time")
    elif nest.again:
        print("  laid out as last time: nothing of it has changed (--fresh lays out anew)")
