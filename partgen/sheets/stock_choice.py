"""Which of the sheets in the rack a set of plates is cut from.

A quick layout is made on all sheets together, on the cheapest of them, the two cheapest and so on,
and on each kind alone. Taken is what costs least; then the fewest sheets; then the least area
opened, so that offcuts go before whole sheets that would do the same. A sheet without a cost is
paid for already.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from partgen.layout import Layout, LayoutError, Piece, Placement, Sheet, lay_out

MOST = 12  # quick layouts
MOST_LARGE = 4  # the same where there are many plates
MANY = 500  # plates


def chosen(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    costs: Mapping[str, float],
    fixed: Sequence[Placement] = (),
    *,
    gap: float,
    margin: float,
    placing: Callable[[int, int], None] | None = None,
) -> list[Sheet]:
    """Return the sheets to lay the pieces on: all of them if nothing less will do.

    Args:
        pieces: what to place.
        sheets: what there is.
        costs: of one, by name of the sheet, in the shop's own money.
        fixed: what has to lie on a sheet, which is then among those chosen.
        gap: between plates [mm].
        margin: at the sheet's edge [mm].
        placing: called with how many of how many pieces lie, in each quick layout.
    """
    ranked = sorted(
        (s for s in sheets if s.count), key=lambda s: (costs.get(s.name, 0.0), s.outline.area)
    )
    if len(ranked) < 2:
        return list(sheets)
    need = sum(p.area * p.count for p in pieces)
    most = MOST if sum(p.count for p in pieces) <= MANY else MOST_LARGE
    best: tuple[tuple[float, ...], list[Sheet]] | None = None
    begun = {p.sheet for p in fixed}
    for option in list(_options(ranked))[:most]:
        option = [s for s in ranked if s in option or s.name in begun]
        if sum(s.outline.area * s.count for s in option) < need:
            continue
        try:
            found = lay_out(
                pieces, option, gap=gap, margin=margin, steps=0, fixed=fixed, placing=placing
            )
        except LayoutError:
            continue
        price = _price(found, option, costs)
        if best is None or price < best[0]:
            best = price, option
    return list(sheets) if best is None else best[1]


def cost_of(layout: Layout, costs: Mapping[str, float]) -> float:
    """Return what the sheets of a layout cost, in the shop's own money."""
    return sum(costs.get(u.sheet, 0.0) for u in layout.used)


def _options(ranked: list[Sheet]) -> Iterator[list[Sheet]]:
    yield ranked
    for k in range(1, len(ranked)):
        yield ranked[:k]
    for sheet in ranked[1:]:
        yield [sheet]


def _price(
    layout: Layout, sheets: Sequence[Sheet], costs: Mapping[str, float]
) -> tuple[float, ...]:
    areas = {s.name: s.outline.area for s in sheets}
    opened = sum(areas[u.sheet] for u in layout.used)
    return cost_of(layout, costs), len(layout.used), opened, layout.used_length
