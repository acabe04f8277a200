"""What is said when plates cannot be laid out: what, how large, where and what to do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import isfinite

from partgen.layout.errors import LayoutError
from partgen.layout.piece import Piece
from partgen.layout.placement import Layout, Placement
from partgen.layout.sheet import Sheet
from partgen.layout.shop import Shop, Trial
from partgen.layout.verify import verify

LEAST_GAP = 0.01  # mm; far above what the check lets pass, so that plates never touch


def check_search(steps: int, seconds: float | None) -> None:
    """Refuse a search that cannot end.

    Raises:
        LayoutError: steps below zero, or seconds that are below zero or not finite.
    """
    if steps < 0:
        raise LayoutError(f"{steps} steps to search for a layout: it cannot be below 0")
    if seconds is not None and not (isfinite(seconds) and seconds >= 0):
        raise LayoutError(f"{seconds:g} s to search for a layout: give a number from 0 up, as 20")


def check_input(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], gap: float, margin: float
) -> None:
    """Refuse distances, names and counts that make no sense.

    Raises:
        LayoutError: one line for each.
    """
    problems = []
    if not (isfinite(gap) and gap >= LEAST_GAP):
        problems.append(f"gap {gap:g} mm between plates: at least {LEAST_GAP:g} mm; try 5")
    if not (isfinite(margin) and margin >= 0):
        problems.append(f"margin {margin:g} mm at the sheet's edge: it cannot be below 0")
    for word, names in (("plate", [p.name for p in pieces]), ("sheet", [s.name for s in sheets])):
        problems += [
            f"{word} '{name}' is given {n} times; raise its count or rename one"
            for name, n in Counter(names).items()
            if n > 1
        ]
    if any(p.count for p in pieces) and not any(s.count for s in sheets):
        problems.append("no sheet to lay the plates on; add one")
    if problems:
        raise LayoutError(problems)


def check_fixed(
    fixed: Sequence[Placement],
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    gap: float,
    margin: float,
) -> None:
    """Refuse plates fixed where they cannot lie.

    Raises:
        LayoutError: one line for each.
    """
    copies = {(p.piece, p.copy) for p in fixed}
    lying = [
        replace(p, count=max(k for name, k in copies if name == p.name))
        for p in pieces
        if any(name == p.name for name, _ in copies)
    ]
    faults = verify(Layout(tuple(fixed), ()), lying, sheets, gap=gap, margin=margin, fixed=fixed)
    counts = {p.name: p.count for p in pieces}
    for name in {p.name for p in lying}:
        n = sum(p.piece == name for p in fixed)
        if n > counts[name]:
            faults.append(f"plate '{name}' is fixed {n} times, and {counts[name]} are made")
    if faults:
        raise LayoutError([f"fixed: {line}; move it in the job" for line in sorted(faults)])


def too_large(shop: Shop) -> list[str]:
    """Return a line for each piece whose box is larger than every sheet."""
    return [
        _no_fit_line(shop, k)
        for k, (_, copy) in enumerate(shop.items)
        if copy == 1 and not any(shop.box_fits(k))
    ]


def _no_fit_line(shop: Shop, item: int) -> str:
    piece, _ = shop.items[item]
    stock = max((b.stock for b in shop.boards), key=lambda s: s.usable[0] * s.usable[1])
    length, width = (max(0.0, side) for side in stock.usable)
    long, wide = piece.size
    return (
        f"plate '{piece.name}' is {long:.6g} x {wide:.6g} mm and fits no sheet: the largest, "
        f"'{stock.sheet.name}', has {length:.6g} x {width:.6g} mm inside its margin of "
        f"{stock.margin:g} mm; add a larger sheet, allow more turns or split the plate"
    )


def no_room(shop: Shop, best: Trial) -> list[str]:
    """Return a line for each piece that fits no sheet, and one that counts the others left."""
    counts = Counter(shop.items[k][0].name for k in best.left if shop.fits(k))
    words = sorted({shop.items[k][0].together for k in best.left} - {""})
    misfits = {shop.items[k][0].name: k for k in best.left if not shop.fits(k)}
    lines = [_no_fit_line(shop, k) for k in misfits.values()]
    if counts:
        names = ", ".join(f"{n} x '{name}'" for name, n in sorted(counts.items()))
        left, stock = counts.total(), Counter[str]()
        for board in shop.boards:
            stock[board.stock.sheet.name] += len(board.stock.numbers)
        have = ", ".join(f"{n} x '{name}'" for name, n in stock.items())
        lines.append(
            f"the sheets are full ({have}) and {left} plates are left: {names}; add sheets"
            + (f", or do not keep {', '.join(words)} together on one sheet" if words else "")
        )
    return lines
